import { bodyOf } from '../../../src/body/measurements.ts'
import type { Load, Person } from '../../../src/body/person.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { ChairModel } from '../../../src/chair/chair-model.ts'
import { evaluateSetUp } from '../../../src/fitting/evaluate.ts'
import { sitterOf } from '../../../src/fitting/loaded-chair.ts'
import { needsOf } from '../../../src/fitting/needs.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { comparableDeg } from '../../../src/fitting/stability.ts'
import { EXAMPLE_FOLDING, WORKED_MAN } from '../../support/example-chairs.ts'
import type { PublishedRow } from './row.ts'

/**
 * What a change moves the angles by, from a separate implementation of the same statics run over ANSUR II bodies on a
 * folding chair of the same geometry (its masses were not kept, hence tolerances of about a fifth).
 */
const SEPARATE =
  'A separate implementation of the statics over ANSUR II 2012 bodies (NATICK/TR-15/007), folding chair 445/478, wheels 305'

interface Case {
  readonly person?: Partial<Person>
  readonly model?: Partial<ChairModel>
  readonly loads?: readonly Load[]
  readonly axleMm?: number
  readonly raiseMm?: number
}

const anglesOf = (change: Case) => {
  const axle = { key: 'here', xMm: 35 + (change.axleMm ?? 0), raiseMm: change.raiseMm ?? 0 }
  const model: ChairModel = { ...EXAMPLE_FOLDING, axlePositions: [axle], referenceAxle: 'here', ...change.model }
  const person: Person = {
    ...WORKED_MAN,
    statureMm: 1755,
    massKg: 80,
    ...change.person,
    ...(change.loads ? { loads: [...change.loads] } : {}),
  }
  const { body } = bodyOf(person, toCalendarDate('2026-11-25'))
  const [depth, height, back, cushion] = [
    model.seatDepths[1],
    model.seatHeights[0],
    model.backHeights[3],
    model.cushions[0],
  ]
  if (!body || !depth || !height || !back || !cushion) throw new Error('the example chair is not whole')
  const sitter = sitterOf(person, body)
  const setUp = {
    model,
    seatWidthMm: 390,
    depth,
    height,
    axle,
    back,
    cushion,
    footrestLeftMm: 400,
    footrestRightMm: 400,
    armrestMm: 280,
  }
  const { axleAngles, widthAngles } = evaluateSetUp(
    sitter,
    needsOf(person, body, DEFAULT_POLICY),
    setUp,
    DEFAULT_POLICY,
  )
  return {
    locked: comparableDeg(axleAngles.rearTyrePivotDeg),
    unlocked: comparableDeg(axleAngles.rearAxlePivotDeg),
    forward: comparableDeg(axleAngles.forwardDeg),
    elbow: typeof widthAngles.elbowDeg === 'number' ? widthAngles.elbowDeg : Number.NaN,
    errors: { ...axleAngles.errors, elbowDeg: widthAngles.errors.elbowDeg ?? Number.NaN },
  }
}

type Angle = 'locked' | 'unlocked' | 'forward' | 'elbow'
const moves = (what: string, angle: Angle, expected: number, change: Case, tolerance: number): PublishedRow => ({
  rule: 'what moves the angles',
  source: SEPARATE,
  standing: 'computed',
  what: `${what}: ${angle}`,
  expected,
  actual: () => anglesOf(change)[angle] - anglesOf({})[angle],
  tolerance,
  unit: 'deg',
})
const [foam] = EXAMPLE_FOLDING.cushions
if (!foam) throw new Error('the example chair has no cushion')
const thicker = { cushions: [{ ...foam, loadedMm: 50 }] }

const error = (
  what: 'rearTyrePivotDeg' | 'rearAxlePivotDeg' | 'forwardDeg' | 'elbowDeg',
  expected: number,
  tolerance: number,
): PublishedRow => ({
  rule: 'standard errors',
  source: `${SEPARATE}: Monte Carlo of all input errors, man 1755 mm, 80 kg, arms measured`,
  standing: 'computed',
  what,
  expected,
  actual: () => anglesOf({ person: { upperArmMm: 363, forearmGripMm: 349 } }).errors[what],
  tolerance,
  unit: 'deg',
})

export const SENSITIVITY_ROWS: readonly PublishedRow[] = [
  moves('axle 10 mm forward', 'locked', -0.79, { axleMm: 10 }, 0.08),
  moves('axle 10 mm forward', 'unlocked', -1.3, { axleMm: 10 }, 0.13),
  moves('cushion 10 mm thicker', 'locked', -0.18, { model: thicker }, 0.05),
  moves('cushion 10 mm thicker', 'unlocked', -0.45, { model: thicker }, 0.1),
  moves('cushion 10 mm thicker', 'elbow', 2.8, { model: thicker }, 0.4),
  moves('shoulder 10 mm higher', 'elbow', 2.7, { person: { shoulderHeightMm: 610 } }, 0.4),
  moves('thigh 10 mm longer', 'locked', 0.13, { person: { thighDepthLeftMm: 510, thighDepthRightMm: 505 } }, 0.04),
  moves('back sag of 25 mm', 'locked', -1.6, { model: { backSagMm: 25 } }, 0.2),
  moves('back sag of 25 mm', 'unlocked', -2.6, { model: { backSagMm: 25 } }, 0.3),
  moves('5 kg on the handles', 'locked', -1.1, { loads: [{ massKg: 5, at: 'handles' }] }, 0.25),
  moves('10 kg on the handles', 'locked', -2.2, { loads: [{ massKg: 10, at: 'handles' }] }, 0.45),
  moves('hole 40 mm higher', 'locked', -3.3, { raiseMm: 40 }, 0.8),
  moves('hole 40 mm higher', 'unlocked', -4.9, { raiseMm: 40 }, 1),
  moves('hole 40 mm higher', 'forward', 5.7, { raiseMm: 40 }, 0.8),
  error('rearTyrePivotDeg', 1.3, 0.1),
  error('rearAxlePivotDeg', 2.1, 0.2),
  error('forwardDeg', 1.3, 0.15),
  error('elbowDeg', 4.5, 0.7),
]
