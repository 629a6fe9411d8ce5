import { describe, expect, it } from 'vitest'
import { MEASUREMENT_ROWS, NORMAL_ROWS, QUANTILE_ROWS, SURVIVAL_ROWS, WILSON_ROWS } from './rows/statistics.ts'

describe.each([
  ['proportions (Newcombe 1998)', WILSON_ROWS],
  ['lifetimes (Freireich 1963; Gehan 1965)', SURVIVAL_ROWS],
  ['quartiles (Hyndman and Fan 1996)', QUANTILE_ROWS],
  ['agreement of measurers (Ulijaszek and Kerr 1999)', MEASUREMENT_ROWS],
  ['the normal distribution', NORMAL_ROWS],
])('%s', (_what, rows) => {
  it.each(rows)('$rule: $what', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})
