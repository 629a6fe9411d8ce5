import type { CalendarDate } from '../calendar-date.ts'
import { compareText } from '../ids.ts'
import { roundHalfUp } from '../units.ts'
import type { DifferenceOption, Head } from './case-view.ts'
import {
  type Check,
  FIELDS,
  type FieldName,
  fieldOf,
  type NamesOfKind,
  type Reading,
  readingValue,
  repeatTolerance,
} from './fields.ts'
import { stableText } from './same-value.ts'

export type MeasureName = NamesOfKind<'measure'>
/** Fields that come to one value; events do not. */
export type SingleName = Exclude<FieldName, NamesOfKind<'event'>>

/** What the heads of a field come to: one value, or options that a person has to choose between. */
export type Resolution =
  | { readonly type: 'value'; readonly value: unknown }
  | { readonly type: 'open'; readonly options: readonly DifferenceOption[] }

/** Heads that say the same are one option; options stand by their text. */
const byEqualValue = (heads: readonly Head[], valueFrom: (head: Head) => unknown): readonly DifferenceOption[] => {
  const options = new Map<string, { value: unknown; heads: Head[] }>()
  for (const head of heads) {
    const value = valueFrom(head)
    const key = stableText(value)
    const option = options.get(key)
    if (option) option.heads.push(head)
    else options.set(key, { value, heads: [head] })
  }
  return [...options.entries()].sort(([a], [b]) => compareText(a, b)).map(([, option]) => option)
}

/** Binary tails of unit factors (16.5 in x 25.4) must not push two readings over the tolerance. */
const TAIL = 1e-6

/**
 * B9: readings that lie no further apart than the tolerance (greatest less least, never neighbour by neighbour) are one
 * value, their mean, half up in the field's step. Otherwise each distinct value in that step is an option, least first.
 */
const resolveMeasure = (name: MeasureName, heads: readonly Head[]): Resolution => {
  const { step } = FIELDS[name]
  const readings = heads.map(head => head.value as Reading)
  const values = readings.map(reading => readingValue(name, reading))
  if (Math.max(...values) - Math.min(...values) <= repeatTolerance(name, readings) + TAIL) {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length
    return { type: 'value', value: roundHalfUp(mean, step) }
  }
  const inSteps = (head: Head): number => roundHalfUp(readingValue(name, head.value as Reading), step)
  const options = byEqualValue(heads, inSteps)
  return { type: 'open', options: options.toSorted((a, b) => Number(a.value) - Number(b.value)) }
}

/** A failed check holds beside any pass. Otherwise the check made last, by the date typed; ties by entry id. */
const resolveCheck = (heads: readonly Head[]): Resolution => {
  const [only] = heads
  if (only && heads.length === 1) return { type: 'value', value: only.value }
  const fails = heads.filter(head => (head.value as Check).result === 'fail')
  const day = (head: Head): CalendarDate => (head.value as Check).on
  const candidates = (fails.length > 0 ? fails : heads).toSorted(
    (a, b) => compareText(day(a), day(b)) || compareText(a.id, b.id),
  )
  return { type: 'value', value: candidates.at(-1)?.value }
}

const textValue = (head: Head): unknown => (typeof head.value === 'string' ? head.value.trim() : head.value)

/** What the standing statements of a field come to (B5, B6, B9). `heads` is never empty and sorted by id. */
export const resolve = (name: SingleName, heads: readonly Head[]): Resolution => {
  switch (fieldOf(name).kind) {
    case 'measure':
      return resolveMeasure(name as MeasureName, heads)
    case 'risk':
      return { type: 'value', value: heads.some(head => head.value === true) }
    case 'check':
      return resolveCheck(heads)
    default: {
      const [only] = heads
      if (only && heads.length === 1) return { type: 'value', value: textValue(only) }
      const options = byEqualValue(heads, textValue)
      return options.length === 1 ? { type: 'value', value: options[0]?.value } : { type: 'open', options }
    }
  }
}
