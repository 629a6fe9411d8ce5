import { toCalendarDate } from '../../src/calendar-date.ts'
import type { FieldName, FieldValue, METHODS, NamesOfKind, Reading } from '../../src/case/fields.ts'

type EventName = NamesOfKind<'event'>
type MeasureName = NamesOfKind<'measure'>

/** An invented person of the invented Lower Kesse valley: what the crew writes down before any chair is chosen. */
export interface PracticePerson {
  readonly key: string
  readonly name: string
  readonly facts: { readonly [Name in Exclude<FieldName, EventName>]?: FieldValue<Name> }
  /** Things that happened, each an entry of its own. */
  readonly events?: { readonly [Name in EventName]?: readonly FieldValue<Name>[] }
}

export const date = toCalendarDate
/** The day on which the crew measures in the practice trip. */
export const MEASURED_ON = date('2026-05-12')

/** A reading as typed. */
export const reading = (typed: number, unit: string, how: (typeof METHODS)[number], note?: string): Reading => ({
  typed,
  unit,
  how,
  on: MEASURED_ON,
  ...(note === undefined ? {} : { note }),
})
export const kg = (typed: number): Reading => reading(typed, 'kg', 'scale')
export const guessedKg = (typed: number): Reading => reading(typed, 'kg', 'guessed')

/** Lengths taken in mm by tape, by field. */
export const taped = <Name extends MeasureName>(
  lengthsMm: Readonly<Record<Name, number>>,
): Readonly<Record<Name, Reading>> =>
  Object.fromEntries(
    Object.entries<number>(lengthsMm).map(([name, typed]) => [name, reading(typed, 'mm', 'tape')]),
  ) as Record<Name, Reading>

/** Told about this record, and agreed. */
export const agreed = (by: 'person' | 'guardian' | 'relative', byName?: string) => ({
  told: true,
  agreed: true,
  by,
  ...(byName === undefined ? {} : { byName }),
  on: MEASURED_ON,
})
