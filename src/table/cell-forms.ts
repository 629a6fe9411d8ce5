import * as z from 'zod'
import { calendarDateSchema } from '../calendar-date.ts'
import { guardText, unguardText } from './formula-guard.ts'

/** Null: an empty cell. */
export type Cell = string | number | null

/** How a value is written in a cell. `key`: an id or a name of the catalogue; `text`: what somebody typed freely. */
export type Form = 'number' | 'yes-no' | 'date' | 'word' | 'words' | 'key' | 'text' | 'json'

/** What the registry's schema says of one value: enough to write it, read it and describe it. */
export interface CellForm {
  readonly form: Form
  readonly options: readonly string[]
  readonly least: number | null
  readonly most: number | null
  readonly nullable: boolean
}

/** As much of JSON Schema (2020-12) as the registry's schemas come to. */
export interface Described {
  readonly type?: string | readonly string[]
  readonly format?: string
  readonly pattern?: string
  readonly enum?: readonly (string | number)[]
  readonly minimum?: number
  readonly exclusiveMinimum?: number
  readonly maximum?: number
  readonly exclusiveMaximum?: number
  readonly items?: Described
  readonly properties?: Readonly<Record<string, Described>>
  readonly anyOf?: readonly Described[]
}

/** A schema described, a civil date told from other text. */
export const describeSchema = (schema: z.ZodType): Described =>
  z.toJSONSchema(schema, {
    io: 'input',
    unrepresentable: 'any',
    override: ({ zodSchema, jsonSchema }) => {
      if (zodSchema === calendarDateSchema) jsonSchema.format = 'date'
    },
  }) as Described

/** The value that is there, and whether it may be null instead. */
export const withoutNull = (schema: Described): { readonly schema: Described; readonly nullable: boolean } => {
  if (typeof schema.type === 'object') {
    const [only] = schema.type.filter(type => type !== 'null')
    return only && schema.type.length === 2
      ? { schema: { ...schema, type: only }, nullable: true }
      : { schema, nullable: false }
  }
  const others = schema.anyOf?.filter(({ type }) => type !== 'null')
  const [only] = others ?? []
  return only && others?.length === 1 ? { schema: only, nullable: true } : { schema, nullable: false }
}

const optionsOf = (schema: Described | undefined): readonly string[] => (schema?.enum ?? []).map(String)

const formFrom = (schema: Described, isKey: boolean): Form => {
  if (schema.enum) return 'word'
  switch (schema.type) {
    case 'number':
    case 'integer':
      return 'number'
    case 'boolean':
      return 'yes-no'
    case 'string':
      return schema.format === 'date' ? 'date' : isKey || schema.pattern !== undefined ? 'key' : 'text'
    default:
      return schema.items?.enum || schema.items?.pattern ? 'words' : 'json'
  }
}

/** `isKey`: a string that names something of the catalogue rather than words. */
export const cellFormOf = (described: Described, isKey: boolean): CellForm => {
  const { schema, nullable } = withoutNull(described)
  return {
    form: formFrom(schema, isKey),
    options: [...optionsOf(schema), ...optionsOf(schema.items)],
    least: schema.minimum ?? schema.exclusiveMinimum ?? null,
    most: schema.maximum ?? schema.exclusiveMaximum ?? null,
    nullable,
  }
}

/** Said, and nothing: a part that is missing or taken off, an empty list. An empty cell is what nobody said. */
export const NONE = 'none'

const GUARDED: readonly Form[] = ['key', 'text', 'json']

/** A value as its cell. */
export const writeCell = ({ form }: Pick<CellForm, 'form'>, value: unknown): Cell => {
  if (value === undefined || value === '') return null
  if (value === null) return NONE
  if (form === 'number') return value as number
  if (form === 'yes-no') return value === true ? 'yes' : 'no'
  if (form === 'words') return (value as readonly string[]).join(' ') || NONE
  const text = form === 'json' ? JSON.stringify(value) : String(value)
  return GUARDED.includes(form) ? guardText(text) : text
}

const NUMBER = /^-?\d+(?:\.\d+)?(?:e[+-]?\d+)?$/i

/** Not a value of this form, said in words. */
export class UnreadableCell extends Error {
  override readonly name = 'UnreadableCell'
}

const readJson = (text: string): unknown => {
  try {
    return JSON.parse(text)
  } catch {
    throw new UnreadableCell('is not JSON')
  }
}

/** What a cell says, undefined where it is empty. Throws UnreadableCell; the schema of the field judges the rest. */
export const readCell = ({ form, nullable }: Pick<CellForm, 'form' | 'nullable'>, cell: string): unknown => {
  if (cell === '') return undefined
  if (nullable && cell === NONE) return null
  const text = GUARDED.includes(form) ? unguardText(cell) : cell
  switch (form) {
    case 'number':
      if (!NUMBER.test(text)) throw new UnreadableCell('is not a number with a decimal point')
      return Number(text)
    case 'yes-no':
      if (text !== 'yes' && text !== 'no') throw new UnreadableCell('is neither yes nor no')
      return text === 'yes'
    case 'words':
      return text === NONE ? [] : text.split(' ')
    case 'json':
      return readJson(text)
    default:
      return text
  }
}
