import { type Crew, isInGoodStanding, whyNotCounting } from '../src/crew/crew.ts'
import { compareText, type DeviceId } from '../src/ids.ts'
import type { CaseDocument } from './case-document.ts'
import type { NotCountingIn, RecordedEntry } from './casebook.ts'
import type { DocumentKey } from './exchange/replica.ts'

/** Every entry of a document, by id, and why it does not count, if so. */
export const recordedIn = (document: CaseDocument, crew: Crew): readonly RecordedEntry[] =>
  document
    .counted()
    .toSorted((a, b) => compareText(a.id, b.id))
    .map(counted => ({ counted, notCounting: whyNotCounting(crew, counted.id, counted.entry.by) ?? null }))

/** Whether a document can hold what does not count: nobody in good standing writes such. */
export const mayLackCount = (authors: readonly DeviceId[], crew: Crew): boolean =>
  authors.some(device => !isInGoodStanding(crew, device))

/** Undefined where everything counts. */
export const notCountingOf = (document: DocumentKey, recorded: readonly RecordedEntry[]): NotCountingIn | undefined => {
  const entries = recorded.flatMap(one => (one.notCounting === null ? [] : [{ ...one, notCounting: one.notCounting }]))
  return entries.length > 0 ? { document, entries } : undefined
}
