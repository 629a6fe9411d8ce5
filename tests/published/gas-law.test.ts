import { describe, expect, it } from 'vitest'
import { ATMOSPHERE_ROWS, GAS_LAW_ROWS } from './rows/gas-law.ts'

describe.each([
  ['standard atmosphere (ISO 2533; US Standard Atmosphere, 1976)', ATMOSPHERE_ROWS],
  ['gas law at constant volume', GAS_LAW_ROWS],
] as const)('%s', (_, rows) => {
  it.each(rows)('$what is $expected $unit', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})
