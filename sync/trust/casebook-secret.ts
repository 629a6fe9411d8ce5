import * as z from 'zod'
import { compareText, type DeviceId, deviceIdSchema } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { fromBase64Url, toBase64Url } from '../bytes.ts'
import { sealingKey } from './sealing.ts'

const SECRET_BYTES = 32
const secretText = z.string().regex(/^[A-Za-z0-9_-]{43}$/, 'not 32 bytes in base64url')

const secretSchema = z.strictObject({
  /** Raised by one with each strike-off. Two strikers apart may raise to the same number: both secrets are kept. */
  epoch: z.number().int().min(0),
  by: deviceIdSchema,
  secret: secretText,
})
/** What a bundle is sealed with. Handed on inside a gated connection only; never in a document, never on a screen. */
export type CasebookSecret = Readonly<z.infer<typeof secretSchema>>

const secretsSchema = z.strictObject({ secrets: z.literal(1), kept: z.array(secretSchema) })

/** Newest first; of one epoch the lower device id first, so that all who hold both use the same one. */
const inOrder = (secrets: readonly CasebookSecret[]): readonly CasebookSecret[] =>
  secrets.toSorted((a, b) => b.epoch - a.epoch || compareText(a.by, b.by) || compareText(a.secret, b.secret))

const isSame = (a: CasebookSecret, b: CasebookSecret): boolean => a.epoch === b.epoch && a.secret === b.secret

/** Old secrets stay: bundles of earlier epochs are still on their way. */
export const withSecret = (secrets: readonly CasebookSecret[], added: CasebookSecret): readonly CasebookSecret[] =>
  secrets.some(one => isSame(one, added)) ? secrets : inOrder([...secrets, added])

/** The first secret (epoch 0), or after a strike-off the next one, made by the striker. */
export const renewedSecret = (
  secrets: readonly CasebookSecret[],
  by: DeviceId,
  randomBytes: (count: number) => Uint8Array,
): CasebookSecret => ({
  epoch: secrets.reduce((most, one) => Math.max(most, one.epoch + 1), 0),
  by,
  secret: toBase64Url(randomBytes(SECRET_BYTES)),
})

/** The secret to seal with now; undefined before any was handed over. */
export const currentSecret = (secrets: readonly CasebookSecret[]): CasebookSecret | undefined => inOrder(secrets)[0]

/** Every secret known of an epoch. None: sealed after a strike-off that this device has not heard of. */
export const secretsOfEpoch = (secrets: readonly CasebookSecret[], epoch: number): readonly CasebookSecret[] =>
  inOrder(secrets).filter(one => one.epoch === epoch)

/** The key for one purpose, such as "outspoke bundle 1". */
export const keyFromSecret = (secret: CasebookSecret, purpose: string): Promise<CryptoKey> =>
  sealingKey(fromBase64Url(secret.secret), purpose)

/** A word that only holders of the secret can form, in base64url (HMAC-SHA-256, RFC 2104): it tells nothing of the secret. */
export const wordFromSecret = async (secret: CasebookSecret, purpose: string): Promise<string> => {
  const hashing = { name: 'HMAC', hash: 'SHA-256' }
  const key = await globalThis.crypto.subtle.importKey('raw', fromBase64Url(secret.secret), hashing, false, ['sign'])
  const word = await globalThis.crypto.subtle.sign('HMAC', key, new TextEncoder().encode(purpose))
  return toBase64Url(new Uint8Array(word))
}

/** For the sealed store and for the gated connection, nowhere else. */
export const writeSecrets = (secrets: readonly CasebookSecret[]): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ secrets: 1, kept: inOrder(secrets) }))

export const readSecrets = (
  bytes: Uint8Array,
): Result<readonly CasebookSecret[], { readonly type: 'not-secrets'; readonly message: string }> => {
  try {
    const read = secretsSchema.safeParse(JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)))
    if (read.success) return success(inOrder(read.data.kept))
  } catch (error) {
    // TypeError: not UTF-8; SyntaxError: not JSON. Both are told below.
    if (!(error instanceof TypeError) && !(error instanceof SyntaxError)) throw error
  }
  return failure({
    type: 'not-secrets',
    message: 'The casebook secret cannot be read. Cases are safe; meet one of the crew to receive the secret again.',
  })
}
