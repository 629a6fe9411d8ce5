import {
  type CaseRow,
  EVENT_HEADER,
  type EventRow,
  isCaseColumn,
  readCaseRow,
  readEvent,
  readEventPart,
} from '../../src/table/case-table.ts'
import { UnreadableCell } from '../../src/table/cell-forms.ts'
import { InputError } from './command.ts'
import { type CsvLine, readCsv } from './read-csv.ts'

/** A line that cannot be read, and why: in words that name the column, never what it says. */
export interface FaultyLine {
  readonly line: number
  readonly why: string
}
interface Read<Row> {
  readonly rows: readonly Row[]
  readonly faulty: readonly FaultyLine[]
}

/** Reads each line by itself: one that cannot be read is named, the others are read all the same. */
const readLines = <Row>(
  { header, lines }: { readonly header: readonly string[]; readonly lines: readonly CsvLine[] },
  read: (cells: readonly string[]) => Row,
): { readonly rows: readonly (readonly [number, Row])[]; readonly faulty: readonly FaultyLine[] } => {
  const rows: (readonly [number, Row])[] = []
  const faulty: FaultyLine[] = []
  for (const { line, cells } of lines)
    try {
      if (cells.length !== header.length)
        throw new UnreadableCell(`${cells.length} cells under a header of ${header.length} columns`)
      rows.push([line, read(cells)])
    } catch (error) {
      if (!(error instanceof UnreadableCell)) throw error
      faulty.push({ line, why: error.message })
    }
  return { rows, faulty }
}

/** Reads a table of cases, as exported or as a spreadsheet saved it. Each case once. */
export const readCaseTable = (bytes: Uint8Array): Read<CaseRow> => {
  const csv = readCsv(bytes, 'case')
  const strange = csv.header.find(name => !isCaseColumn(name))
  if (strange !== undefined) throw new InputError(`the column "${strange}" is none of a case. Nothing was changed.`)
  const seen = new Set<string>()
  const { rows, faulty } = readLines(csv, cells => {
    const row = readCaseRow(csv.header, cells)
    if (seen.has(row.case)) throw new UnreadableCell('the case stands on a line before')
    seen.add(row.case)
    return row
  })
  return { rows: rows.map(([, row]) => row), faulty }
}

/** Reads a table of what happened, in whatever order its lines stand. */
export const readEventTable = (bytes: Uint8Array): Read<EventRow> => {
  const csv = readCsv(bytes, 'case')
  if (csv.header.join() !== EVENT_HEADER.join())
    throw new InputError(`its columns are not ${EVENT_HEADER.join(', ')}. Nothing was changed.`)
  const { rows, faulty } = readLines(csv, readEventPart)
  const happenings = new Map<string, (typeof rows)[number][]>()
  for (const row of rows) {
    const key = `${row[1].case} ${row[1].entry} ${row[1].column.field}`
    const parts = happenings.get(key)
    if (parts) parts.push(row)
    else happenings.set(key, [row])
  }
  const events: EventRow[] = []
  const broken: FaultyLine[] = []
  for (const parts of happenings.values())
    try {
      events.push(readEvent(parts.map(([, part]) => part)))
    } catch (error) {
      if (!(error instanceof UnreadableCell)) throw error
      broken.push({ line: parts[0]?.[0] ?? 0, why: error.message })
    }
  return { rows: events, faulty: [...faulty, ...broken].toSorted((a, b) => a.line - b.line) }
}
