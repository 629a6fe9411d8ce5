import { describe, expect, it } from 'vitest'
import { addMonths, toCalendarDate } from '../../src/calendar-date.ts'
import { CALENDAR_ROWS } from './rows/calendar.ts'

describe('calendar (ISO 8601; month ends as in the ECMAScript Temporal specification)', () => {
  it.each(CALENDAR_ROWS)('$what', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })

  it('counts months from the anchor: chained, 31 August would lose its day in February for good', () => {
    const anchor = toCalendarDate('2026-08-31')
    expect(addMonths(anchor, 12)).toBe('2027-08-31')
    expect(addMonths(addMonths(anchor, 6), 6)).toBe('2027-08-28')
  })
})
