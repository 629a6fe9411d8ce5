import type { ResolvedSetUp } from '../chair/set-up.ts'
import type { DrawnBody } from './drawn-body.ts'
import type { Evaluation } from './evaluate.ts'
import { type Sitter, turnAboutCaster } from './loaded-chair.ts'
import type { Policy } from './policy.ts'
import { overallWidthMm } from './rules.ts'
import { comparableDeg, insideSide, sideTipDeg, type TipAngle, type TipInputs } from './stability.ts'

/** One side's tipping line and angle. `yMm` to the left: where the line passes the mass centre, inside the wheel. */
export interface SideTip {
  readonly yMm: number
  readonly deg: TipAngle
}

/** From behind, on the ground: y to the left of the person, z up. Wheels without camber. */
export interface RearView {
  readonly seatWidthMm: number
  readonly seatZMm: number
  readonly cushionZMm: number
  readonly backTopZMm: number
  readonly hipWidthMm: number
  readonly hipZMm: number
  readonly shoulderWidthMm: number
  readonly shoulderZMm: number
  readonly headRadiusMm: number
  readonly armsOnRims: { readonly left: boolean; readonly right: boolean }
  readonly rearTrackMm: number
  readonly rearWheelRadiusMm: number
  readonly pushrimRadiusMm: number
  /** Outside of rim to outside of rim. */
  readonly chairWidthMm: number
  /** With the hands beside the rims: what a door must pass. */
  readonly widthWithHandsMm: number
  readonly doorMm: number | null
  readonly massCentre: { readonly yMm: number; readonly zMm: number }
  readonly left: SideTip
  readonly right: SideTip
  readonly errorDeg: number
}

export const rearView = (
  { body, person }: Sitter,
  setUp: ResolvedSetUp,
  { frame, wheels, widthAngles }: Evaluation,
  policy: Policy,
  backTopZMm: number,
  drawn: DrawnBody,
): RearView => {
  const { model, seatWidthMm } = setUp
  const { seat } = frame
  const height = (xMm: number, zMm: number): number => turnAboutCaster(model, wheels.turn, { xMm, zMm }).zMm
  const inputsOf = (one: { comAheadMm: number; comHeightMm: number; comLeftMm: number }): TipInputs => ({
    comAheadOfAxleMm: one.comAheadMm,
    comHeightMm: one.comHeightMm,
    comLeftMm: one.comLeftMm,
    rearWheelRadiusMm: model.rearWheelRadiusMm,
    wheelbaseMm: wheels.wheelbaseMm,
    rearTrackMm: seatWidthMm + model.rearTrackAddMm,
    frontTrackMm: seatWidthMm + model.frontTrackAddMm,
  })
  const childCase = frame.childCase === undefined ? undefined : wheels.cases[frame.childCase]
  const told = [wheels, ...(childCase ? [childCase] : [])].map(inputsOf)
  const usual = inputsOf(wheels)
  const tip = (side: 1 | -1): SideTip => ({
    yMm: wheels.comLeftMm + side * insideSide(usual, side),
    // The lower of the segment sets, as for every angle a person is told.
    deg: told
      .map(one => sideTipDeg(one, side))
      .reduce((least, one) => (comparableDeg(one) < comparableDeg(least) ? one : least)),
  })
  const hip = frame.joints.hip
  return {
    seatWidthMm,
    seatZMm: height(0, seat.rearMm),
    cushionZMm: height(0, seat.rearMm + seat.underSeatBonesMm),
    backTopZMm,
    hipWidthMm: body.hipWidthMm,
    hipZMm: height(hip.xMm, hip.zMm),
    shoulderWidthMm: body.biacromialMm,
    shoulderZMm: wheels.shoulder.zMm,
    headRadiusMm: drawn.head.radiusMm,
    armsOnRims: {
      left: drawn.arms.some(one => one.side === 'left' && one.onRim),
      right: drawn.arms.some(one => one.side === 'right' && one.onRim),
    },
    rearTrackMm: usual.rearTrackMm,
    rearWheelRadiusMm: model.rearWheelRadiusMm,
    pushrimRadiusMm: model.pushrimRadiusMm,
    chairWidthMm: seatWidthMm + model.overallWidthAddMm,
    widthWithHandsMm: overallWidthMm(model, seatWidthMm, policy),
    doorMm: person.narrowestDoorMm ?? null,
    massCentre: { yMm: wheels.comLeftMm, zMm: wheels.comHeightMm },
    left: tip(1),
    right: tip(-1),
    errorDeg: widthAngles.errors.sidewaysDeg,
  }
}
