import { describe, expect, it } from 'vitest'
import { pressureTexts } from '../../src/preparation/tyres.ts'
import { FILL_ROWS, ROUGH_GROUND_ROWS } from './rows/tyres.ts'

describe.each([
  ['rough-ground pressures (common practice, no source)', ROUGH_GROUND_ROWS],
  ['pressure to fill (gas law, US Standard Atmosphere 1976)', FILL_ROWS],
] as const)('%s', (_, rows) => {
  it.each(rows)('$what is $expected $unit', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})

// NIST SP 811 (2008), table B.8: 1 psi = 6.894757 kPa; 1 bar = 100 kPa.
it.each([
  [689.5, { kPa: '690 kPa', bar: '6.9 bar', psi: '100 psi' }],
  [344.7, { kPa: '345 kPa', bar: '3.4 bar', psi: '50 psi' }],
  [172.4, { kPa: '172 kPa', bar: '1.7 bar', psi: '25 psi' }],
])('%d kPa reads on any gauge', (kPa, texts) => {
  expect(pressureTexts(kPa)).toEqual(texts)
})
