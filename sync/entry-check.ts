import type { Counted } from '../src/case/entry.ts'
import type { CasebookId, EntryId } from '../src/ids.ts'
import { failure, type Result, success } from '../src/result.ts'
import { equalBytes } from './bytes.ts'
import type { DocumentKey } from './exchange/replica.ts'
import type { KeyBook } from './key-book.ts'
import {
  type EntryFault,
  entryIdOf,
  readSigned,
  type SignedEntry,
  signatureOf,
  signedMessage,
  textOf,
} from './signed-entry.ts'
import { SIGNATURE_BYTES } from './trust/device-key.ts'

export interface Candidate {
  /** The key under which it was found; null when it came as bytes alone. */
  readonly claimedId: EntryId | null
  readonly signed: Uint8Array
}

/** Judges entries received for one document: hash, shape, case, signer's key, signature (B1, as far as sync decides). */
export type CheckEntries = (candidates: readonly Candidate[]) => Promise<readonly Result<SignedEntry, EntryFault>[]>

/** Some 100 bytes each. */
const VERDICTS_KEPT = 20_000

/** Signatures that were found to hold, by entry id: offered again by the next peer, they are not computed again. */
export class SignatureVerdicts {
  readonly #good = new Map<EntryId, Uint8Array>()

  isGood(id: EntryId, signature: Uint8Array): boolean {
    const known = this.#good.get(id)
    return known !== undefined && equalBytes(known, signature)
  }

  keep(id: EntryId, signature: Uint8Array): void {
    if (this.#good.size >= VERDICTS_KEPT) this.#good.clear()
    this.#good.set(id, signature.slice())
  }
}

const fault = (type: EntryFault['type'], message: string): Result<never, EntryFault> => failure({ type, message })

/** Everything that can be said of an entry without knowing its signer. */
const readCandidate = (caseOfDocument: string, { claimedId, signed }: Candidate): Result<SignedEntry, EntryFault> => {
  if (signed.length <= SIGNATURE_BYTES) return fault('not-an-entry', `${signed.length} bytes are too few for an entry`)
  const id = entryIdOf(textOf(signed))
  if (claimedId !== null && claimedId !== id)
    return fault('wrong-hash', `an entry under the id ${claimedId} whose text hashes to ${id}`)
  const read = readSigned(id, signed)
  if (!read.ok) return read
  if (read.value.entry.case !== caseOfDocument)
    return fault('other-case', `entry ${id} belongs to another case (${read.value.entry.case})`)
  return success({ id, signed, counted: read.value })
}

const checkSigned = async (
  keys: KeyBook,
  verdicts: SignatureVerdicts,
  entry: SignedEntry,
): Promise<EntryFault | undefined> => {
  const { id, signed, counted } = entry
  const signature = signatureOf(signed)
  if (verdicts.isGood(id, signature)) return undefined
  const verify = keys.verifierOf(counted.entry.by)
  if (!verify)
    return {
      type: 'unknown-signer',
      message: `entry ${id} is signed by a device that this casebook does not know (${counted.entry.by})`,
    }
  if (!(await verify(signedMessage(textOf(signed)), signature)))
    return { type: 'bad-signature', message: `the signature of entry ${id} does not hold` }
  verdicts.keep(id, signature)
  return undefined
}

const isTeamKeyBringer = ({ entry }: Counted): boolean =>
  Object.hasOwn(entry.set, 'found') || Object.hasOwn(entry.set, 'add')

/**
 * The check for one document of a casebook. Entries of the team document bring keys: who was added by an entry of the same
 * batch is known for the others, in whatever order they come.
 */
export const checkFor = (
  casebookId: CasebookId,
  document: DocumentKey,
  keys: KeyBook,
  verdicts: SignatureVerdicts,
): CheckEntries => {
  const isTeam = document === 'team'
  const caseOfDocument = isTeam || document === 'catalogue' ? casebookId : document

  const checkOne = async (read: Result<SignedEntry, EntryFault>): Promise<Result<SignedEntry, EntryFault>> => {
    if (!read.ok) return read
    const { counted } = read.value
    const brings = isTeam && isTeamKeyBringer(counted)
    // The founder's key stands in the founder's own entry, bound to it by the casebook's id.
    if (brings && Object.hasOwn(counted.entry.set, 'found') && !(await keys.takeFrom(counted)))
      return fault('key-mismatch', `entry ${read.value.id} claims a key or a founding that is not its own`)
    const wrong = await checkSigned(keys, verdicts, read.value)
    if (wrong) return failure(wrong)
    if (brings && !(await keys.takeFrom(counted)))
      return fault('key-mismatch', `entry ${read.value.id} names a key that is not that device's`)
    return read
  }

  return async candidates => {
    const reads = candidates.map(candidate => readCandidate(caseOfDocument, candidate))
    let results = await Promise.all(reads.map(checkOne))
    const waiting = (): number =>
      results.filter(result => !result.ok && result.failure.type === 'unknown-signer').length
    for (let before = waiting(); isTeam && before > 0; ) {
      results = await Promise.all(
        results.map((result, index) => {
          const read = reads[index]
          return read && !result.ok && result.failure.type === 'unknown-signer' ? checkOne(read) : result
        }),
      )
      const after = waiting()
      if (after === before) break
      before = after
    }
    return results
  }
}
