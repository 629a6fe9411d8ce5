import { parseArgs } from 'node:util'
import type { CalendarDate } from '../../src/calendar-date.ts'
import { caseIdSchema } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { Casebook } from '../casebook.ts'
import { type OutcomeBrief, outcomeRules } from '../outcome-rules.ts'
import { casebookFromBundles, readBundleFiles } from './bundle-files.ts'
import { type Command, InputError } from './command.ts'
import { KEY_FILE_USAGE, readKeyFile } from './key-file.ts'
import { readDate } from './rules-files.ts'

const USAGE = `outspoke show BUNDLE --keys KEYFILE [--today DATE] [--json]
outspoke show BUNDLE --keys KEYFILE --case ID [--today DATE]

Lists the cases of a bundle: where each stands, what holds its handover, what is due next, which differences
matter; or prints one case, what its entries say and what follows from them, as JSON. Chair models and policy are those of the bundle.
The bundle is read only. What is printed is about persons: mind where it goes.

${KEY_FILE_USAGE}
  --case ID       one case, as JSON: { view, outcome }; an id that begins with - is written --case=ID
  --today DATE    the day to work for, such as 2026-11-25 (without it: today)
  --json          the list as JSON instead of a table`

type DeskCasebook = Casebook<Outcome, OutcomeBrief>

const showCase = async (casebook: DeskCasebook, id: string, today: CalendarDate): Promise<void> => {
  const read = caseIdSchema.safeParse(id)
  if (!read.success) throw new InputError(`--case ${id}: is not the id of a case`)
  const [view, outcome] = [await casebook.view(read.data), await casebook.outcome(read.data, today)]
  if (!view || !outcome) throw new InputError(`--case ${id}: there is no such case in the bundle, or it was erased`)
  process.stdout.write(`${JSON.stringify({ view, outcome }, null, 2)}\n`)
}

interface Line {
  readonly case: string
  readonly name: string | null
  /** Null when the rules failed on this case. */
  readonly stage: string | null
  readonly holds: readonly string[]
  /** Fields with a difference that matters. */
  readonly differences: readonly string[]
  readonly nextDue: OutcomeBrief['nextDue']
  readonly entries: number
}

const linesOf = (casebook: DeskCasebook): readonly Line[] =>
  casebook.summaries().map(({ caseId, name, brief, entryCount }) => {
    const nothing = { stage: null, holds: [], differences: [], nextDue: null }
    const { stage, holds, differences, nextDue } = brief ?? nothing
    return { case: caseId, name, stage, holds, differences, nextDue, entries: entryCount }
  })

const HEADER = ['case', 'name', 'stage', 'next due', 'differences', 'holds'] as const

/** Characters that move the cursor or end a line have no place in a table: a name may hold anything. */
const printable = (text: string): string => text.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}]/gu, ' ')

const tableOf = (lines: readonly Line[]): string => {
  const rows = lines.map(line => [
    line.case,
    printable(line.name ?? ''),
    line.stage ?? 'not worked out',
    line.nextDue ? `${line.nextDue.date} ${line.nextDue.key}` : '',
    line.differences.join(' '),
    line.holds.join(' '),
  ])
  const widths = HEADER.map((title, column) => Math.max(title.length, ...rows.map(row => row[column]?.length ?? 0)))
  return [HEADER, ...rows]
    .map(row =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

export const show: Command = {
  summary: 'list the cases of a bundle with stage, holds and dues, or print one',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        keys: { type: 'string' },
        case: { type: 'string' },
        today: { type: 'string' },
        json: { type: 'boolean' },
      },
    })
    const [path, ...others] = positionals
    if (path === undefined || others.length > 0) throw new InputError('takes one BUNDLE')
    const today = readDate(values.today)
    const keys = await readKeyFile(values.keys)
    const files = await readBundleFiles([path], keys)
    const { casebook, account } = await casebookFromBundles(keys, files, outcomeRules(), today)
    if (account.refusedCount > 0)
      process.stderr.write(
        `${account.refusedCount} things in the bundle were not taken, the first: ${account.refused[0]?.message}\n`,
      )
    if (values.case !== undefined) {
      await showCase(casebook, values.case, today)
      return 0
    }
    await casebook.settled()
    for (const problem of casebook.problems())
      if (problem.type === 'rules-failed')
        process.stderr.write(`${problem.caseId}: could not be worked out: ${problem.message}\n`)
    const lines = linesOf(casebook)
    process.stdout.write(values.json ? `${JSON.stringify(lines, null, 2)}\n` : `${tableOf(lines)}\n`)
    return 0
  },
}
