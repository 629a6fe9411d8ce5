import type { EntryId } from '../src/ids.ts'
import { equalBytes } from './bytes.ts'
import type { CaseDocument, Preview } from './case-document.ts'
import type { Candidate, CheckEntries } from './entry-check.ts'
import type { AdmitReport } from './exchange/replica.ts'
import { type SignedEntry, textOf } from './signed-entry.ts'

/** Larger than any one document should grow; a first copy of a case is some 10 kB. */
export const UPDATE_LIMIT_BYTES = 1024 * 1024

/** What admission did to a document. `changes`: rows that must be stored before anything is acknowledged. */
export interface Admission {
  readonly report: AdmitReport
  readonly added: readonly SignedEntry[]
  readonly changes: readonly Uint8Array[]
}

type Refusal = AdmitReport['refused'][number]

const nothingTaken = (refused: readonly Refusal[]): Admission => ({
  report: { added: [], refused, altered: false, incomplete: false },
  added: [],
  changes: [],
})

const taken = (
  added: readonly SignedEntry[],
  change: Uint8Array | null,
  rest: Omit<AdmitReport, 'added'>,
): Admission => ({
  report: { added: added.map(({ id }) => id), ...rest },
  added,
  changes: change ? [change] : [],
})

const judged = async (
  check: CheckEntries,
  candidates: readonly Candidate[],
): Promise<{ readonly good: readonly SignedEntry[]; readonly refused: readonly Refusal[] }> => {
  const good: SignedEntry[] = []
  const refused: Refusal[] = []
  for (const result of await check(candidates)) {
    if (result.ok) good.push(result.value)
    else refused.push({ type: result.failure.type, message: result.failure.message })
  }
  return { good, refused }
}

/**
 * Takes an update in without ever letting it delete or alter what is here: what is clean is applied, of the rest only the
 * good new entries are copied. Never throws for what was sent. The caller lets one change at a time at a document.
 */
export const admitUpdate = async (
  document: CaseDocument,
  received: Uint8Array,
  check: CheckEntries,
): Promise<Admission> => {
  if (received.length > UPDATE_LIMIT_BYTES)
    return nothingTaken([
      {
        type: 'update-too-large',
        message: `an update of ${received.length} bytes; at most ${UPDATE_LIMIT_BYTES} are taken`,
      },
    ])
  // Yjs keeps views of the bytes it read; the sender's buffer must not reach into our document.
  const update = received.slice()
  return (await admitPlain(document, update, check)) ?? (await admitPreviewed(document, update, check))
}

/** The fast way, for an update that only adds entries, all of them good. Undefined: look at it the slow way. */
const admitPlain = async (
  document: CaseDocument,
  update: Uint8Array,
  check: CheckEntries,
): Promise<Admission | undefined> => {
  const additions = document.plainAdditions(update)
  if (!additions) return undefined
  const { good, refused } = await judged(check, candidatesOf(additions))
  if (refused.length > 0) return undefined
  const change = document.apply(update, [])
  // A forged update can name one writer twice, of which Yjs reads the last only: then not everything has come in.
  const missed = document.dropPending() || good.some(({ id }) => !document.has(id))
  const added = good.filter(({ id }) => document.has(id))
  document.remember(added)
  if (!missed) return taken(added, change, { refused: [], altered: false, incomplete: false })
  const rest = await admitPreviewed(document, update, check)
  return {
    report: { ...rest.report, added: [...added.map(({ id }) => id), ...rest.report.added] },
    added: [...added, ...rest.added],
    changes: [...(change ? [change] : []), ...rest.changes],
  }
}

const candidatesOf = (entries: ReadonlyMap<EntryId, Uint8Array>): readonly Candidate[] =>
  [...entries].map(([claimedId, signed]) => ({ claimedId, signed }))

/** The slow way, for every update: what it would make of a copy is looked at first. */
export const admitPreviewed = async (
  document: CaseDocument,
  update: Uint8Array,
  check: CheckEntries,
): Promise<Admission> => {
  const preview = document.preview(update)
  if (!preview)
    return nothingTaken([{ type: 'garbage', message: 'an update that cannot be read; nothing of it was taken' }])

  const altered = await alteredEntries(document, preview.entries, check)
  const { good, refused } = await judged(
    check,
    preview.brought.map(({ signed }) => ({ claimedId: null, signed })),
  )
  const fresh = unknownOnce(document, good)
  const problems = [...refused, ...altered, ...faultsOf(document, preview, good)]
  const flags = { altered: altered.length > 0, incomplete: preview.pending }
  // A good entry that would not be seen under its id is brought to light: then the update is not applied as it is.
  const isClean = problems.length === 0 && !preview.pending && fresh.every(({ id }) => preview.entries.has(id))
  return taken(fresh, isClean ? document.apply(update, fresh) : document.put(fresh), { refused: problems, ...flags })
}

const faultsOf = (document: CaseDocument, preview: Preview, good: readonly SignedEntry[]): readonly Refusal[] => {
  const faults: Refusal[] = []
  const named = preview.brought.flatMap(({ key, signed }) => (key === null ? [] : [[key, signed] as const]))
  const misplaced = new Set<string>()
  for (const [key, signed] of [...named, ...preview.entries]) {
    const entry = good.find(one => one.id !== key && equalBytes(one.signed, signed))
    if (entry) misplaced.add(`an entry under the id ${key} whose text hashes to ${entry.id}`)
  }
  for (const message of misplaced) faults.push({ type: 'wrong-hash', message })
  if (preview.foreign)
    faults.push({ type: 'foreign-content', message: 'an update that brings something which is no entry' })
  if (preview.deleted.some(key => !document.has(key)))
    faults.push({ type: 'deleted-entry', message: 'an update that deletes an entry which is not here yet' })
  return faults
}

const unknownOnce = (document: CaseDocument, entries: readonly SignedEntry[]): readonly SignedEntry[] => [
  ...new Map(entries.filter(({ id }) => !document.has(id)).map(entry => [entry.id, entry])).values(),
]

/** Known entries that the update would delete or change. Another valid signature over the same text is no change. */
const alteredEntries = async (
  document: CaseDocument,
  after: ReadonlyMap<EntryId, Uint8Array>,
  check: CheckEntries,
): Promise<readonly Refusal[]> => {
  const problems: Refusal[] = []
  for (const id of document.entryIds()) {
    const ours = document.signed(id)
    const theirs = after.get(id)
    if (!ours) throw new Error(`entry ${id} is listed and not here`)
    if (theirs && equalBytes(ours, theirs)) continue
    if (!theirs) problems.push({ type: 'entry-deleted', message: `this device's copy lacked entry ${id}; ours stands` })
    else if (!equalBytes(textOf(ours), textOf(theirs)))
      problems.push({ type: 'entry-changed', message: `another text under the id ${id}; ours stands` })
    else if ((await judged(check, [{ claimedId: id, signed: theirs }])).good.length === 0)
      problems.push({
        type: 'entry-changed',
        message: `another signature under entry ${id} that does not hold; ours stands`,
      })
  }
  return problems
}

/** Takes entries in as signature and text: the way that needs nothing of Yjs, and heals whatever went wrong in it. */
export const admitEntries = async (
  document: CaseDocument,
  entries: readonly Uint8Array[],
  check: CheckEntries,
): Promise<Admission> => {
  const { good, refused } = await judged(
    check,
    entries.map(signed => ({ claimedId: null, signed: signed.slice() })),
  )
  const fresh = unknownOnce(document, good)
  return taken(fresh, document.put(fresh), { refused, altered: false, incomplete: false })
}
