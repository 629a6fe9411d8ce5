import { gaugePressureKPa, outsidePressureKPa } from '../../../src/gas-law.ts'
import { KPA_PER_PSI } from '../../../src/units.ts'
import type { PublishedRow } from './row.ts'

const ATMOSPHERE = 'ISO 2533:1975 Standard Atmosphere; US Standard Atmosphere, 1976 (constants), geopotential altitude'
const GAS_LAW =
  'Ideal gas at constant volume, p2 = (p1 + pa1) T2/T1 - pa2, over the US Standard Atmosphere, 1976: worked apart from this project'

/** Pa at m; the published equation with the published constants, evaluated elsewhere to 0.1 Pa. */
const PRESSURES_PA: readonly (readonly [altitudeM: number, pa: number])[] = [
  [0, 101_325],
  [500, 95_460.8],
  [1000, 89_874.6],
  [1500, 84_556.0],
  [2000, 79_495.2],
  [2500, 74_682.5],
  [3000, 70_108.5],
  [3500, 65_764.1],
  [4000, 61_640.2],
  [5000, 54_019.9],
]

export const ATMOSPHERE_ROWS: readonly PublishedRow[] = PRESSURES_PA.map(([altitudeM, pa]) => ({
  rule: 'standard atmosphere',
  source: ATMOSPHERE,
  standing: altitudeM === 0 ? 'read' : 'computed',
  what: `pressure at ${altitudeM} m`,
  expected: pa / 1000,
  actual: () => outsidePressureKPa(altitudeM),
  tolerance: 0.0001, // printed to 0.1 Pa
  unit: 'kPa',
}))

const at = (celsius: number, altitudeM: number) => ({ celsius, altitudeM })
const START = at(20, 0)
type Place = ReturnType<typeof at>

const movedPsi = (psi: number, from: Place, to: Place): number =>
  gaugePressureKPa({
    gaugeKPa: psi * KPA_PER_PSI,
    fromCelsius: from.celsius,
    toCelsius: to.celsius,
    fromAltitudeM: from.altitudeM,
    toAltitudeM: to.altitudeM,
  }) / KPA_PER_PSI

/** Gauge psi set at 20 degC at sea level, then: 0 degC; 40 degC; 2000 m; (set at 2000 m) 0 m; 3000 m and 5 degC. */
const MOVES: readonly (readonly [from: Place, to: Place])[] = [
  [START, at(0, 0)],
  [START, at(40, 0)],
  [START, at(20, 2000)],
  [at(20, 2000), at(20, 0)],
  [START, at(5, 3000)],
]
const MOVED_PSI: readonly (readonly [startPsi: number, ...moved: number[]])[] = [
  [50, 45.59, 54.41, 53.17, 46.83, 51.22],
  [65, 59.56, 70.44, 68.17, 61.83, 65.45],
  [100, 92.17, 107.83, 103.17, 96.83, 98.66],
]

const movedRows: readonly PublishedRow[] = MOVED_PSI.flatMap(([startPsi, ...moved]) =>
  MOVES.map(
    ([from, to], index): PublishedRow => ({
      rule: 'gas law',
      source: GAS_LAW,
      standing: 'computed',
      what: `${startPsi} psi from ${from.celsius} degC ${from.altitudeM} m to ${to.celsius} degC ${to.altitudeM} m`,
      expected: moved[index] ?? Number.NaN,
      actual: () => movedPsi(startPsi, from, to),
      tolerance: 0.006, // printed to 0.01 psi
      unit: 'psi',
    }),
  ),
)

const kPaRow = (expected: number, gaugeKPa: number, from: Place, to: Place, tolerance: number): PublishedRow => ({
  rule: 'gas law',
  source: GAS_LAW,
  standing: 'derived',
  what: `${gaugeKPa} kPa from ${from.celsius} degC ${from.altitudeM} m to ${to.celsius} degC ${to.altitudeM} m`,
  expected,
  actual: () =>
    gaugePressureKPa({
      gaugeKPa,
      fromCelsius: from.celsius,
      toCelsius: to.celsius,
      fromAltitudeM: from.altitudeM,
      toAltitudeM: to.altitudeM,
    }),
  tolerance,
  unit: 'kPa',
})

export const GAS_LAW_ROWS: readonly PublishedRow[] = [
  ...movedRows,
  // Printed to 1 kPa and to 0.1 kPa.
  kPaRow(478, 450, START, at(35, 0), 0.5),
  kPaRow(397, 450, at(40, 0), at(10, 0), 0.5),
  kPaRow(476.6, 450, START, at(20, 2500), 0.06),
]
