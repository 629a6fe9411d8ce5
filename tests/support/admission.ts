import { readEntry } from '../../src/case/entry.ts'
import { type CaseId, casebookIdSchema, caseIdSchema } from '../../src/ids.ts'
import { CaseDocument } from '../../sync/case-document.ts'
import { type CheckEntries, checkFor, SignatureVerdicts } from '../../sync/entry-check.ts'
import { KeyBook } from '../../sync/key-book.ts'
import { type HandEntry, type HandKey, handEntry, handKey } from './by-hand.ts'
import { hashedId } from './case-entries.ts'

export const testCasebook = casebookIdSchema.parse(hashedId('a casebook'))
export const caseA: CaseId = caseIdSchema.parse(hashedId('case a'))
export const caseB: CaseId = caseIdSchema.parse(hashedId('case b'))

/** A document of case A and the check of a casebook that knows these devices. */
export interface Bench {
  readonly document: CaseDocument
  readonly check: CheckEntries
  readonly ana: HandKey
  readonly ben: HandKey
  readonly stranger: HandKey
  say(by: HandKey, set: Readonly<Record<string, unknown>>, over?: readonly string[]): HandEntry
  /** What the document holds: id and text, sorted. */
  held(document?: CaseDocument): readonly string[]
}

const knowing = async (keys: readonly HandKey[]): Promise<KeyBook> => {
  const book = new KeyBook(testCasebook)
  for (const key of keys) {
    const add = { device: key.device, key: key.publicKey, name: 'Somebody', role: 'technician' }
    const { id, text } = handEntry(key, { case: testCasebook, set: { add } })
    const read = readEntry(text)
    if (!read.ok || !(await book.takeFrom({ id, ...read.value }))) throw new Error('a key that the key book refused')
  }
  return book
}

export const heldIn = (document: CaseDocument): readonly string[] =>
  document
    .entryIds()
    .map(id => `${id} ${Buffer.from(document.signed(id)?.subarray(64) ?? []).toString()}`)
    .sort()

export const bench = async (): Promise<Bench> => {
  const [ana, ben, stranger] = [handKey(), handKey(), handKey()]
  const keys = await knowing([ana, ben])
  const document = new CaseDocument()
  let at = 1_000
  return {
    document,
    check: checkFor(testCasebook, caseA, keys, new SignatureVerdicts()),
    ana,
    ben,
    stranger,
    say: (by, set, over = []) => handEntry(by, { case: caseA, set, over, at: at++ }),
    held: (other = document) => heldIn(other),
  }
}
