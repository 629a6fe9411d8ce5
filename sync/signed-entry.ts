import { type Counted, ENTRY_TEXT_LIMIT, ENTRY_VERSION, type Entry, readEntry } from '../src/case/entry.ts'
import { type DeviceId, type EntryId, entryIdSchema } from '../src/ids.ts'
import { failure, type Result, success } from '../src/result.ts'
import { type DeviceKey, SIGNATURE_BYTES } from './trust/device-key.ts'
import { hashedId } from './trust/digest.ts'

/** An entry as it lies in a document and travels: 64 bytes of signature, then its text in UTF-8. Never re-serialised. */
export interface SignedEntry {
  readonly id: EntryId
  readonly signed: Uint8Array
  /** The text as read once; the id is its hash, so it can be remembered for ever. */
  readonly counted: Counted
}

export interface EntryFault {
  readonly type:
    | 'too-long'
    | 'too-deep'
    | 'not-json'
    | 'not-an-entry'
    | 'wrong-hash'
    | 'other-case'
    | 'unknown-signer'
    | 'key-mismatch'
    | 'bad-signature'
  readonly message: string
}

const SIGNED_PREFIX = new TextEncoder().encode('outspoke entry 1\n')

/** What the signature is over. */
export const signedMessage = (text: Uint8Array): Uint8Array => {
  const message = new Uint8Array(SIGNED_PREFIX.length + text.length)
  message.set(SIGNED_PREFIX)
  message.set(text, SIGNED_PREFIX.length)
  return message
}

/** Views, not copies. */
export const textOf = (signed: Uint8Array): Uint8Array => signed.subarray(SIGNATURE_BYTES)
export const signatureOf = (signed: Uint8Array): Uint8Array => signed.subarray(0, SIGNATURE_BYTES)

export const entryIdOf = (text: Uint8Array): EntryId => entryIdSchema.parse(hashedId(text))

/** Fatal: what is not UTF-8 is refused, not mended. A byte order mark stays, and is then no JSON. */
const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })

const tooLong = (bytes: number): EntryFault => ({
  type: 'too-long',
  message: `an entry of ${bytes} bytes; at most ${ENTRY_TEXT_LIMIT} are taken. Say it in several entries`,
})

/** Reads the text of an entry. Its id is not compared here. */
export const readSigned = (id: EntryId, signed: Uint8Array): Result<Counted, EntryFault> => {
  const text = textOf(signed)
  if (text.length > ENTRY_TEXT_LIMIT) return failure(tooLong(text.length))
  let words: string
  try {
    words = decoder.decode(text)
  } catch {
    return failure({ type: 'not-json', message: 'an entry that is not UTF-8 text' })
  }
  const read = readEntry(words)
  return read.ok ? success({ id, ...read.value }) : read
}

/** What a person states; version and signer are added here. */
export type Draft = Omit<Entry, 'v' | 'by'>

/** The entry that a statement would be, with its signature still missing. Refused when it cannot be read back. */
export const unsignedEntry = (by: DeviceId, draft: Draft): Result<SignedEntry, EntryFault> => {
  const { case: caseId, at, kind, set, over, why } = draft
  const entry = { v: ENTRY_VERSION, case: caseId, by, at, kind, set, over, why }
  const text = new TextEncoder().encode(JSON.stringify(entry))
  const signed = new Uint8Array(SIGNATURE_BYTES + text.length)
  signed.set(text, SIGNATURE_BYTES)
  const id = entryIdOf(text)
  const counted = readSigned(id, signed)
  return counted.ok ? success({ id, signed, counted: counted.value }) : counted
}

/** Writes and signs one entry: nothing is signed that others would not take. */
export const signEntry = async (deviceKey: DeviceKey, draft: Draft): Promise<Result<SignedEntry, EntryFault>> => {
  const written = unsignedEntry(deviceKey.device, draft)
  if (written.ok) written.value.signed.set(await deviceKey.sign(signedMessage(textOf(written.value.signed))))
  return written
}
