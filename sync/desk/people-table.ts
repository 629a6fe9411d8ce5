import Papa from 'papaparse'
import type * as z from 'zod'
import { type Person, personSchema } from '../../src/body/person.ts'
import { InputError } from './command.ts'

/** One-sided columns serve both sides. */
const BOTH_SIDES: Readonly<Record<string, readonly (keyof Person)[]>> = {
  thighDepthMm: ['thighDepthLeftMm', 'thighDepthRightMm'],
  calfLengthMm: ['calfLengthLeftMm', 'calfLengthRightMm'],
}

const FIELD_SCHEMAS: Readonly<Record<string, z.ZodType>> = personSchema.shape
const SKIN_RISKS = ['presentSore', 'pastSore', 'reducedSensation', 'cannotReposition', 'moisture']

/** How a cell becomes a value of the field: a number, yes or no, words split by spaces (propulsion), else text. */
const cellValue = (field: string, cell: string): unknown => {
  if (field === 'propulsion') return cell.split(/\s+/)
  if (
    field === 'massGuessed' ||
    field === 'weighedWithProsthesis' ||
    field === 'progressive' ||
    SKIN_RISKS.includes(field)
  )
    return cell === 'yes' || cell === 'true' ? true : cell === 'no' || cell === 'false' ? false : cell
  const isNumber = /(?:Mm|Kg|Deg|Years)$/.test(field)
  return isNumber && cell.trim() !== '' ? Number(cell) : cell
}

export interface PeopleTable {
  /** Columns that say nothing fitting uses, named once. */
  readonly unused: readonly string[]
  readonly rows: readonly PeopleRow[]
}

export type PeopleRow =
  | { readonly line: number; readonly ok: true; readonly person: Person }
  | { readonly line: number; readonly ok: false; readonly reason: string }

const LISTS = ['loads', 'limbLoss', 'armLoss', 'skin']

/**
 * A table of people, one a line under a header of field names. `assumed` fills what the table has no column for. A line
 * that cannot be read is kept with its number and the reason; the others are read all the same.
 */
export const readPeopleTable = (text: string, assumed: Readonly<Record<string, string>>): PeopleTable => {
  const { data, errors } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), {
    skipEmptyLines: 'greedy',
    delimitersToGuess: [',', ';', '\t'],
  })
  const [header, ...lines] = data
  if (!header || lines.length === 0)
    throw new InputError('the table has no header and no line of people: nothing was computed')
  const names = header.map(name => name.trim())
  const doubled = names.find((name, index) => name !== '' && names.indexOf(name) !== index)
  if (doubled) throw new InputError(`the column ${doubled} stands twice: nothing was computed`)
  const isKnown = (name: string): boolean =>
    Object.hasOwn(BOTH_SIDES, name) ||
    SKIN_RISKS.includes(name) ||
    (Object.hasOwn(FIELD_SCHEMAS, name) && !LISTS.includes(name))
  if (!names.some(isKnown))
    throw new InputError(`no column of the header names a field: ${names.join(', ').slice(0, 200)}`)
  const wrong = Object.keys(assumed).find(name => !isKnown(name))
  if (wrong) throw new InputError(`--assume ${wrong}: no field of that name`)
  const broken = new Map(errors.map(error => [error.row, error.message]))

  return {
    unused: names.filter(name => !isKnown(name)),
    rows: lines.map((cells, index): PeopleRow => {
      const line = index + 2
      const problem = broken.get(index + 1)
      if (problem) return { line, ok: false, reason: problem }
      if (cells.length !== names.length)
        return { line, ok: false, reason: `${cells.length} cells under a header of ${names.length} columns` }
      const given = new Map(Object.entries(assumed))
      for (const [place, name] of names.entries()) {
        const cell = cells[place]?.trim() ?? ''
        if (cell !== '') given.set(name, cell)
      }
      const person: Record<string, unknown> = {}
      const skin: Record<string, unknown> = {}
      for (const [name, cell] of given) {
        if (!isKnown(name)) continue
        const both = BOTH_SIDES[name]
        if (SKIN_RISKS.includes(name)) skin[name] = cellValue(name, cell)
        else for (const field of both ?? [name]) person[field] = cellValue(field, cell)
      }
      if (Object.keys(skin).length > 0) person.skin = skin
      const read = personSchema.safeParse(person)
      if (read.success) return { line, ok: true, person: read.data }
      const reasons = read.error.issues.map(issue => `${issue.path.join('.')}: ${issue.message}`)
      return { line, ok: false, reason: [...new Set(reasons)].join('; ') }
    }),
  }
}

/** RFC 4180 text of rows of cells. */
export const writeTable = (header: readonly string[], rows: readonly (readonly (string | number | null)[])[]): string =>
  `${Papa.unparse([[...header], ...rows.map(row => [...row])], { newline: '\r\n' })}\r\n`
