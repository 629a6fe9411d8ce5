import { parseArgs } from 'node:util'
import type { CalendarDate } from '../../src/calendar-date.ts'
import { crewOf } from '../../src/crew/crew.ts'
import { linkedCases, linksOf } from '../../src/doubles/links.ts'
import { outcome } from '../../src/outcome/outcome.ts'
import { releasedReport } from '../../src/report/released-report.ts'
import { factsOfOnePerson, type ReportFacts, reportFacts } from '../../src/report/report-facts.ts'
import { ReportFold } from '../../src/report/report-fold.ts'
import { stockUseOf } from '../../src/report/stock-use.ts'
import type { Casebook } from '../casebook.ts'
import type { AnyOutcome } from '../rules.ts'
import { casebookFromBundles, readBundleFiles, sayNotTaken } from './bundle-files.ts'
import type { Command } from './command.ts'
import { newFolder, writeFolder } from './folder.ts'
import { KEY_FILE_USAGE } from './key-file.ts'
import { noRules } from './no-rules.ts'
import { showProgress } from './progress.ts'
import { reportTables } from './report-tables.ts'
import { readDate } from './rules-files.ts'
import { type CasebookFiles, sortBundles } from './sorted-bundles.ts'

const USAGE = `outspoke report BUNDLE... --keys KEYFILE... --out DIR [--today DATE] [--released]

What the team answers for, over any number of bundles of any number of casebooks: people by measure, sex, age, place and
first or later chair; waiting times; how long parts last; how well measurers agree; stock. One casebook after the other is
read, each case once whatever number of bundles hold it, and cases linked as of one person count once. There is no name in
it; places, parts and stock lines stand as they were typed. Nothing is written when one file does not open; all that do not
are named. The same entries and day give the same bytes.

DIR gets report.json and, as CSV (RFC 4180, UTF-8 with byte order mark, an apostrophe before words that a spreadsheet would
compute): people.csv, waits.csv, parts.csv, agreement.csv, stock.csv. In people.csv a row without breakdown is everybody,
one with a breakdown and no category those who did not say, and one without a number is hidden.

${KEY_FILE_USAGE}
                  One --keys for each casebook.
  --out DIR       a folder that is new or empty
  --today DATE    the day to report for, such as 2026-11-25 (without it: today)
  --released      only what may leave the team: cells under five are hidden, with those that would give them away`

type DeskCasebook = Casebook<AnyOutcome, null>

/** Adds one casebook, case after case; only cases that were linked are kept until all of the person were read. */
const addCasebook = async (fold: ReportFold, casebook: DeskCasebook, today: CalendarDate): Promise<number> => {
  const context = casebook.context()
  const team = (await casebook.record('team')).map(({ counted }) => counted)
  fold.addStock(stockUseOf(crewOf(team), team))
  const people = linkedCases(linksOf(crewOf(team), team))
  const personOf = new Map(people.flatMap(cases => cases.map(one => [one, cases] as const)))
  const kept = new Map<readonly string[], ReportFacts[]>()

  const cases = casebook.summaries()
  const tell = showProgress('cases worked out')
  for (const [index, { caseId }] of cases.entries()) {
    const view = await casebook.view(caseId)
    if (!view) throw new Error(`case ${caseId} is listed and cannot be viewed`)
    const facts = reportFacts(view, outcome(view, context, today), context)
    const person = personOf.get(caseId)
    if (person) kept.set(person, [...(kept.get(person) ?? []), facts])
    else fold.add(facts)
    tell({ done: index + 1, of: cases.length })
  }
  for (const facts of kept.values()) fold.add(factsOfOnePerson(facts))
  return cases.length
}

const addFiles = async (fold: ReportFold, { keys, paths }: CasebookFiles, today: CalendarDate): Promise<number> => {
  const files = await readBundleFiles(paths, keys)
  const { casebook, account } = await casebookFromBundles(keys, files, noRules, today)
  sayNotTaken(account)
  return addCasebook(fold, casebook, today)
}

export const report: Command = {
  summary: 'count what bundles of any number of casebooks hold, as JSON and CSV tables',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        keys: { type: 'string', multiple: true },
        out: { type: 'string' },
        today: { type: 'string' },
        released: { type: 'boolean' },
      },
    })
    const today = readDate(values.today)
    const out = await newFolder(values.out)
    const casebooks = await sortBundles(positionals, values.keys ?? [])
    const fold = new ReportFold()
    let cases = 0
    for (const [index, files] of casebooks.entries()) {
      cases += await addFiles(fold, files, today)
      if (casebooks.length > 1) process.stderr.write(`${index + 1} of ${casebooks.length} casebooks read\n`)
    }
    const whole = fold.report()
    const shown = values.released ? releasedReport(whole) : whole
    const released = values.released === true
    const head = { today, released, casebooks: casebooks.length, ...(released ? {} : { cases }) }
    await writeFolder(
      out,
      new Map([['report.json', `${JSON.stringify({ ...head, ...shown }, null, 2)}\n`], ...reportTables(shown)]),
    )
    process.stdout.write(`${JSON.stringify({ out, casebooks: casebooks.length, cases, released }, null, 2)}\n`)
    return 0
  },
}
