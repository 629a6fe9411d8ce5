import type { CaseView } from '../case/case-view.ts'
import { type FieldName, fieldOf } from '../case/fields.ts'
import { caseIdSchema } from '../ids.ts'
import { type Cell, type CellForm, readCell, UnreadableCell, writeCell } from './cell-forms.ts'
import { CASE_COLUMNS, type Column, EVENT_PARTS, wholeSchema } from './columns.ts'

type Values = Readonly<Record<string, unknown>>

/** Columns beside those of the registry: which case it is, and what of it the table cannot show. */
const CASE_FORM: Pick<CellForm, 'form' | 'nullable'> = { form: 'key', nullable: false }
const NAMES_FORM: Pick<CellForm, 'form' | 'nullable'> = { form: 'words', nullable: false }
const JSON_FORM: Pick<CellForm, 'form' | 'nullable'> = { form: 'json', nullable: false }

/** A case as its row says it. */
export interface CaseRow {
  readonly case: string
  /** Fields about which entries differ: their cells are empty. */
  readonly differences: readonly string[]
  /** Fields that a later version wrote: their cells may say less than the record. */
  readonly notRead: readonly string[]
  /** By field, a measure as a number in the field's own unit. */
  readonly values: Values
}

const shownOf = (columns: readonly Column[], names: boolean): readonly Column[] =>
  names ? columns : columns.filter(({ personal }) => !personal)

export const LEADING_COLUMNS = ['case', 'differences', 'notRead'] as const

/** Names of the columns of a table of cases. Without names: nothing that was typed freely, and no day of birth. */
export const caseHeader = (names: boolean): readonly string[] => [
  ...LEADING_COLUMNS,
  ...shownOf(CASE_COLUMNS, names).map(({ name }) => name),
]

const partIn = (value: unknown, { part }: Column): unknown => {
  if (part !== null) return typeof value === 'object' && value !== null ? (value as Values)[part] : undefined
  return value
}

/** Columns of whole objects: each says only whether there is none of it. */
const ONLY_NONE = new Set(
  CASE_COLUMNS.filter(({ field, part }) => {
    return part === null && CASE_COLUMNS.some(one => one.field === field && one.part !== null)
  }).map(({ name }) => name),
)

/** A case as a row under `caseHeader`. */
export const caseRow = (view: CaseView, names: boolean): readonly Cell[] => {
  const values: Values = view.values
  return [
    writeCell(CASE_FORM, view.caseId),
    writeCell(
      NAMES_FORM,
      view.differences.map(({ field }) => field),
    ),
    writeCell(JSON_FORM, [...view.newer, ...view.unknownFields]),
    ...shownOf(CASE_COLUMNS, names).map(column => {
      const value = partIn(values[column.field], column)
      return ONLY_NONE.has(column.name) && value !== null ? null : writeCell(column, value)
    }),
  ]
}

export const EVENT_HEADER = ['case', 'entry', 'field', 'part', 'value'] as const

/** Everything that happened in a case, a row for each part of it. */
export const eventRows = (view: CaseView, names: boolean): readonly (readonly Cell[])[] =>
  shownOf(EVENT_PARTS, names).flatMap(column => {
    const events = view.events[column.field as keyof CaseView['events']]
    return events.flatMap(({ id, value }) => {
      const cell = writeCell(column, partIn(value, column))
      return cell === null
        ? []
        : [[writeCell(CASE_FORM, view.caseId), writeCell(CASE_FORM, id), column.field, column.part, cell]]
    })
  })

const COLUMN_BY_NAME = new Map([...CASE_COLUMNS, ...EVENT_PARTS].map(column => [column.name, column]))

export const isCaseColumn = (name: string): boolean =>
  LEADING_COLUMNS.some(one => one === name) || CASE_COLUMNS.some(one => one.name === name)

/** Why a row cannot be read, with the column: never the cell, which is about a person. */
const inColumn = <Value>(name: string, read: () => Value): Value => {
  try {
    return read()
  } catch (error) {
    if (error instanceof UnreadableCell) throw new UnreadableCell(`${name} ${error.message}`)
    throw error
  }
}

const checked = (field: FieldName, value: unknown): unknown => {
  if (wholeSchema(field).safeParse(value).success) return value
  throw new UnreadableCell(`${field} is not what a ${fieldOf(field).kind} of that name can be`)
}

const readCase = (cell: string): string => {
  const read = caseIdSchema.safeParse(readCell(CASE_FORM, cell))
  if (!read.success) throw new UnreadableCell('case is not the id of a case')
  return read.data
}

/** Parts and whole values put together by field. */
const assembled = (cells: Iterable<readonly [Column, string]>): Values => {
  const values = new Map<FieldName, unknown>()
  for (const [column, cell] of cells) {
    const value = inColumn(column.name, () => readCell(column, cell))
    if (value === undefined) continue
    const { field, part } = column
    const before = values.get(field)
    if (before === null) throw new UnreadableCell(`${field} is none and has parts`)
    values.set(field, part === null ? value : { ...(before as Values | undefined), [part]: value })
  }
  return Object.fromEntries([...values].map(([field, value]) => [field, checked(field, value)]))
}

/** Reads a row by the names of its columns. Throws UnreadableCell. */
export const readCaseRow = (header: readonly string[], cells: readonly string[]): CaseRow => {
  const cellOf = (name: string): string => cells[header.indexOf(name)] ?? ''
  const known = header.flatMap((name, place): readonly (readonly [Column, string])[] => {
    const column = COLUMN_BY_NAME.get(name)
    return column ? [[column, cells[place] ?? '']] : []
  })
  const listIn = (name: string, form: Pick<CellForm, 'form' | 'nullable'>): readonly string[] => {
    const read = inColumn(name, () => readCell(form, cellOf(name))) ?? []
    if (Array.isArray(read) && read.every(one => typeof one === 'string')) return read
    throw new UnreadableCell(`${name} is not a list of fields`)
  }
  return {
    case: readCase(cellOf('case')),
    differences: listIn('differences', NAMES_FORM),
    notRead: listIn('notRead', JSON_FORM),
    values: assembled(known),
  }
}

/** What happened, as its rows say it. */
export interface EventRow {
  readonly case: string
  readonly entry: string
  readonly field: FieldName
  readonly value: unknown
}

/** One row of a table of events: of which happening, and the part it says. Throws UnreadableCell. */
export const readEventPart = (cells: readonly string[]) => {
  const [caseCell = '', entryCell = '', field = '', part = '', cell = ''] = cells
  const column = EVENT_PARTS.find(one => one.field === field && one.part === part)
  if (!column) throw new UnreadableCell('field and part name nothing of a case')
  return { case: readCase(caseCell), entry: String(readCell(CASE_FORM, entryCell) ?? ''), column, cell }
}

/** Rows of one happening put together. Throws UnreadableCell. */
export const readEvent = (rows: readonly ReturnType<typeof readEventPart>[]): EventRow => {
  const [first] = rows
  if (!first) throw new Error('a happening without rows')
  const { field } = first.column
  const values = assembled(rows.map(({ column, cell }) => [column, cell] as const))
  return { case: first.case, entry: first.entry, field, value: values[field] }
}
