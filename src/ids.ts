import * as z from 'zod'

/** 16 bytes in base64url without padding: 22 characters, the last of which carries two bits only. */
const ID_PATTERN = /^[A-Za-z0-9_-]{21}[AQgw]$/

const idSchema = z.string().regex(ID_PATTERN, 'not an id of 16 bytes in base64url')

/** First 16 bytes of SHA-256 of an entry's text: an id cannot name two values. */
export const entryIdSchema = idSchema.brand<'EntryId'>()
/** Random 16 bytes, made once for each case. */
export const caseIdSchema = idSchema.brand<'CaseId'>()
/** First 16 bytes of SHA-256 of the device's raw public key. */
export const deviceIdSchema = idSchema.brand<'DeviceId'>()
/** First 16 bytes of SHA-256 over "casebook 1", the founder's device id and 16 random bytes. */
export const casebookIdSchema = idSchema.brand<'CasebookId'>()

/** SHA-256 of a photo's bytes, whole: 43 characters, the last of which carries four bits. */
export const photoHashSchema = z
  .string()
  .regex(/^[A-Za-z0-9_-]{42}[AEIMQUYcgkosw048]$/, 'not a hash of 32 bytes in base64url')
  .brand<'PhotoHash'>()

export type EntryId = z.infer<typeof entryIdSchema>
export type CaseId = z.infer<typeof caseIdSchema>
export type DeviceId = z.infer<typeof deviceIdSchema>
export type CasebookId = z.infer<typeof casebookIdSchema>
export type PhotoHash = z.infer<typeof photoHashSchema>

/**
 * Order of two strings by UTF-16 code unit: the same on every device, whatever its language.
 * (`localeCompare` is not, so it must never decide what an outcome looks like.)
 */
export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
