import { toDegrees } from '../units.ts'

/** An angle, or in words why there is none: the centre lies beyond the wheels, or below the axle it would turn about. */
export type TipAngle = number | 'outsideBase' | 'cannotTip'

export interface TipInputs {
  readonly comAheadOfAxleMm: number
  readonly comHeightMm: number
  readonly comLeftMm: number
  readonly rearWheelRadiusMm: number
  /** Rear axle to caster contact, casters trailing back. */
  readonly wheelbaseMm: number
  readonly rearTrackMm: number
  readonly frontTrackMm: number
}

export interface TipAngles {
  /** atan(x / h): brakes on, and whenever the hands drive the rims (uphill, starting). Policy gates on this one. */
  readonly rearTyrePivotDeg: TipAngle
  /** atan(x / (h - r)): the wheelie balance point. For technique; wheel mass sits on the axle and drops out. */
  readonly rearAxlePivotDeg: TipAngle
  /** atan((L - x) / h): casters trailing back, which is the worst forward; turned forward they add twice their trail. */
  readonly forwardDeg: TipAngle
  /** atan(distance inside the line from rear to caster contact / h), the lesser side. */
  readonly sidewaysDeg: TipAngle
}

const angle = (inside: number, height: number): TipAngle =>
  inside < 0 ? 'outsideBase' : toDegrees(Math.atan(inside / height))

/** Signed distance of the centre inside the left (1) or right (-1) side of the base; the sides are the lines between contacts. */
export const insideSide = (inputs: TipInputs, side: 1 | -1): number => {
  const taper = (inputs.frontTrackMm - inputs.rearTrackMm) / 2 / inputs.wheelbaseMm
  const edge = inputs.rearTrackMm / 2 + taper * inputs.comAheadOfAxleMm
  return (edge - side * inputs.comLeftMm) / Math.hypot(1, taper)
}

/** Sideways over the left (1) or right (-1) side: atan(distance inside that side / h). */
export const sideTipDeg = (inputs: TipInputs, side: 1 | -1): TipAngle =>
  angle(insideSide(inputs, side), inputs.comHeightMm)

/** Rearward about the tyre contacts: atan(x / h). */
export const rearTyrePivotDeg = (comAheadOfAxleMm: number, comHeightMm: number): TipAngle =>
  angle(comAheadOfAxleMm, comHeightMm)

/** Forward about the casters: atan((L - x) / h). */
export const forwardTipDeg = (comAheadOfAxleMm: number, comHeightMm: number, wheelbaseMm: number): TipAngle =>
  angle(wheelbaseMm - comAheadOfAxleMm, comHeightMm)

/** Sideways over the lesser side. */
export const sidewaysTipDeg = (inputs: TipInputs): TipAngle =>
  angle(Math.min(insideSide(inputs, 1), insideSide(inputs, -1)), inputs.comHeightMm)

/**
 * Tipping angles of a loaded chair on level ground: plane statics. Lengths mm (height and wheelbase above 0), angles deg.
 * Right for slow rolling and standing; a model's result with the errors of its inputs, never a promise.
 */
export const tipAngles = (inputs: TipInputs): TipAngles => {
  const { comAheadOfAxleMm: x, comHeightMm: h, rearWheelRadiusMm: r, wheelbaseMm: L } = inputs
  return {
    rearTyrePivotDeg: rearTyrePivotDeg(x, h),
    rearAxlePivotDeg: x < 0 ? 'outsideBase' : h <= r ? 'cannotTip' : toDegrees(Math.atan(x / (h - r))),
    forwardDeg: forwardTipDeg(x, h, L),
    sidewaysDeg: sidewaysTipDeg(inputs),
  }
}

/** For comparing with a least angle: outside the base fails every one, what cannot tip passes every one. */
export const comparableDeg = (value: TipAngle): number =>
  value === 'outsideBase' ? Number.NEGATIVE_INFINITY : value === 'cannotTip' ? Number.POSITIVE_INFINITY : value

/** With anti-tip wheels touching, the chair turns about them: atan((centre x - anti-tip x) / h). */
export const antiTipDeg = (comToAntiTipMm: number, comHeightMm: number): TipAngle => angle(comToAntiTipMm, comHeightMm)

/** Centre ahead of the axle from two scales under rear and front wheels, chair level, person seated: x = L (1 - rear / total). */
export const measuredComAheadMm = (wheelbaseMm: number, rearScalesKg: number, frontScalesKg: number): number =>
  wheelbaseMm * (frontScalesKg / (rearScalesKg + frontScalesKg))

/** Standard error of a measured centre, for scales read to 0.5 kg (fitting review, 1.13). */
export const MEASURED_COM_ERROR_MM = 3
