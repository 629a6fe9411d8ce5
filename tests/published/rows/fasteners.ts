import { acrossFlatsMm, proofLoadKN, stressAreaMm2, torqueBound } from '../../../src/preparation/fasteners.ts'
import type { PublishedRow } from './row.ts'

const FLATS = 'ISO 4014:2011 / ISO 4017:2014, widths across flats s (after ISO 272:1982)'
const OLDER_FLATS = 'DIN 931-1:1987 / DIN 933:1987, widths across flats s'

/** Thread, across flats by ISO, by the older DIN. */
const WIDTHS: readonly (readonly [thread: string, isoMm: number, olderMm: number])[] = [
  ['M5', 8, 8],
  ['M6', 10, 10],
  ['M8', 13, 13],
  ['M10', 16, 17],
  ['M12', 18, 19],
  ['M14', 21, 22],
  ['M16', 24, 24],
]

const flatsRow = (thread: string, standard: 'iso' | 'olderDin', expected: number): PublishedRow => ({
  rule: 'spanner size',
  source: standard === 'iso' ? FLATS : OLDER_FLATS,
  standing: 'read',
  what: `${thread} across flats, ${standard === 'iso' ? 'ISO' : 'older DIN'}`,
  expected,
  actual: () => acrossFlatsMm(thread, standard) ?? Number.NaN,
  tolerance: 0,
  unit: 'mm',
})

export const SPANNER_ROWS: readonly PublishedRow[] = WIDTHS.flatMap(([thread, isoMm, olderMm]) => [
  flatsRow(thread, 'iso', isoMm),
  flatsRow(thread, 'olderDin', olderMm),
])

const STRENGTH = 'EN ISO 898-1:2013, nominal stress area and proof stress, coarse thread'
/** mm2, printed to three figures. */
const AREAS: readonly (readonly [thread: string, areaMm2: number, tolerance: number])[] = [
  ['M5', 14.2, 0.05],
  ['M6', 20.1, 0.05],
  ['M8', 36.6, 0.05],
  ['M10', 58, 0.05],
  ['M12', 84.3, 0.05],
  ['M16', 157, 0.5],
]
export const STRESS_AREA_ROWS: readonly PublishedRow[] = AREAS.map(([thread, expected, tolerance]) => ({
  rule: 'stress area',
  source: STRENGTH,
  standing: 'read',
  what: `${thread} stress area`,
  expected,
  actual: () => stressAreaMm2(thread) ?? Number.NaN,
  tolerance,
  unit: 'mm2',
}))

/** kN for class 8.8: proof stress 580 MPa times the printed stress area. */
const PROOF_LOADS: readonly (readonly [thread: string, loadKN: number])[] = [
  ['M6', 11.7],
  ['M8', 21.2],
  ['M10', 33.6],
  ['M12', 48.9],
]
/** Proof stress by class, MPa, on one thread: M8, 36.6 mm2. */
const PROOF_STRESSES: readonly (readonly [propertyClass: string, proofMPa: number])[] = [
  ['4.6', 225],
  ['4.8', 310],
  ['5.6', 280],
  ['5.8', 380],
  ['6.8', 440],
  ['8.8', 580],
  ['9.8', 650],
  ['10.9', 830],
  ['12.9', 970],
]
export const PROOF_LOAD_ROWS: readonly PublishedRow[] = [
  ...PROOF_LOADS.map(
    ([thread, expected]): PublishedRow => ({
      rule: 'proof load',
      source: STRENGTH,
      standing: 'derived',
      what: `${thread} class 8.8 proof load`,
      expected,
      actual: () => proofLoadKN(thread, '8.8') ?? Number.NaN,
      tolerance: 0.05, // printed to 0.1 kN
      unit: 'kN',
    }),
  ),
  ...PROOF_STRESSES.map(
    ([propertyClass, proofMPa]): PublishedRow => ({
      rule: 'proof load',
      source: STRENGTH,
      standing: 'derived',
      what: `M8 class ${propertyClass} proof load`,
      expected: (proofMPa * 36.6) / 1000,
      actual: () => proofLoadKN('M8', propertyClass) ?? Number.NaN,
      tolerance: (proofMPa * 0.05) / 1000, // the area is printed to 0.1 mm2
      unit: 'kN',
    }),
  ),
]

/** N m for class 8.8 as fastener makers print it; the friction they print it for; how close a bound must come. */
const TORQUES: readonly (readonly [source: string, share: number, values: Readonly<Record<string, number>>])[] = [
  // Bearing faces and holes of the table are not printed: 3 %.
  ["a fastener maker's printed table, class 8.8, friction 0.12", 0.03, { M6: 9.9, M8: 24, M12: 85 }],
  // Printed for a little more friction, or for friction not told: 5 %.
  ["a fastener maker's printed table, class 8.8, friction 0.14", 0.05, { M6: 10, M8: 25, M12: 85 }],
  ["another fastener maker's printed table, class 8.8", 0.05, { M6: 10.4, M8: 25, M12: 86 }],
]
export const TORQUE_ROWS: readonly PublishedRow[] = TORQUES.flatMap(([source, share, values]) =>
  Object.entries(values).map(
    ([thread, expected]): PublishedRow => ({
      rule: 'torque bound',
      source,
      standing: 'read',
      what: `${thread} class 8.8, ${source}`,
      expected,
      actual: () => torqueBound(thread, '8.8')?.torqueNm ?? Number.NaN,
      tolerance: expected * share,
      unit: 'N m',
    }),
  ),
)
