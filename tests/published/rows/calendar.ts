import { addDays, addMonths, ageOn, daysBetween, toCalendarDate } from '../../../src/calendar-date.ts'
import type { PublishedRow } from './row.ts'

const CALENDAR =
  'Gregorian calendar (ISO 8601-1:2019); months clamped to their end as in the ECMAScript Temporal specification, PlainDate.add with overflow "constrain"; days counted with Temporal'

const dateRow = (what: string, expected: string, actual: () => string): PublishedRow => ({
  rule: 'calendar',
  source: CALENDAR,
  standing: 'computed',
  what: `${what} is ${expected}`,
  expected: 0,
  actual: () => daysBetween(toCalendarDate(expected), toCalendarDate(actual())),
  tolerance: 0,
  unit: 'days off',
})
const countRow = (what: string, expected: number, actual: () => number, unit: string): PublishedRow => ({
  rule: 'calendar',
  source: CALENDAR,
  standing: 'computed',
  what: `${what} is ${expected}`,
  expected,
  actual,
  tolerance: 0,
  unit,
})
const day = toCalendarDate

export const CALENDAR_ROWS: readonly PublishedRow[] = [
  dateRow('2026-01-31 + 1 month', '2026-02-28', () => addMonths(day('2026-01-31'), 1)),
  dateRow('2024-01-31 + 1 month', '2024-02-29', () => addMonths(day('2024-01-31'), 1)),
  dateRow('2026-08-31 + 6 months', '2027-02-28', () => addMonths(day('2026-08-31'), 6)),
  dateRow('2026-11-25 + 6 weeks', '2027-01-06', () => addDays(day('2026-11-25'), 42)),
  countRow('2026-11-25 to 2027-03-01', 96, () => daysBetween(day('2026-11-25'), day('2027-03-01')), 'days'),
  // Century years are leap years only when 400 divides them.
  dateRow('2000-02-28 + 1 day', '2000-02-29', () => addDays(day('2000-02-28'), 1)),
  dateRow('2100-02-28 + 1 day', '2100-03-01', () => addDays(day('2100-02-28'), 1)),
  countRow('age on the day before the 18th birthday', 17, () => ageOn(day('2008-11-26'), day('2026-11-25')), 'years'),
  countRow('age on the 18th birthday', 18, () => ageOn(day('2008-11-25'), day('2026-11-25')), 'years'),
]
