import { toCalendarDate } from '../../src/calendar-date.ts'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import { type Counted, readEntry } from '../../src/case/entry.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { caseIdSchema, deviceIdSchema, type EntryId, entryIdSchema } from '../../src/ids.ts'
import { outcome } from '../../src/outcome/outcome.ts'
import { releasedReport } from '../../src/report/released-report.ts'
import { type ReportFacts, reportFacts } from '../../src/report/report-facts.ts'
import { ReportFold } from '../../src/report/report-fold.ts'
import { hashedId } from '../support/case-entries.ts'
import { seededRandom } from '../support/seeded-random.ts'
import { loadWords, printTable, ratio, round, timedByProcessor } from './measure.ts'
import { fortyForms, PRACTICE_CATALOGUE } from './realistic-cases.ts'

const TODAY = toCalendarDate('2026-11-25')
const CONTEXT = { catalogue: PRACTICE_CATALOGUE, policy: DEFAULT_POLICY }
const CASES = 1_000
const CASEBOOKS = 100
/** Cases worked through from their entries; their facts stand for those of all casebooks. */
const WORKED_THROUGH = 200

const entriesOf = (seed: number): readonly Counted[] => {
  const last = new Map<string, EntryId>()
  return fortyForms(seededRandom(seed)).map((set, index): Counted => {
    const over = [...new Set(Object.keys(set).flatMap(field => last.get(field) ?? []))]
    const [caseId, by] = [hashedId(`case ${seed}`), hashedId(`device ${index % 3}`)]
    const text = JSON.stringify({
      v: 1,
      case: caseId,
      by: deviceIdSchema.parse(by),
      at: index,
      kind: 'save',
      set,
      over,
    })
    const read = readEntry(text)
    if (!read.ok) throw new Error(read.failure.message)
    const id = entryIdSchema.parse(hashedId(text))
    for (const field of Object.keys(set)) last.set(field, id)
    return { id, ...read.value }
  })
}

/** One casebook at a time, as a command over many of them reads them: folded, let go, the next one. */
const foldCasebooks = (facts: readonly ReportFacts[], casebooks: number) => {
  const whole = new ReportFold()
  let mostHeapMb = 0
  for (let casebook = 0; casebook < casebooks; casebook += 1) {
    const fold = new ReportFold()
    for (let index = 0; index < CASES; index += 1) {
      const one = facts[(casebook * 7 + index) % facts.length]
      if (one) fold.add({ ...one, groups: { ...one.groups, place: `Place ${casebook % 60}` } })
    }
    whole.merge(fold)
    mostHeapMb = Math.max(mostHeapMb, process.memoryUsage().heapUsed / 2 ** 20)
  }
  return { report: whole.report(), mostHeapMb }
}

/** From entries to a report, and what a programme of a hundred casebooks takes. */
export const run = async (): Promise<void> => {
  const books = Array.from({ length: WORKED_THROUGH }, (_, seed) => ({ seed, entries: entriesOf(seed) }))
  const facts: ReportFacts[] = []
  let viewsMs = 0
  let outcomesMs = 0
  let factsMs = 0
  for (const { seed, entries } of books) {
    const caseId = caseIdSchema.parse(hashedId(`case ${seed}`))
    const view = await timedByProcessor(() => viewOfCase(caseId, entries))
    const worked = await timedByProcessor(() => outcome(view.value, CONTEXT, TODAY))
    const taken = await timedByProcessor(() => reportFacts(view.value, worked.value, CONTEXT))
    viewsMs += view.ms
    outcomesMs += worked.ms
    factsMs += taken.ms
    facts.push(taken.value)
  }
  printTable(`One case of 40 entries, processor time (${loadWords()})`, [
    {
      'view ms': round(viewsMs / WORKED_THROUGH, 2),
      'outcome ms': round(outcomesMs / WORKED_THROUGH, 2),
      'facts for the report ms': round(factsMs / WORKED_THROUGH, 2),
    },
  ])
  foldCasebooks(facts, 5)
  const rows = []
  for (const casebooks of [CASEBOOKS / 2, CASEBOOKS]) {
    const { ms, value } = await timedByProcessor(() => foldCasebooks(facts, casebooks))
    const released = await timedByProcessor(() => releasedReport(value.report))
    rows.push({
      casebooks,
      cases: casebooks * CASES,
      'fold ms': round(ms, 0),
      'cases a second': round((casebooks * CASES * 1000) / ms, 0),
      'greatest heap MB': round(value.mostHeapMb, 0),
      'hiding small cells ms': round(released.ms, 0),
    })
  }
  printTable('Facts of many casebooks folded, each let go before the next', rows)
  console.log(`Twice as many casebooks: ${ratio(rows[1]?.['fold ms'] ?? 0, rows[0]?.['fold ms'] ?? 1)}`)
}
