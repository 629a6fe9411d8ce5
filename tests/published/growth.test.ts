import { describe, expect, it } from 'vitest'
import {
  FORECAST_ROWS,
  FORMULA_ROWS,
  GROWTH_TABLE_ROWS,
  LINE_ROWS,
  PEAK_ROWS,
  peakGainCm,
  Z_ROWS,
} from './rows/growth.ts'

describe.each([
  ['growth tables (WHO 2006, WHO 2007)', GROWTH_TABLE_ROWS],
  ['official z-scores (WHO)', Z_ROWS],
  ['lines of constant z (WHO 2007)', LINE_ROWS],
  ['LMS formula (Cole & Green 1992, WHO weights)', FORMULA_ROWS],
  ['age at peak height velocity (Abbassi 1998)', PEAK_ROWS],
  ['growth forecast (worked from WHO 2007 and Snyder 1977)', FORECAST_ROWS],
] as const)('%s', (_, rows) => {
  it.each(rows)('$what is $expected $unit', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})

describe('peak height velocity (Abbassi, Pediatrics 1998;102:507-11: boys 9.5 cm/year, girls 8.3)', () => {
  it.each([
    ['male', 9.5],
    ['female', 8.3],
  ] as const)('%s: within reach of a pace between 0.5 and 1.5 of the median', (sex, cmPerYear) => {
    const pace = cmPerYear / peakGainCm(sex)
    expect(pace).toBeGreaterThan(1)
    expect(pace).toBeLessThan(1.5)
  })
})
