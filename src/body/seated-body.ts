import { toRadians } from '../units.ts'
import type { Body, Sided } from './measurements.ts'
import type { Person } from './person.ts'
import { ARM_MASS_FRACTION, legParts, lossOn, lostMassFraction, prosthesisKg, type SegmentSet } from './segments.ts'

/** x forward from S (where the seat line meets the back line), z up from the ground. */
export interface Point {
  readonly xMm: number
  readonly zMm: number
}

/** A seat as it is under the person: rail heights, angles, sag and what lies between rail and body. */
export interface Seat {
  readonly rearMm: number
  readonly frontMm: number
  readonly referenceDepthMm: number
  readonly reclineDeg: number
  readonly footrestForwardDeg: number
  readonly backSagMm: number
  /** Loaded cushion less seat sag. */
  readonly underSeatBonesMm: number
  readonly underThighsMm: number
}

export interface Joints {
  readonly hip: Point
  readonly shoulder: Point
  readonly knee: { readonly left: Point; readonly right: Point }
  readonly ankle: { readonly left: Point; readonly right: Point }
}

/** Rise of the seat line towards the front, radians. */
export const seatPitch = (seat: Pick<Seat, 'rearMm' | 'frontMm' | 'referenceDepthMm'>): number =>
  Math.atan2(seat.frontMm - seat.rearMm, seat.referenceDepthMm)

/**
 * Joint centres of a person sitting back in the seat. Offsets are shares of stature H (design, after Drillis & Contini
 * and ANSUR II): the back touches the pelvis 0.057 H above the seat, the hip lies 0.048 H above it and 0.073 H ahead of
 * the buttocks, the knee 0.033 H beyond the popliteal fold, the ankle 0.039 H above the sole.
 */
export const seatedJoints = (body: Body, seat: Seat): Joints => {
  const H = body.statureMm
  const pitch = seatPitch(seat)
  const recline = toRadians(seat.reclineDeg)
  const lean = toRadians(seat.footrestForwardDeg)
  const [cosPitch, sinPitch] = [Math.cos(pitch), Math.sin(pitch)]
  const c = seat.underSeatBonesMm
  const at = (along: number, normal: number): Point => ({
    xMm: along * cosPitch - normal * sinPitch,
    zMm: seat.rearMm + along * sinPitch + normal * cosPitch,
  })
  const buttocks = -seat.backSagMm - (c + 0.057 * H) * Math.tan(recline - pitch)
  const hip = at(buttocks + 0.073 * H, c + 0.048 * H)
  const trunk = body.shoulderHeightMm - 0.048 * H
  const knee = (thighDepthMm: number): Point => at(buttocks + thighDepthMm + 0.033 * H, seat.underThighsMm + 0.048 * H)
  const ankle = (from: Point, calfLengthMm: number): Point => {
    const lowerLeg = calfLengthMm - body.shoeSoleMm + 0.048 * H - 0.039 * H
    return { xMm: from.xMm + lowerLeg * Math.sin(lean), zMm: from.zMm - lowerLeg * Math.cos(lean) }
  }
  const [kneeLeft, kneeRight] = [knee(body.thighDepthMm.left), knee(body.thighDepthMm.right)]
  return {
    hip,
    shoulder: { xMm: hip.xMm - trunk * Math.sin(recline), zMm: hip.zMm + trunk * Math.cos(recline) },
    knee: { left: kneeLeft, right: kneeRight },
    ankle: { left: ankle(kneeLeft, body.calfLengthMm.left), right: ankle(kneeRight, body.calfLengthMm.right) },
  }
}

interface PartMass {
  readonly massKg: number
  /** Fraction of the segment's length from its upper joint. */
  readonly along: number
}

/** The body's masses on its segments, limb loss and prostheses included. */
export interface BodyMasses {
  readonly totalKg: number
  readonly trunk: PartMass
  readonly thigh: { readonly left: PartMass; readonly right: PartMass }
  readonly leg: { readonly left: PartMass; readonly right: PartMass }
  readonly prosthesisKg: Sided
  /** Sideways moment of the trunk, kg mm, left positive: a lost arm leaves the other. */
  readonly trunkMomentKgMm: number
}

/** Shares the person's own mass out: intact mass = own mass / (1 - lost fraction); what remains keeps its share. */
export const bodyMasses = (person: Person, body: Body, set: SegmentSet): BodyMasses => {
  const limbLoss = person.limbLoss ?? []
  const armLoss = person.armLoss ?? []
  const intactKg = body.ownMassKg / (1 - lostMassFraction(set, limbLoss, armLoss))
  const left = legParts(set, lossOn(limbLoss, 'left'))
  const right = legParts(set, lossOn(limbLoss, 'right'))
  const part = (segment: { massFraction: number; centreFraction: number }): PartMass => ({
    massKg: segment.massFraction * intactKg,
    along: segment.centreFraction,
  })
  const armsLost = armLoss.reduce((sum, loss) => sum + ARM_MASS_FRACTION[loss.level], 0)
  const armMoment = armLoss.reduce(
    (sum, loss) =>
      sum + (loss.side === 'left' ? -1 : 1) * ARM_MASS_FRACTION[loss.level] * intactKg * (body.biacromialMm / 2),
    0,
  )
  const worn = (side: 'left' | 'right'): number => {
    const loss = lossOn(limbLoss, side)
    return loss ? prosthesisKg(loss) : 0
  }
  return {
    totalKg: body.totalMassKg,
    trunk: {
      massKg: (set.headArmsTrunk.massFraction - armsLost) * intactKg,
      along: set.headArmsTrunk.centreFraction,
    },
    thigh: { left: part(left.thigh), right: part(right.thigh) },
    leg: { left: part(left.leg), right: part(right.leg) },
    prosthesisKg: { left: worn('left'), right: worn('right') },
    trunkMomentKgMm: armMoment,
  }
}

/** Legs lie this share of stature to each side of the middle (project value). */
const LEG_OFFSET_SHARE = 0.05

/** Centre of mass of the seated body; y to the left. A prosthesis is taken at 0.433 of knee to ankle (project value). */
export const centreOfBody = (
  masses: BodyMasses,
  joints: Joints,
  statureMm: number,
): Point & { readonly yMm: number } => {
  let [sum, x, z, y] = [0, 0, 0, masses.trunkMomentKgMm]
  const add = (massKg: number, from: Point, to: Point, along: number, offset: number): void => {
    sum += massKg
    x += massKg * (from.xMm + along * (to.xMm - from.xMm))
    z += massKg * (from.zMm + along * (to.zMm - from.zMm))
    y += massKg * offset
  }
  const offset = LEG_OFFSET_SHARE * statureMm
  add(masses.trunk.massKg, joints.hip, joints.shoulder, masses.trunk.along, 0)
  add(masses.thigh.left.massKg, joints.hip, joints.knee.left, masses.thigh.left.along, offset)
  add(masses.thigh.right.massKg, joints.hip, joints.knee.right, masses.thigh.right.along, -offset)
  add(masses.leg.left.massKg, joints.knee.left, joints.ankle.left, masses.leg.left.along, offset)
  add(masses.leg.right.massKg, joints.knee.right, joints.ankle.right, masses.leg.right.along, -offset)
  add(masses.prosthesisKg.left, joints.knee.left, joints.ankle.left, 0.433, offset)
  add(masses.prosthesisKg.right, joints.knee.right, joints.ankle.right, 0.433, -offset)
  return { xMm: x / sum, zMm: z / sum, yMm: y / sum }
}
