import type { LimbLoss, Side } from '../body/person.ts'
import type { Point } from '../body/seated-body.ts'
import { lossOn, remainingFractionOf } from '../body/segments.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import { toDegrees } from '../units.ts'
import { reachOf } from './angles.ts'
import type { Evaluation } from './evaluate.ts'
import { type Sitter, turnAboutCaster } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import { type ReachInputs, reachDistanceMm } from './reach.ts'
import { footByCaster } from './rules.ts'

/** A limb as the hull of two circles. */
export interface Limb {
  readonly from: Point
  readonly to: Point
  readonly fromRadiusMm: number
  readonly toRadiusMm: number
}

/** A leg as far as it is there. `prosthesis`: the parts of a worn one, drawn as a thing and not as the body. */
export interface DrawnLeg {
  readonly side: Side
  readonly limbs: readonly Limb[]
  readonly prosthesis: readonly Limb[]
  readonly onFloor: boolean
}

export interface DrawnArm {
  readonly side: Side
  readonly limbs: readonly Limb[]
  readonly onRim: boolean
}

export interface DrawnBody {
  readonly head: { readonly centre: Point; readonly radiusMm: number }
  readonly neck: Limb
  readonly trunk: Limb
  readonly legs: readonly DrawnLeg[]
  readonly arms: readonly DrawnArm[]
}

/** The elbow of an arm on the rim, as seen from the side. */
export interface DrawnElbow {
  readonly at: Point
  readonly shoulder: Point
  readonly grip: Point
  readonly deg: number | 'outOfReach'
  /** The same angle as it looks in the plane of the drawing: the rim lies outside the shoulder. */
  readonly seenDeg: number
  readonly errorDeg: number | null
}

/**
 * Shares of stature. Hip and thigh half-depths are those of the seated body (design: hip 0.073 H ahead of the back of the
 * buttocks and 0.048 H above the seat, knee 0.033 H beyond its fold), so that the drawn body lies on cushion and back. Neck,
 * head and foot: Drillis & Contini 1966 (shoulder 0.818, chin 0.870, foot 0.152), from memory; they carry no number here.
 * The other half-depths are project values.
 */
const SHARE = {
  pelvis: 0.07,
  shoulder: 0.05,
  neck: 0.026,
  neckLength: 0.052,
  neckForward: 0.016,
  head: 0.058,
  thigh: 0.048,
  knee: 0.034,
  ankle: 0.021,
  foot: 0.017,
  footLength: 0.152,
  heel: 0.04,
  sole: 0.039,
  upperArm: 0.026,
  elbow: 0.02,
  wrist: 0.016,
} as const

const between = (from: Point, to: Point, share: number): Point => ({
  xMm: from.xMm + share * (to.xMm - from.xMm),
  zMm: from.zMm + share * (to.zMm - from.zMm),
})

/** The side of a body from joints to outline, on the ground with the frame's turn. */
export const drawnBody = (sitter: Sitter, needs: Needs, evaluation: Evaluation, setUp: ResolvedSetUp): DrawnBody => {
  const { body, person } = sitter
  const { frame, wheels } = evaluation
  const H = body.statureMm
  const turned = (point: Point): Point => turnAboutCaster(frame.model, wheels.turn, point)
  const hip = turned(frame.joints.hip)
  const shoulder = wheels.shoulder
  // The head is held upright over the shoulders, however far the back leans.
  const chin = { xMm: shoulder.xMm + SHARE.neckForward * H, zMm: shoulder.zMm + SHARE.neckLength * H }
  return {
    head: { centre: { xMm: chin.xMm + 0.01 * H, zMm: chin.zMm + SHARE.head * H }, radiusMm: SHARE.head * H },
    neck: { from: shoulder, to: chin, fromRadiusMm: SHARE.neck * H, toRadiusMm: SHARE.neck * H },
    trunk: { from: hip, to: shoulder, fromRadiusMm: SHARE.pelvis * H, toRadiusMm: SHARE.shoulder * H },
    legs: (['left', 'right'] as const).map(side => legOf(sitter, needs, evaluation, side, hip)),
    arms: (['left', 'right'] as const).flatMap(side => {
      const lost = person.armLoss?.find(one => one.side === side)?.level
      return lost === 'whole-arm' ? [] : [armOf(sitter, needs, setUp, evaluation, side, lost === 'below-elbow')]
    }),
  }
}

