import * as z from 'zod'
import { FIELD_NAMES, type Field, type FieldName, fieldOf } from '../case/fields.ts'
import { UNITS_BY_QUANTITY } from '../units.ts'
import { type CellForm, cellFormOf, describeSchema, NONE, withoutNull } from './cell-forms.ts'

/** One column of a table, or one part of an event: a whole field, or a part of one. */
export interface Column extends CellForm {
  /** `field` or `field.part`. */
  readonly name: string
  readonly field: FieldName
  readonly part: string | null
  readonly unit: string | null
  readonly tolerance: number | null
  /** May name or point out a person: only in what was asked for with names. */
  readonly personal: boolean
}

/** Parts of events and decisions that name a thing of the catalogue or a step: every other text was typed freely. */
const KEY_PARTS: ReadonlySet<string> = new Set([
  'stepDone.step',
  'cushionIssued.cushion',
  'problem.key',
  'repair.problem',
  'chosenSetUp.chair',
  'chosenSetUp.seatDepth',
  'chosenSetUp.seatHeight',
  'chosenSetUp.axle',
  'chosenSetUp.backHeight',
  'chosenSetUp.cushion',
])
/** A day of birth points out a person; the year stays. */
const PERSONAL_FIELDS: readonly FieldName[] = ['dateOfBirth']

/** The unit that stands last in a name. */
const UNIT_IN_NAME = /(?:Mm|Kg|Deg|KPa|M|celsius|^mm)$/
const UNITS: Readonly<Record<string, string>> = {
  Mm: 'mm',
  mm: 'mm',
  Kg: 'kg',
  Deg: 'deg',
  KPa: 'kPa',
  M: 'm',
  celsius: 'celsius',
}
const unitInName = (name: string): string | null => UNITS[UNIT_IN_NAME.exec(name)?.[0] ?? ''] ?? null

/** A measure stands as what its readings come to, in the field's own unit: that of factor 1. */
const measureColumn = (field: FieldName, { quantity, plausible, tolerance }: Field & { kind: 'measure' }): Column => ({
  name: field,
  field,
  part: null,
  form: 'number',
  options: [],
  least: plausible[0],
  most: plausible[1],
  nullable: false,
  unit: Object.entries(UNITS_BY_QUANTITY[quantity]).find(([, factor]) => factor === 1)?.[0] ?? null,
  tolerance,
  personal: false,
})

const columnOf = (field: FieldName, part: string | null, form: CellForm): Column => {
  const name = part === null ? field : `${field}.${part}`
  return {
    ...form,
    name,
    field,
    part,
    unit: form.form === 'number' ? unitInName(part ?? field) : null,
    tolerance: null,
    personal: form.form === 'text' || PERSONAL_FIELDS.includes(field),
  }
}

const ONLY_NONE: CellForm = { form: 'word', options: [NONE], least: null, most: null, nullable: true }

const columnsOf = (name: FieldName): readonly Column[] => {
  const field = fieldOf(name)
  if (field.kind === 'measure') return [measureColumn(name, field)]
  const { schema, nullable } = withoutNull(describeSchema(field.schema))
  const parts = schema.properties && Object.entries(schema.properties)
  if (!parts) return [columnOf(name, null, { ...cellFormOf(schema, field.kind === 'choice'), nullable })]
  return [
    ...(nullable ? [columnOf(name, null, ONLY_NONE)] : []),
    ...parts.map(([part, described]) => columnOf(name, part, cellFormOf(described, KEY_PARTS.has(`${name}.${part}`)))),
  ]
}

const isEvent = (name: FieldName): boolean => fieldOf(name).kind === 'event'

/** Columns of a table of cases, in the order of the registry: every field that comes to one value. */
export const CASE_COLUMNS: readonly Column[] = FIELD_NAMES.filter(name => !isEvent(name)).flatMap(columnsOf)

/** Parts of what happened, in the order of the registry. */
export const EVENT_PARTS: readonly Column[] = FIELD_NAMES.filter(isEvent).flatMap(columnsOf)

/** What a whole value must be; of an object any part may be left out, as a table without names does. */
export const wholeSchema = (name: FieldName): z.ZodType => {
  const field = fieldOf(name)
  if (field.kind === 'measure') return z.number()
  const { schema } = field
  const bare = schema instanceof z.ZodNullable ? schema.unwrap() : schema
  if (!(bare instanceof z.ZodObject)) return schema
  return bare === schema ? bare.partial() : bare.partial().nullable()
}
