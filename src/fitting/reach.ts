import { toDegrees } from '../units.ts'

export interface ReachInputs {
  readonly shoulderXMm: number
  readonly shoulderZMm: number
  readonly gripXMm: number
  readonly gripZMm: number
  /** How far the rim lies outside the shoulder. */
  readonly lateralMm: number
  /** Link from shoulder joint to elbow joint. */
  readonly upperArmMm: number
  /** Link from elbow joint to grip. */
  readonly forearmGripMm: number
}

/** Straight distance from shoulder to grip, sideways offset included. */
export const reachDistanceMm = (inputs: ReachInputs): number =>
  Math.hypot(inputs.shoulderXMm - inputs.gripXMm, inputs.shoulderZMm - inputs.gripZMm, inputs.lateralMm)

/**
 * Included elbow angle of two links from shoulder to the top of the rim, by the law of cosines; 180 is a straight arm.
 * `outOfReach` where the links cannot span the distance. The window wanted, 100 to 120, is from *Preservation of upper
 * limb function following spinal cord injury* 2005, fig. 2, whose caption says flexion but whose figure is this angle.
 */
export const elbowIncludedAngleDeg = (inputs: ReachInputs): number | 'outOfReach' => {
  const { upperArmMm: a, forearmGripMm: b } = inputs
  const d = reachDistanceMm(inputs)
  if (a <= 0 || b <= 0 || d >= a + b || d <= Math.abs(a - b)) return 'outOfReach'
  return toDegrees(Math.acos((a * a + b * b - d * d) / (2 * a * b)))
}

/** The rim lies this far outside the shoulder: half of rim track less half of biacromial breadth, not below 0. */
export const rimLateralMm = (seatWidthMm: number, rearTrackAddMm: number, biacromialMm: number): number =>
  Math.max(0, (seatWidthMm + rearTrackAddMm - biacromialMm) / 2)