/** Which parts of a leg are there, as shares of their length. */
const remainsOf = (loss: LimbLoss | undefined): { thigh: number; leg: number; foot: boolean } => {
  if (!loss) return { thigh: 1, leg: 1, foot: true }
  switch (loss.level) {
    case 'hip-disarticulation':
      return { thigh: 0, leg: 0, foot: false }
    case 'transfemoral':
      return { thigh: remainingFractionOf(loss), leg: 0, foot: false }
    case 'knee-disarticulation':
      return { thigh: 1, leg: 0, foot: false }
    case 'transtibial':
      return { thigh: 1, leg: remainingFractionOf(loss), foot: false }
    case 'ankle-disarticulation':
      return { thigh: 1, leg: 1, foot: false }
  }
}

const legOf = (sitter: Sitter, needs: Needs, { frame, wheels }: Evaluation, side: Side, hip: Point): DrawnLeg => {
  const { body, person } = sitter
  const H = body.statureMm
  const loss = lossOn(person.limbLoss, side)
  const onFloor = needs.foot[side] === 'propels'
  const turned = (point: Point): Point => turnAboutCaster(frame.model, wheels.turn, point)
  const knee = turned(frame.joints.knee[side])
  const onPlate = turned(frame.joints.ankle[side])
  const lowerLegMm = Math.hypot(onPlate.xMm - knee.xMm, onPlate.zMm - knee.zMm)
  const ankle = onFloor ? ankleOnFloor(knee, lowerLegMm, SHARE.sole * H + body.shoeSoleMm) : onPlate
  const heel = onFloor
    ? { xMm: ankle.xMm - SHARE.heel * H, zMm: ankle.zMm - SHARE.sole * H }
    : (({ heelXMm, soleZMm }) => ({ xMm: heelXMm, zMm: soleZMm }))(footByCaster(frame, wheels, side, H))
  // In the shoe: half of the sole's thickness is added to the foot's.
  const footRadius = SHARE.foot * H + body.shoeSoleMm / 2
  const inFoot = (alongShare: number): Point => ({
    xMm: heel.xMm + alongShare * H,
    zMm: heel.zMm - body.shoeSoleMm + footRadius,
  })
  const limb = (from: Point, to: Point, fromShare: number, toShare: number): Limb => ({
    from,
    to,
    fromRadiusMm: fromShare * H,
    toRadiusMm: toShare * H,
  })
  const whole = {
    thigh: limb(hip, knee, SHARE.thigh, SHARE.knee),
    leg: limb(knee, ankle, SHARE.knee, SHARE.ankle),
    foot: [
      { from: ankle, to: inFoot(SHARE.heel), fromRadiusMm: SHARE.ankle * H, toRadiusMm: footRadius },
      {
        from: inFoot(SHARE.foot),
        to: inFoot(SHARE.footLength - SHARE.foot),
        fromRadiusMm: footRadius,
        toRadiusMm: footRadius * 0.8,
      },
    ],
  }
  const cut = (one: Limb, share: number): Limb => ({
    ...one,
    to: between(one.from, one.to, share),
    toRadiusMm: one.fromRadiusMm + share * (one.toRadiusMm - one.fromRadiusMm),
  })
  const remains = remainsOf(loss)
  const own = [
    ...(remains.thigh > 0 ? [cut(whole.thigh, remains.thigh)] : []),
    ...(remains.leg > 0 ? [cut(whole.leg, remains.leg)] : []),
    ...(remains.foot ? whole.foot : []),
  ]
  const worn = loss?.prosthesisWorn === true
  const thin = (one: Limb): Limb => ({ ...one, fromRadiusMm: 0.016 * H, toRadiusMm: 0.014 * H })
  const prosthesis = worn
    ? [
        ...(remains.thigh < 1 ? [thin({ ...whole.thigh, from: between(hip, knee, remains.thigh) })] : []),
        ...(remains.leg < 1 ? [thin({ ...whole.leg, from: between(knee, ankle, remains.leg) })] : []),
        ...whole.foot,
      ]
    : []
  return { side, limbs: own, prosthesis, onFloor }
}

/** A foot that drives the chair stands on the floor as far forward as its leg reaches; a leg too short hangs straight. */
const ankleOnFloor = (knee: Point, lowerLegMm: number, ankleZMm: number): Point => {
  const fallMm = knee.zMm - ankleZMm
  if (fallMm >= lowerLegMm) return { xMm: knee.xMm, zMm: knee.zMm - lowerLegMm }
  return { xMm: knee.xMm + Math.sqrt(lowerLegMm ** 2 - fallMm ** 2), zMm: ankleZMm }
}

