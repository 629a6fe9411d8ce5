import { parseArgs } from 'node:util'
import { caseHeader, caseRow, EVENT_HEADER, eventRows } from '../../src/table/case-table.ts'
import type { Cell } from '../../src/table/cell-forms.ts'
import { DICTIONARY_HEADER, dictionaryRows } from '../../src/table/dictionary.ts'
import { casebookFromBundles, readBundleFiles, sayNotTaken } from './bundle-files.ts'
import { type Command, InputError } from './command.ts'
import { csvOf } from './csv.ts'
import { newFolder, writeFolder } from './folder.ts'
import { KEY_FILE_USAGE, readKeyFile } from './key-file.ts'
import { noRules } from './no-rules.ts'
import { showProgress } from './progress.ts'
import { readDate } from './rules-files.ts'

const USAGE = `outspoke export BUNDLE... --keys KEYFILE --out DIR [--names]

The cases of one casebook as tables, CSV (RFC 4180, UTF-8 with byte order mark): cases.csv with a line for each case and a
column for each field, events.csv with a line for each part of what happened, dictionary.csv with every column: kind, unit,
range, options, meaning. Each case stands once, whatever number of bundles hold it. An empty cell is what nobody said, none
what was said to be none. Words that a spreadsheet would compute have an apostrophe before them; numbers stay numbers. The
same entries give the same bytes. outspoke read-table takes the tables back.

${KEY_FILE_USAGE}
  --out DIR       a folder that is new or empty
  --names         with names, days of birth and everything that was typed freely. Without it the tables still tell of single
                  people: mind where they go. For others there is outspoke report --released.`

export const exportCases: Command = {
  summary: 'write the cases of a casebook as CSV tables with their dictionary',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { keys: { type: 'string' }, out: { type: 'string' }, names: { type: 'boolean' } },
    })
    if (positionals.length === 0) throw new InputError('takes at least one BUNDLE')
    const names = values.names === true
    const out = await newFolder(values.out)
    const keys = await readKeyFile(values.keys)
    const files = await readBundleFiles(positionals, keys)
    const { casebook, account } = await casebookFromBundles(keys, files, noRules, readDate(undefined))
    sayNotTaken(account)
    const cases = casebook.summaries()
    const tell = showProgress('cases written')
    const rows: (readonly Cell[])[] = []
    const happened: (readonly Cell[])[] = []
    for (const [index, { caseId }] of cases.entries()) {
      const view = await casebook.view(caseId)
      if (!view) throw new Error(`case ${caseId} is listed and cannot be viewed`)
      rows.push(caseRow(view, names))
      for (const row of eventRows(view, names)) happened.push(row)
      tell({ done: index + 1, of: cases.length })
    }
    await writeFolder(
      out,
      new Map([
        ['cases.csv', csvOf(caseHeader(names), rows)],
        ['events.csv', csvOf(EVENT_HEADER, happened)],
        ['dictionary.csv', csvOf(DICTIONARY_HEADER, dictionaryRows())],
      ]),
    )
    process.stdout.write(`${JSON.stringify({ out, cases: rows.length, names }, null, 2)}\n`)
    return 0
  },
}
