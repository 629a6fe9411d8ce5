import { daysBetween } from '../calendar-date.ts'
import type { CaseView, Head } from '../case/case-view.ts'
import { FIELDS, type NamesOfKind, type Reading, readingValue } from '../case/fields.ts'

type MeasureName = NamesOfKind<'measure'>

/** What several measurers found of one person, one value each, in steps of the field. */
export interface MeasuredTwice {
  readonly field: MeasureName
  readonly values: readonly number[]
}

/** Readings further apart are of a body that may have changed (project value). */
const ONE_OCCASION_DAYS = 31
/** Values that nobody read off a person. */
const NOT_MEASURED: readonly Reading['how'][] = ['guessed', 'reported', 'from-segments']

const dated = (heads: readonly Head<Reading>[]) =>
  heads.flatMap(head => {
    const { on, how } = head.value
    return on === undefined || NOT_MEASURED.includes(how) ? [] : [{ head, on }]
  })

const valuesOf = (field: MeasureName, heads: readonly Head<Reading>[]): readonly number[] => {
  const readings = dated(heads)
  const [first] = readings
  if (!first) return []
  const byMeasurer = new Map<string, number>()
  for (const { head, on } of readings) {
    const measurer = head.value.measuredBy ?? head.by
    if (byMeasurer.has(measurer) || daysBetween(first.on, on) > ONE_OCCASION_DAYS) continue
    byMeasurer.set(measurer, Math.round(readingValue(field, head.value) / FIELDS[field].step))
  }
  return [...byMeasurer.values()]
}

/** Measures that two or more took of the person on one occasion. */
export const measuredTwice = ({ readings }: CaseView): readonly MeasuredTwice[] =>
  (Object.keys(readings) as readonly MeasureName[])
    .map(field => ({ field, values: valuesOf(field, readings[field] ?? []) }))
    .filter(({ values }) => values.length > 1)
