import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { forecastWidths } from '../../src/trip/width-forecast.ts'
import { readPeopleTable } from '../../sync/desk/people-table.ts'
import { CHANCE_ROWS } from './rows/chances.ts'

it.each(CHANCE_ROWS)('$what: $expected ($source)', ({ expected, actual, tolerance }) => {
  expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
})

// Half of the people of ANSUR II 2012: so many hips of 3,034 fall between two widths as were counted there.
it('forecasts for nobody measured the widths that real people want, to within three of a hundred', () => {
  const file = fileURLToPath(new URL('ansur-ii-half.csv', import.meta.url))
  const people = readPeopleTable(readFileSync(file, 'utf8'), {}).rows.flatMap(row => (row.ok ? [row.person] : []))
  const hips = people.flatMap(person => person.hipWidthMm ?? [])
  expect(hips.length).toBeGreaterThan(3000)
  const womenShare = people.filter(person => person.sex === 'female').length / people.length
  const seatWidthsMm = [340, 370, 400, 430, 460, 490, 520]
  const { widths } = forecastWidths({
    seatWidthsMm,
    measuredHipsMm: [],
    expected: { people: 100 },
    womenShare,
    policy: DEFAULT_POLICY.width,
  })
  for (const [index, { seatWidthMm, share }] of widths.entries()) {
    // The slack of 40 mm (team policy) reaches below the smallest width only.
    const least = seatWidthsMm[index - 1] ?? seatWidthMm - 40.001
    const counted = hips.filter(hip => hip > least && hip <= seatWidthMm).length / hips.length
    expect(Math.abs(share - counted)).toBeLessThanOrEqual(0.03)
  }
})
