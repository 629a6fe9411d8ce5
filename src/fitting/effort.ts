import type { Ground } from '../body/person.ts'
import { STANDARD_GRAVITY_N_PER_KG, toRadians } from '../units.ts'

/**
 * Rolling resistance arm: force = load x arm / wheel radius. Project values from orders of magnitude recalled from memory
 * (0.010 on a hard floor to 0.05 on earth for a rear wheel of 305 mm); no table of absolute forces could be read. They
 * serve to compare set-ups, not to state a force to anyone.
 */
const ROLLING_ARM_MM: Readonly<Record<Ground, number>> = { smooth: 3, mixed: 6, rough: 15 }

/** Rear wheels' share of the load on a slope: 1 - (x - h tan s) / L, uphill positive. */
export const rearLoadShare = (comAheadMm: number, comHeightMm: number, wheelbaseMm: number, slopeDeg = 0): number =>
  1 - (comAheadMm - comHeightMm * Math.tan(toRadians(slopeDeg))) / wheelbaseMm

/** Force on a slope without rolling: m g sin s, N. 90 kg on 1:12 gives 73 N. */
export const slopeForceN = (totalKg: number, slopeDeg: number): number =>
  totalKg * STANDARD_GRAVITY_N_PER_KG * Math.sin(toRadians(slopeDeg))

export interface EffortInputs {
  readonly totalKg: number
  readonly comAheadMm: number
  readonly comHeightMm: number
  readonly wheelbaseMm: number
  readonly rearWheelRadiusMm: number
  readonly casterRadiusMm: number
  readonly ground: Ground
  readonly slopeDeg?: number
}

/** Force at steady slow speed, both hands together, N; downhill (slope negative) what the hands must hold back. */
export const pushForceN = (inputs: EffortInputs): number => {
  const slope = inputs.slopeDeg ?? 0
  const share = rearLoadShare(inputs.comAheadMm, inputs.comHeightMm, inputs.wheelbaseMm, slope)
  const coefficient =
    ROLLING_ARM_MM[inputs.ground] * (share / inputs.rearWheelRadiusMm + (1 - share) / inputs.casterRadiusMm)
  const rolling = inputs.totalKg * STANDARD_GRAVITY_N_PER_KG * Math.cos(toRadians(slope)) * coefficient
  return rolling + slopeForceN(inputs.totalKg, slope)
}

/** Moment that turns the chair downhill on a cross slope: m g sin(beta) x, N mm. */
export const downhillTurningNmm = (totalKg: number, crossSlopeDeg: number, comAheadMm: number): number =>
  slopeForceN(totalKg, crossSlopeDeg) * comAheadMm
