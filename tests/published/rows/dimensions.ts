import type { Person } from '../../../src/body/person.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { ChairModel } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { type Option, recommend } from '../../../src/fitting/recommend.ts'
import {
  catalogueOf,
  EXAMPLE_CHILD,
  EXAMPLE_FOLDING,
  WORKED_BOY,
  WORKED_MAN,
  WORKED_WOMAN,
} from '../../support/example-chairs.ts'
import type { PublishedRow } from './row.ts'

const WHO =
  'Rules derived from the WHO wheelchair service training package, basic level, 2012: width the widest of hips and thighs, depth thigh less 30 to 50, footrest calf less cushion, back and armrest plus cushion'
const TODAY = toCalendarDate('2026-11-25')

const best = (person: Person, model: unknown): Option => {
  const [option] = recommend(person, catalogueOf(model), DEFAULT_POLICY, TODAY).options
  if (!option) throw new Error('the worked example has no set-up')
  return option
}

/** Every size in steps of 5, so that what is chosen is what the rule wants. */
const range = (least: number, most: number): number[] =>
  Array.from({ length: (most - least) / 5 + 1 }, (_, index) => least + index * 5)
const FINE: ChairModel = {
  ...EXAMPLE_FOLDING,
  seatWidthsMm: range(300, 500),
  seatDepths: range(350, 500).map(valueMm => ({ key: `d${valueMm}`, valueMm })),
  backHeights: range(300, 520).map(valueMm => ({ key: `b${valueMm}`, valueMm })),
  footrest: { minMm: 300, maxMm: 420, stepMm: 5 },
  armrest: { minMm: 200, maxMm: 320, stepMm: 5 },
  cushions: [{ key: 'fifty', title: 'Fifty', loadedMm: 50, relief: 'basic', lifeMonths: 24 }],
}
const PLAIN: Person = {
  ...WORKED_MAN,
  hipWidthMm: 395,
  thighDepthLeftMm: 450,
  thighDepthRightMm: 450,
  calfLengthLeftMm: 430,
  calfLengthRightMm: 430,
  scapulaHeightMm: 420,
  ribHeightMm: 280,
  elbowHeightMm: 220,
  trunkNeed: 'free',
}

const row = (rule: string, what: string, expected: number, actual: () => number, tolerance = 0): PublishedRow => ({
  rule,
  source: WHO,
  standing: 'derived',
  what,
  expected,
  actual,
  tolerance,
  unit: 'mm',
})
const millimetres = (value: number | null): number => value ?? Number.NaN

/** Shortfall of the front rail for the foot-propelling woman in the high example chair: rail 478 less (365 - 40). */
const floorShort = (): number => {
  const rows = recommend(
    WORKED_WOMAN,
    catalogueOf({ ...EXAMPLE_FOLDING, seatDepths: [{ key: 'd360', valueMm: 360 }] }),
    DEFAULT_POLICY,
    TODAY,
  ).excluded
  return rows.find(one => one.rule === 'floor-out-of-reach')?.shortBy ?? Number.NaN
}

export const DIMENSION_ROWS: readonly PublishedRow[] = [
  row('seat width', 'hips 380, thighs 395: widest 395', 395, () => best(PLAIN, FINE).seatWidthMm),
  // 400 to 420 for a thigh of 450 (-30 to -50); the largest size that is right is taken.
  row('seat depth', 'thigh 450', 420, () => best(PLAIN, FINE).seatDepthMm),
  row('footrest', 'calf 430, cushion 50', 380, () => millimetres(best(PLAIN, FINE).footrestLeftMm)),
  row(
    'backrest',
    'free trunk, shoulder blade at 420, cushion 50, finger room 20',
    450,
    () => best(PLAIN, FINE).backHeightMm,
  ),
  row('armrest', 'elbow 220, cushion 50', 270, () => millimetres(best(PLAIN, FINE).armrestMm)),
  row('seat width', 'man, hips 380, sizes 360 to 480 by 30', 390, () => best(WORKED_MAN, EXAMPLE_FOLDING).seatWidthMm),
  row(
    'seat depth',
    'man, shorter thigh 495, sizes 400, 440, 480',
    440,
    () => best(WORKED_MAN, EXAMPLE_FOLDING).seatDepthMm,
  ),
  row('footrest', 'man, calf 445, foam 40: 405, step 20', 400, () =>
    millimetres(best(WORKED_MAN, EXAMPLE_FOLDING).footrestRightMm),
  ),
  row('armrest', 'man, elbow 245 + 40 = 285, step 20', 280, () =>
    millimetres(best(WORKED_MAN, EXAMPLE_FOLDING).armrestMm),
  ),
  // 478 - 400 cos 18 deg - 20 = 77.6
  row(
    'ground clearance',
    'man, rail 478, hanger 400 at 18 deg, drop 20',
    77.6,
    () => millimetres(best(WORKED_MAN, EXAMPLE_FOLDING).predicted.groundClearanceMm),
    0.05,
  ),
  row('seat height for a foot', 'small woman, calf 365, foam 40, rail 478: out of reach by', 153, floorShort),
  row('seat width', 'boy of 9, hips 250', 250, () => best(WORKED_BOY, EXAMPLE_CHILD).seatWidthMm),
  row('seat depth', 'boy of 9, thigh 350', 310, () => best(WORKED_BOY, EXAMPLE_CHILD).seatDepthMm),
  row('footrest', 'boy of 9, calf 345, foam 40', 305, () =>
    millimetres(best(WORKED_BOY, EXAMPLE_CHILD).footrestLeftMm),
  ),
  row(
    'backrest',
    'boy of 9, some support, shoulder blade 320 + 40',
    360,
    () => best(WORKED_BOY, EXAMPLE_CHILD).backHeightMm,
  ),
  row('armrest', 'boy of 9, elbow 175 + 40', 215, () => millimetres(best(WORKED_BOY, EXAMPLE_CHILD).armrestMm)),
]
