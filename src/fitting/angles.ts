import { toDegrees } from '../units.ts'
import type { LoadedFrame, OnWheels, Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import { elbowIncludedAngleDeg, type ReachInputs, reachDistanceMm, rimLateralMm } from './reach.ts'
import {
  antiTipDeg,
  comparableDeg,
  forwardTipDeg,
  insideSide,
  MEASURED_COM_ERROR_MM,
  rearTyrePivotDeg,
  sidewaysTipDeg,
  type TipAngle,
  tipAngles,
} from './stability.ts'

const AXLE_ERROR_MM = 3
const CASTER_ERROR_MM = 5

/** A centre of mass measured with two scales at fitting replaces the model's. */
export interface MeasuredCentre {
  readonly comAheadOfAxleMm: number
}

/** Rearward and forward angles with one axle position: they do not depend on the seat width. */
export interface AxleAngles {
  readonly rearTyrePivotDeg: TipAngle
  readonly rearAxlePivotDeg: TipAngle
  readonly forwardDeg: TipAngle
  readonly antiTipDeg: TipAngle | null
  /** Lowest over load cases and segment sets, less the policy's number of standard errors. */
  readonly gate: { readonly rearwardDeg: number; readonly forwardDeg: number }
  /** What the rearward gate is made of: the centre as counted (measured where it was), the lowest case, one error of it. */
  readonly rearward: { readonly comAheadMm: number; readonly lowestDeg: number; readonly errorDeg: number }
  readonly errors: { readonly rearTyrePivotDeg: number; readonly rearAxlePivotDeg: number; readonly forwardDeg: number }
}

export interface WidthAngles {
  readonly sidewaysDeg: TipAngle
  readonly elbowDeg: number | 'outOfReach' | null
  readonly gate: { readonly sidewaysDeg: number }
  readonly errors: { readonly sidewaysDeg: number; readonly elbowDeg: number | null }
}

/** d atan(u / h) for shifts of u and h, degrees. */
const turned = (u: number, h: number, du: number, dh: number): number => toDegrees((h * du - u * dh) / (u * u + h * h))

const half = (a: TipAngle, b: TipAngle | undefined): number =>
  typeof a === 'number' && typeof b === 'number' ? Math.abs(a - b) / 2 : 0

/** The lower of two answers, the shown one being what a person is told. */
const lower = (a: TipAngle, b: TipAngle | undefined): TipAngle =>
  b !== undefined && comparableDeg(b) < comparableDeg(a) ? b : a

export const axleAngles = (
  frame: LoadedFrame,
  wheels: OnWheels,
  policy: Policy,
  measured?: MeasuredCentre,
): AxleAngles => {
  const { model } = frame
  const tip = (one: { comAheadMm: number; comHeightMm: number; comLeftMm: number }) =>
    tipAngles({
      comAheadOfAxleMm: measured?.comAheadOfAxleMm ?? one.comAheadMm,
      comHeightMm: one.comHeightMm,
      comLeftMm: 0,
      rearWheelRadiusMm: model.rearWheelRadiusMm,
      wheelbaseMm: wheels.wheelbaseMm,
      rearTrackMm: 1,
      frontTrackMm: 1,
    })
  const antiTipMm = model.antiTip ? wheels.axleXMm - model.antiTip.xMm : undefined
  const [x, h] = [measured?.comAheadOfAxleMm ?? wheels.comAheadMm, wheels.comHeightMm]
  let [rear, rearGate, axlePivot, forward] = [0, 0, 0, 0]
  const aroundMm = x + (antiTipMm ?? 0)
  const add = (dx: number, dh: number): void => {
    rear += turned(x, h, dx, dh) ** 2
    rearGate += turned(aroundMm, h, dx, dh) ** 2
    if (h > model.rearWheelRadiusMm) axlePivot += turned(x, h - model.rearWheelRadiusMm, dx, dh) ** 2
    forward += turned(wheels.wheelbaseMm - x, h, -dx, dh) ** 2
  }
  if (measured) {
    add(MEASURED_COM_ERROR_MM, 0)
    for (const shift of frame.shifts) add(0, shift.zMm)
  } else {
    for (const shift of frame.shifts) add(shift.xMm, shift.zMm)
    const axle = turned(x, h, AXLE_ERROR_MM, 0) ** 2
    rear += axle
    rearGate += antiTipMm === undefined ? axle : 0
    if (h > model.rearWheelRadiusMm) axlePivot += turned(x, h - model.rearWheelRadiusMm, AXLE_ERROR_MM, 0) ** 2
  }
  forward += turned(wheels.wheelbaseMm - x, h, CASTER_ERROR_MM, 0) ** 2
  const shown = tip(wheels)
  const childCase = frame.childCase === undefined ? undefined : wheels.cases[frame.childCase]
  const child = childCase && tip(childCase)
  const childRear = half(shown.rearTyrePivotDeg, child?.rearTyrePivotDeg)
  const childForward = half(shown.forwardDeg, child?.forwardDeg)
  const errors = {
    rearTyrePivotDeg: Math.sqrt(rear) + childRear,
    rearAxlePivotDeg: Math.sqrt(axlePivot) + half(shown.rearAxlePivotDeg, child?.rearAxlePivotDeg),
    forwardDeg: Math.sqrt(forward) + childForward,
  }
  let [leastRear, leastForward] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (const one of wheels.cases) {
    // A search asks this thousands of times: only the two angles that are gated.
    const aheadMm = measured?.comAheadOfAxleMm ?? one.comAheadMm
    const tyre = comparableDeg(rearTyrePivotDeg(aheadMm, one.comHeightMm))
    const about = antiTipMm === undefined ? tyre : comparableDeg(antiTipDeg(aheadMm + antiTipMm, one.comHeightMm))
    leastRear = Math.min(leastRear, Math.max(tyre, about))
    leastForward = Math.min(leastForward, comparableDeg(forwardTipDeg(aheadMm, one.comHeightMm, wheels.wheelbaseMm)))
  }
  const times = policy.angles.standardErrors
  const errorDeg = antiTipMm === undefined ? errors.rearTyrePivotDeg : Math.sqrt(rearGate) + childRear
  return {
    rearTyrePivotDeg: lower(shown.rearTyrePivotDeg, child?.rearTyrePivotDeg),
    rearAxlePivotDeg: lower(shown.rearAxlePivotDeg, child?.rearAxlePivotDeg),
    forwardDeg: lower(shown.forwardDeg, child?.forwardDeg),
    antiTipDeg: antiTipMm === undefined ? null : antiTipDeg(aroundMm, h),
    gate: {
      rearwardDeg: leastRear - times * errorDeg,
      forwardDeg: leastForward - times * errors.forwardDeg,
    },
    rearward: { comAheadMm: x, lowestDeg: leastRear, errorDeg },
    errors,
  }
}

export const widthAngles = (
  sitter: Sitter,
  needs: Needs,
  frame: LoadedFrame,
  wheels: OnWheels,
  seatWidthMm: number,
  policy: Policy,
): WidthAngles => {
  const { model } = frame
  const sideways = (one: { comAheadMm: number; comHeightMm: number; comLeftMm: number }) =>
    sidewaysTipDeg({
      comAheadOfAxleMm: one.comAheadMm,
      comHeightMm: one.comHeightMm,
      comLeftMm: one.comLeftMm,
      rearWheelRadiusMm: model.rearWheelRadiusMm,
      wheelbaseMm: wheels.wheelbaseMm,
      rearTrackMm: seatWidthMm + model.rearTrackAddMm,
      frontTrackMm: seatWidthMm + model.frontTrackAddMm,
    })
  const inputs = {
    comAheadOfAxleMm: wheels.comAheadMm,
    comHeightMm: wheels.comHeightMm,
    comLeftMm: wheels.comLeftMm,
    rearWheelRadiusMm: model.rearWheelRadiusMm,
    wheelbaseMm: wheels.wheelbaseMm,
    rearTrackMm: seatWidthMm + model.rearTrackAddMm,
    frontTrackMm: seatWidthMm + model.frontTrackAddMm,
  }
  const inside = Math.min(insideSide(inputs, 1), insideSide(inputs, -1))
  let variance = 0
  for (const shift of frame.shifts) variance += turned(inside, wheels.comHeightMm, shift.yMm, shift.zMm) ** 2
  const shown = sideways(wheels)
  const childCase = frame.childCase === undefined ? undefined : wheels.cases[frame.childCase]
  const child = childCase && sideways(childCase)
  const error = Math.sqrt(variance) + half(shown, child)
  let least = Number.POSITIVE_INFINITY
  for (const one of wheels.cases) least = Math.min(least, comparableDeg(sideways(one)))
  const elbow = needs.usesRims ? elbowOf(sitter, frame, wheels, seatWidthMm) : { deg: null, errorDeg: null }
  return {
    sidewaysDeg: lower(shown, child),
    elbowDeg: elbow.deg,
    gate: { sidewaysDeg: least - policy.angles.standardErrors * error },
    errors: { sidewaysDeg: error, elbowDeg: elbow.errorDeg },
  }
}

/** The arm from shoulder to the top of the push rim. */
export const reachOf = (
  { body }: Sitter,
  { model }: LoadedFrame,
  wheels: OnWheels,
  seatWidthMm: number,
): ReachInputs => ({
  shoulderXMm: wheels.shoulder.xMm,
  shoulderZMm: wheels.shoulder.zMm,
  gripXMm: wheels.axleXMm,
  gripZMm: model.rearWheelRadiusMm + model.pushrimRadiusMm,
  lateralMm: rimLateralMm(seatWidthMm, model.rearTrackAddMm, body.biacromialMm),
  upperArmMm: body.upperArmLinkMm,
  forearmGripMm: body.forearmLinkMm,
})

const elbowOf = (
  sitter: Sitter,
  frame: LoadedFrame,
  wheels: OnWheels,
  seatWidthMm: number,
): { deg: number | 'outOfReach'; errorDeg: number | null } => {
  const { body } = sitter
  const reach = reachOf(sitter, frame, wheels, seatWidthMm)
  const deg = elbowIncludedAngleDeg(reach)
  if (deg === 'outOfReach') return { deg, errorDeg: null }
  const [a, b, d] = [reach.upperArmMm, reach.forearmGripMm, reachDistanceMm(reach)]
  const sine = Math.sin((deg * Math.PI) / 180)
  const [ux, uz] = [(reach.shoulderXMm - reach.gripXMm) / d, (reach.shoulderZMm - reach.gripZMm) / d]
  // Law of cosines differentiated by distance and by each link.
  const perDistance = d / (a * b * sine)
  let variance = (perDistance * ux * AXLE_ERROR_MM) ** 2
  for (const shift of frame.shifts) variance += (perDistance * (ux * shift.shoulderXMm + uz * shift.shoulderZMm)) ** 2
  const perUpperArm = (a * a - b * b + d * d) / (2 * a * a * b * sine)
  const perForearm = (b * b - a * a + d * d) / (2 * a * b * b * sine)
  variance += (perUpperArm ** 2 + perForearm ** 2) * body.errors.armLinkMm ** 2
  return { deg, errorDeg: toDegrees(Math.sqrt(variance)) }
}
