import type { CalendarDate } from '../../src/calendar-date.ts'
import type { CaseId } from '../../src/ids.ts'
import { failure, type ReadFailure, type Result } from '../../src/result.ts'
import { equalBytes } from '../../sync/bytes.ts'
import type { CaseSummary } from '../../sync/casebook.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'
import { type BundleFailure, type OpenBundle, readBundle, UNPACKED_LIMIT_BYTES } from '../../sync/transport/bundle.ts'
import { takeBundles } from '../../sync/transport/take-bundle.ts'
import type { FileUnreadable } from '../text/say-failure.ts'
import type { AppCasebook } from './context.ts'
import { type ChangedCase, factsOfCases, isSame, type NewCase } from './what-changed.ts'

export type TakingIn =
  | { readonly at: 'reading' }
  | { readonly at: 'taking'; readonly done: number; readonly all: number }
  | { readonly at: 'weighing' }

export interface FileNotTaken {
  readonly name: string
  readonly type: (BundleFailure | FileUnreadable)['type']
}

/** What is told once everything was taken in. */
export interface TakeInAccount {
  readonly notTaken: readonly FileNotTaken[]
  readonly filesTaken: number
  readonly entriesNew: number
  readonly crewChanged: boolean
  readonly catalogueChanged: boolean
  readonly newCases: readonly NewCase[]
  readonly changedCases: readonly ChangedCase[]
  /** Cases that were shown before and are hidden or erased now. */
  readonly removedCount: number
  /** What admission did not take, altered copies included. */
  readonly refusedCount: number
  readonly stopped: ReadFailure | null
}

type Summaries = ReadonlyMap<CaseId, CaseSummary<OutcomeBrief>>
const summariesOf = async (casebook: AppCasebook): Promise<Summaries> => {
  await casebook.settled()
  return new Map(casebook.summaries().map(one => [one.caseId, one]))
}

const isCase = (key: DocumentKey): key is CaseId => key !== 'team' && key !== 'catalogue'

const openFile = async (casebook: AppCasebook, file: File): Promise<Result<OpenBundle, Pick<FileNotTaken, 'type'>>> => {
  if (file.size > UNPACKED_LIMIT_BYTES) return failure({ type: 'too-large' })
  let bytes: Uint8Array
  try {
    bytes = new Uint8Array(await file.arrayBuffer())
  } catch {
    // Moved, deleted, or not given by the platform: the browser does not tell which.
    return failure({ type: 'file-unreadable' })
  }
  return readBundle(casebook.casebookId, casebook.secrets(), bytes)
}

/**
 * Cases that the bundles may change: those of which they hold something else, and, when chair models come along, all with
 * a chair.
 */
const mayChange = (casebook: AppCasebook, bundles: readonly OpenBundle[], before: Summaries): ReadonlySet<CaseId> => {
  const here = casebook.hashes()
  const differing = new Set<DocumentKey>()
  for (const { documents } of bundles)
    for (const { key, hash } of documents) {
      const known = here.get(key)
      if (!known || !equalBytes(known, hash)) differing.add(key)
    }
  const cases = new Set([...differing].filter(isCase).filter(key => before.has(key)))
  if (differing.has('catalogue')) for (const { caseId, brief } of before.values()) if (brief?.chair) cases.add(caseId)
  return cases
}

/** Takes in bundle files. One that cannot be opened changes nothing and does not stop the others. */
export const takeIn = async (
  casebook: AppCasebook,
  files: readonly File[],
  today: CalendarDate,
  onProgress: (progress: TakingIn) => void,
): Promise<TakeInAccount> => {
  onProgress({ at: 'reading' })
  const notTaken: FileNotTaken[] = []
  const bundles: OpenBundle[] = []
  for (const file of files) {
    const opened = await openFile(casebook, file)
    if (opened.ok) bundles.push(opened.value)
    else notTaken.push({ name: file.name, type: opened.failure.type })
  }
  const before = await summariesOf(casebook)
  const candidates = mayChange(casebook, bundles, before)
  const factsBefore = await factsOfCases(casebook, candidates, today)

  const documents = bundles.flatMap(bundle => bundle.documents)
  const all = documents.filter(({ key }) => isCase(key)).length
  const taken = await takeBundles(casebook, bundles, ({ done }) =>
    // Crew and catalogue come first and are no cases.
    onProgress({ at: 'taking', done: Math.max(0, done - (documents.length - all)), all }),
  )

  onProgress({ at: 'weighing' })
  const after = await summariesOf(casebook)
  const gained = new Set(taken.changed)
  const factsAfter = await factsOfCases(casebook, candidates, today)
  const changedCases: ChangedCase[] = []
  for (const [caseId, was] of factsBefore) {
    const is = factsAfter.get(caseId)
    if (is && (gained.has(caseId) || !isSame(was, is)))
      changedCases.push({ caseId, name: after.get(caseId)?.name ?? null, before: was, after: is })
  }
  return {
    notTaken,
    filesTaken: bundles.length,
    entriesNew: taken.entriesNew,
    crewChanged: gained.has('team'),
    catalogueChanged: gained.has('catalogue'),
    newCases: [...after.values()].filter(({ caseId }) => !before.has(caseId)),
    changedCases,
    removedCount: [...before.keys()].filter(caseId => !after.has(caseId)).length,
    refusedCount: taken.refusedCount + taken.altered.length,
    stopped: taken.stopped,
  }
}
