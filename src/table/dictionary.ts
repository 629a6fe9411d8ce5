import { type FieldKind, fieldOf } from '../case/fields.ts'
import { type Cell, type Form, NONE } from './cell-forms.ts'
import { CASE_COLUMNS, type Column, EVENT_PARTS } from './columns.ts'

/** What a field of a kind says, as the registry has it. */
const MEANING: Readonly<Record<FieldKind, string>> = {
  measure: 'mean of the standing readings that lie within the tolerance of each other',
  risk: 'yes: the risk stands until it was looked at again',
  check: 'a check of the chair, against the settings it was made for',
  choice: 'one answer',
  text: 'words as typed',
  date: 'a day, year-month-day',
  event: 'something that happened; each stands',
}

const FORM: Readonly<Record<Form, string>> = {
  number: 'number with a decimal point',
  'yes-no': 'yes or no',
  date: 'year-month-day',
  word: 'one of the options',
  words: 'some of the options, a space between',
  key: 'key',
  text: 'text',
  json: 'JSON',
}

export const DICTIONARY_HEADER = [
  'table',
  'column',
  'section',
  'kind',
  'form',
  'unit',
  'least',
  'most',
  'tolerance',
  'options',
  'safety',
  'onlyWithNames',
  'meaning',
] as const

const yesNo = (is: boolean): string => (is ? 'yes' : 'no')

const rowOf =
  (table: string) =>
  (column: Column): readonly Cell[] => {
    const { section, kind, safety } = fieldOf(column.field)
    const options = column.nullable ? [...new Set([...column.options, NONE])] : column.options
    return [
      table,
      column.name,
      section,
      kind,
      FORM[column.form],
      column.unit,
      column.least,
      column.most,
      column.tolerance,
      options.join(' ') || null,
      yesNo(safety),
      yesNo(column.personal),
      MEANING[kind],
    ]
  }

const leading = (column: string, form: Form, meaning: string): readonly Cell[] => {
  const unsaid = Array.from({ length: DICTIONARY_HEADER.length - 6 }, () => null)
  return ['cases', column, null, null, FORM[form], ...unsaid, meaning]
}

/** Every column of the tables of cases and of what happened, in their order; what the registry does not say is empty. */
export const dictionaryRows = (): readonly (readonly Cell[])[] => [
  leading('case', 'key', 'the id of the case: the crew finds it by that, nobody else'),
  leading('differences', 'words', 'fields about which entries made apart differ: their cells are empty'),
  leading('notRead', 'json', 'fields that a later version wrote: their cells may say less than the record'),
  ...CASE_COLUMNS.map(rowOf('cases')),
  ...EVENT_PARTS.map(rowOf('events')),
]
