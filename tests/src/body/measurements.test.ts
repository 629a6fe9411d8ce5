import { describe, expect, it } from 'vitest'
import { bodyOf } from '../../../src/body/measurements.ts'
import type { Person } from '../../../src/body/person.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'

// An invented adult; the errors are the project's own values, worked by hand: 3 % of what was weighed.
const TODAY = toCalendarDate('2026-11-25')
const adult: Person = {
  sex: 'female',
  ageYears: 40,
  massKg: 60,
  statureMm: 1600,
  hipWidthMm: 370,
  thighDepthLeftMm: 460,
  thighDepthRightMm: 460,
  calfLengthLeftMm: 420,
  calfLengthRightMm: 420,
}
const massErrorKg = (person: Person): number | undefined => bodyOf(person, TODAY).body?.errors.massKg

describe('the error of a mass', () => {
  it('is 3 % of what a scale showed', () => expect(massErrorKg(adult)).toBeCloseTo(1.8, 6))

  it('is a kilogram more where it lies between two weighings', () =>
    expect(massErrorKg({ ...adult, weighedWith: { what: 'chair', massKg: 16 } })).toBeCloseTo(2.8, 6))

  it('is that of a guess where it was guessed', () => expect(massErrorKg({ ...adult, massGuessed: true })).toBe(15))
})