const armOf = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  side: Side,
  lostBelowElbow: boolean,
): DrawnArm => {
  const { body, person } = sitter
  const H = body.statureMm
  const ways = person.propulsion ?? []
  const onRim =
    needs.usesRims &&
    !lostBelowElbow &&
    (ways.length === 0 || ways.includes('hands') || ways.includes(side === 'left' ? 'left-hand' : 'right-hand'))
  const shoulder = evaluation.wheels.shoulder
  const reach = reachOf(sitter, evaluation.frame, evaluation.wheels, setUp.seatWidthMm)
  const elbow = onRim ? elbowOnRim(reach) : { xMm: shoulder.xMm + 0.02 * H, zMm: shoulder.zMm - reach.upperArmMm }
  const rested = { xMm: elbow.xMm + reach.forearmGripMm, zMm: elbow.zMm + 0.01 * H }
  const hand = onRim ? handOnRim(reach, elbow) : rested
  const upper: Limb = {
    from: shoulder,
    to: elbow,
    fromRadiusMm: SHARE.upperArm * H,
    toRadiusMm: SHARE.elbow * H,
  }
  const lower: Limb = { from: elbow, to: hand, fromRadiusMm: SHARE.elbow * H, toRadiusMm: SHARE.wrist * H }
  return { side, limbs: lostBelowElbow ? [upper] : [upper, lower], onRim }
}

const shoulderOf = (reach: ReachInputs): Point => ({ xMm: reach.shoulderXMm, zMm: reach.shoulderZMm })
const gripOf = (reach: ReachInputs): Point => ({ xMm: reach.gripXMm, zMm: reach.gripZMm })

/**
 * The elbow of two links between shoulder and rim, bent straight backward, seen from the side. Out of reach the arm points
 * at the rim without touching it, or folds on itself where the rim is too near.
 */
const elbowOnRim = (reach: ReachInputs): Point => {
  const { upperArmMm: a, forearmGripMm: b } = reach
  const d = reachDistanceMm(reach)
  const axis = [
    (reach.gripXMm - reach.shoulderXMm) / d,
    reach.lateralMm / d,
    (reach.gripZMm - reach.shoulderZMm) / d,
  ] as const
  // Foot of the elbow on the line from shoulder to grip, and its distance from that line.
  const along = Math.min(a, Math.max(-a, (a * a - b * b + d * d) / (2 * d)))
  const off = Math.sqrt(Math.max(0, a * a - along * along))
  // Straight backward, less what of it lies along the arm's line.
  const back = [-1 + axis[0] * axis[0], axis[0] * axis[1], axis[0] * axis[2]] as const
  const length = Math.hypot(...back)
  return {
    xMm: reach.shoulderXMm + along * axis[0] + (off * back[0]) / length,
    zMm: reach.shoulderZMm + along * axis[2] + (off * back[2]) / length,
  }
}

/** On the rim where the arm spans it; else as far as the forearm goes. */
const handOnRim = (reach: ReachInputs, elbow: Point): Point => {
  const d = reachDistanceMm(reach)
  const grip = gripOf(reach)
  if (d <= reach.upperArmMm + reach.forearmGripMm) return grip
  return between(elbow, grip, reach.forearmGripMm / (d - reach.upperArmMm))
}

/** Null where no hand drives a rim. */
export const drawnElbow = (sitter: Sitter, setUp: ResolvedSetUp, evaluation: Evaluation): DrawnElbow | null => {
  const { elbowDeg, errors } = evaluation.widthAngles
  if (elbowDeg === null) return null
  const reach = reachOf(sitter, evaluation.frame, evaluation.wheels, setUp.seatWidthMm)
  const at = elbowOnRim(reach)
  const [shoulder, grip] = [shoulderOf(reach), gripOf(reach)]
  const direction = (to: Point): number => toDegrees(Math.atan2(to.zMm - at.zMm, to.xMm - at.xMm))
  const seen = Math.abs(direction(shoulder) - direction(grip))
  return { at, shoulder, grip, deg: elbowDeg, seenDeg: Math.min(seen, 360 - seen), errorDeg: errors.elbowDeg }
}
