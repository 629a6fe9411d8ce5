import { describe, expect, it } from 'vitest'
import { torqueBound } from '../../src/preparation/fasteners.ts'
import { PROOF_LOAD_ROWS, SPANNER_ROWS, STRESS_AREA_ROWS, TORQUE_ROWS } from './rows/fasteners.ts'

describe.each([
  ['widths across flats (ISO 4014/4017 after ISO 272; DIN 931/933)', SPANNER_ROWS],
  ['stress areas (EN ISO 898-1:2013)', STRESS_AREA_ROWS],
  ['proof loads (EN ISO 898-1:2013)', PROOF_LOAD_ROWS],
  ["upper torque bounds (fastener makers' printed tables)", TORQUE_ROWS],
] as const)('%s', (_, rows) => {
  it.each(rows)('$what is $expected $unit', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})

// EN ISO 898-1:2013: a preload above the proof load stretches the bolt for good. Loads for class 8.8 in kN.
it.each([
  ['M6', 11.7],
  ['M8', 21.2],
  ['M10', 33.6],
  ['M12', 48.9],
])('the torque bound of %s pulls it less than its proof load of %d kN', (thread, proofKN) => {
  const preloadKN = torqueBound(thread, '8.8')?.preloadKN ?? Number.NaN
  expect(preloadKN).toBeGreaterThan(0)
  expect(preloadKN).toBeLessThan(proofKN)
})
