import { fillPressure, pressureFor, ROUGH_GROUND_KPA } from '../../../src/preparation/tyres.ts'
import { KPA_PER_PSI } from '../../../src/units.ts'
import type { PublishedRow } from './row.ts'

const COMMON = 'common practice, no source: pneumatic tyres for rough ground at 45 to 55 psi'

const targetKPa = (sidewall: { minKPa: number; maxKPa: number }): number => {
  const pressure = pressureFor(sidewall, 'rough')
  return pressure.type === 'pneumatic' ? pressure.targetKPa : Number.NaN
}

/** Tyre makers' figures in psi meet ours in kPa: 45 psi is 310.3 kPa, 55 psi is 379.2 kPa. */
export const ROUGH_GROUND_ROWS: readonly PublishedRow[] = [
  ['softest', 45, () => ROUGH_GROUND_KPA.least / KPA_PER_PSI] as const,
  ['hardest', 55, () => ROUGH_GROUND_KPA.most / KPA_PER_PSI] as const,
  ['target, sidewall 310 to 450 kPa', 50, () => targetKPa({ minKPa: 310, maxKPa: 450 }) / KPA_PER_PSI] as const,
  // The sidewall wins: 65 psi is the least that this tyre bears.
  ['target, sidewall 65 to 100 psi', 65, () => targetKPa({ minKPa: 448.2, maxKPa: 689.5 }) / KPA_PER_PSI] as const,
  ['target, sidewall 20 to 40 psi', 40, () => targetKPa({ minKPa: 137.9, maxKPa: 275.8 }) / KPA_PER_PSI] as const,
].map(([what, expected, actual]) => ({
  rule: 'rough-ground pressure',
  source: COMMON,
  standing: 'common practice',
  what,
  expected,
  actual,
  tolerance: 0.15, // kPa are rounded to tens
  unit: 'psi',
}))

const WIDE = { minKPa: 200, maxKPa: 700 }
const at = (celsius: number, altitudeM: number) => ({ celsius, altitudeM })
type Place = ReturnType<typeof at>

/** What to pump here for a pressure there: the gas law read backwards. */
const FILLS: readonly (readonly [there: number, here: Place, use: Place, expected: number, tolerance: number])[] = [
  // 450 kPa at 20 degC is 478 at 35; at 40 degC it is 397 at 10 (printed to 1 kPa); 476.6 at 2500 m (to 0.1 kPa).
  [478, at(20, 0), at(35, 0), 450, 0.6],
  [397, at(40, 0), at(10, 0), 450, 0.6],
  [476.6, at(20, 0), at(20, 2500), 450, 0.06],
]
export const FILL_ROWS: readonly PublishedRow[] = FILLS.map(([there, here, use, expected, tolerance]) => ({
  rule: 'pressure to fill',
  source:
    'Ideal gas at constant volume over the US Standard Atmosphere, 1976, ambient 101.325 kPa: worked apart from this project',
  standing: 'derived',
  what: `${there} kPa at ${use.celsius} degC ${use.altitudeM} m, filled at ${here.celsius} degC ${here.altitudeM} m`,
  expected,
  actual: () => fillPressure(WIDE, there, here, use).hereKPa,
  tolerance,
  unit: 'kPa',
}))
