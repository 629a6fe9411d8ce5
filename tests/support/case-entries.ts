import { createHash } from 'node:crypto'
import { type Counted, type EntryKind, readEntry } from '../../src/case/entry.ts'
import { type CaseId, caseIdSchema, deviceIdSchema, type EntryId, entryIdSchema } from '../../src/ids.ts'

/** 16 bytes of SHA-256 in base64url, as ids are made. */
export const hashedId = (text: string): string =>
  createHash('sha256').update(text).digest().subarray(0, 16).toString('base64url')

export const testCase: CaseId = caseIdSchema.parse(hashedId('case'))
export const testDevice = (name: string) => deviceIdSchema.parse(hashedId(`device ${name}`))

export interface Said {
  readonly set: Readonly<Record<string, unknown>>
  readonly over?: readonly Counted[] | readonly EntryId[]
  readonly kind?: EntryKind | (string & {})
  readonly why?: string
  readonly by?: string
  readonly at?: number
  readonly v?: number
}

const idOf = (named: Counted | EntryId): EntryId => (typeof named === 'string' ? named : named.id)

/** The text of an entry as a device would write it. */
export const entryText = ({ set, over = [], kind = 'save', why, by = 'a', at = 1_000, v = 1 }: Said): string =>
  JSON.stringify({
    v,
    case: testCase,
    by: testDevice(by),
    at,
    kind,
    set,
    over: over.map(idOf),
    ...(why ? { why } : {}),
  })

/** An entry that counts: written as text, hashed, and read back the way every device reads it. */
export const said = (what: Said): Counted => {
  const text = entryText(what)
  const read = readEntry(text)
  if (!read.ok) throw new Error(`not an entry: ${read.failure.message}`)
  return { id: entryIdSchema.parse(hashedId(text)), ...read.value }
}

/** The same entry under an id that is no hash of it: what an honest document can never hold. */
export const underForgedId = (counted: Counted, id: EntryId): Counted => ({ ...counted, id })
