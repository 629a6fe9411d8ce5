import { parseArgs } from 'node:util'
import { type Command, InputError } from './command.ts'
import { readBytes } from './files.ts'
import { type FaultyLine, readCaseTable, readEventTable } from './read-tables.ts'

const USAGE = `outspoke read-table CASES.csv [--events EVENTS.csv]

Reads tables that outspoke export wrote, also after a spreadsheet saved them with semicolons or tabs, and prints what they
say as JSON: { cases, events, faulty }. A line that cannot be read is named with its number and column under faulty; the
others are read all the same. Nothing is changed. What is printed is about persons: mind where it goes.`

const named = <Read>(path: string, read: () => Read): Read => {
  try {
    return read()
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${path}: ${error.message}`)
    throw error
  }
}

const inFile = (file: string, faulty: readonly FaultyLine[]) => faulty.map(one => ({ file, ...one }))

/** The file is not all as it must be; what can be read was printed. */
const FAULTY_LINES = 2

export const readTable: Command = {
  summary: 'read tables of cases back and name the lines that cannot be read',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { events: { type: 'string' } },
    })
    const [path, ...others] = positionals
    if (path === undefined || others.length > 0) throw new InputError('takes one CASES.csv')
    const bytes = await readBytes(path)
    const cases = named(path, () => readCaseTable(bytes))
    const { events: eventsPath } = values
    const eventBytes = eventsPath === undefined ? undefined : await readBytes(eventsPath)
    const events = eventBytes && named(eventsPath ?? '', () => readEventTable(eventBytes))
    const faulty = [...inFile(path, cases.faulty), ...inFile(eventsPath ?? '', events?.faulty ?? [])]
    process.stdout.write(`${JSON.stringify({ cases: cases.rows, events: events?.rows ?? [], faulty }, null, 2)}\n`)
    if (faulty.length > 0) process.stderr.write(`${faulty.length} lines cannot be read; why stands under "faulty".\n`)
    return faulty.length > 0 ? FAULTY_LINES : 0
  },
}
