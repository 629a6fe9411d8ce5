import { expect, it } from 'vitest'
import { ALLOCATION_ROWS } from './rows/allocation.ts'

it.each(ALLOCATION_ROWS)('$what: $expected $unit ($source)', ({ expected, actual, tolerance }) => {
  expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
})
