import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { bodyOf } from '../../src/body/measurements.ts'
import type { Person } from '../../src/body/person.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { readPeopleTable } from '../../sync/desk/people-table.ts'

const TODAY = toCalendarDate('2026-11-25')
/** ANSUR II 2012 (Gordon CC et al., NATICK/TR-15/007, 2014), half of its public data; calf there is barefoot. */
const people = readPeopleTable(readFileSync(new URL('./ansur-ii-half.csv', import.meta.url), 'utf8'), {
  shoeSoleMm: '0',
}).rows.flatMap(row => (row.ok && (row.person.ageYears ?? 0) >= 18 ? [row.person] : []))

/** Mean and standard deviation of estimated less measured stature, mm, when these fields are not known. */
const errorWithout = (sex: Person['sex'], ...unknown: readonly (keyof Person)[]): { mean: number; sd: number } => {
  const errors = people
    .filter(person => person.sex === sex)
    .map(person => {
      const { statureMm = Number.NaN, ...others } = person
      const known = Object.fromEntries(Object.entries(others).filter(([key]) => !unknown.includes(key as keyof Person)))
      return (bodyOf(known, TODAY).body?.statureMm ?? Number.NaN) - statureMm
    })
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length
  return { mean, sd: Math.sqrt(errors.reduce((sum, error) => sum + (error - mean) ** 2, 0) / (errors.length - 1)) }
}

describe('stature estimated from seated measures of real bodies', () => {
  it('lies within the spread that was published for it: SD 22 mm men, 23 mm women', () => {
    expect(people.length).toBeGreaterThan(2900)
    for (const [sex, sd] of [
      ['male', 22],
      ['female', 23],
    ] as const) {
      const error = errorWithout(sex)
      expect(Math.abs(error.mean)).toBeLessThan(2)
      expect(error.sd).toBeGreaterThan(sd - 1.5)
      expect(error.sd).toBeLessThan(sd + 1.5)
    }
  })

  it('stays inside the error it claims when the shoulder was not measured either', () => {
    for (const sex of ['male', 'female'] as const) {
      const error = errorWithout(sex, 'shoulderHeightMm')
      expect(Math.abs(error.mean)).toBeLessThan(10)
      expect(error.sd).toBeLessThan(60)
    }
  })
})
