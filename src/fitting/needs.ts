import type { Body } from '../body/measurements.ts'
import {
  type Ground,
  type Person,
  PROPULSIONS,
  type Propulsion,
  type Side,
  type Skill,
  type TrunkNeed,
} from '../body/person.ts'
import { hasNoFoot, losesThigh, lossOn } from '../body/segments.ts'
import { type ReliefRisk, reliefNeededFor } from './cushion.ts'
import { groundOr, type Policy, skillOr } from './policy.ts'

/** How the chair is driven, which decides the axle rule. */
export type Drive = 'hands' | 'feet' | 'pushed'

/** What decides the foot support of one side. */
export type FootSupport = 'plate' | 'propels' | 'no-foot' | 'other-propels'

/** What a person needs of any chair, worked out once: the search compares catalogue values with it. */
export interface Needs {
  readonly drive: Drive
  /** Whether an elbow angle counts: at least one hand on a rim. */
  readonly usesRims: boolean
  readonly ground: Ground
  readonly skill: Skill
  readonly trunkNeed: TrunkNeed
  readonly reliefRisks: readonly ReliefRisk[]
  /** Elbow height and what the rule set adds; undefined when it was not measured. */
  readonly elbowRestMm: number | undefined
  readonly widthMm: number
  /** What the seat depth is measured against: the shorter thigh, the sound side's, or the residual limb's end. */
  readonly depthFromMm: number
  readonly depthFrom: 'shorter-thigh' | 'sound-side' | 'residual-limb'
  /** Gap = depthFrom - seat depth: right within the first pair, accepted at a cost within the second, else excluded. */
  readonly rightGapMm: readonly [number, number]
  readonly acceptedGapMm: readonly [number, number]
  readonly foot: { readonly left: FootSupport; readonly right: FootSupport }
  readonly calfMm: { readonly left: number; readonly right: number }
  /** The shortest calf of the sides that propel with a foot; undefined when none does. */
  readonly propellingCalfMm: number | undefined
  readonly groundClearanceMm: number
  readonly longerPlateOnTie: boolean
  /** One hole further back than the angles alone allow, unless the chair has anti-tip wheels. */
  readonly oneHoleBack: boolean
  readonly antiTipAdvised: boolean
  /** The steepest slope met: measured at home, else by the ground. */
  readonly slopeDeg: number
  readonly least: { readonly rearwardDeg: number; readonly forwardDeg: number; readonly sidewaysDeg: number }
}

const isFoot = (one: Propulsion): boolean => one === 'left-foot' || one === 'right-foot'
const isHand = (one: Propulsion): boolean => one === 'hands' || one === 'left-hand' || one === 'right-hand'

/**
 * One hand with one foot is driven as by hands: the rim must be reached, and the angles still gate it. Nobody named:
 * hands, the case in which a wrong angle harms most.
 */
export const driveOf = (propulsion: readonly Propulsion[] | undefined): Drive => {
  const ways = propulsion && propulsion.length > 0 ? propulsion : [PROPULSIONS[0]]
  if (ways.some(isHand)) return 'hands'
  return ways.some(isFoot) ? 'feet' : 'pushed'
}

const trunkNeedOf = (person: Person): TrunkNeed => {
  if (person.trunkNeed) return person.trunkNeed
  if (person.posture === 'complex') return 'high'
  return person.posture === 'some-support' ? 'some' : 'free'
}

const slopeOf = (person: Person, policy: Policy): number =>
  person.steepestSlopeDeg ?? policy.angles.steepestSlopeDeg[groundOr(person.ground)]

const leastAngles = (person: Person, drive: Drive, policy: Policy): Needs['least'] => {
  const { angles } = policy
  const slope = slopeOf(person, policy)
  const margin = drive === 'hands' ? angles.pushMarginDeg[skillOr(person.skill)] : angles.pushMarginDeg.expert
  const rearward = slope + margin
  return {
    rearwardDeg: drive === 'pushed' ? Math.max(rearward, angles.pushedRearwardDeg) : rearward,
    forwardDeg: slope + angles.forwardMarginDeg,
    sidewaysDeg: slope + angles.sidewaysMarginDeg,
  }
}

export const needsOf = (person: Person, body: Body, policy: Policy, smallGapAccepted = false): Needs => {
  const drive = driveOf(person.propulsion)
  const ways: readonly Propulsion[] = person.propulsion ?? []
  const propels = (side: Side): boolean => ways.includes(side === 'left' ? 'left-foot' : 'right-foot')
  const anyFootPropels = propels('left') || propels('right')
  const foot = (side: Side): FootSupport => {
    if (hasNoFoot(lossOn(person.limbLoss, side))) return 'no-foot'
    if (propels(side)) return 'propels'
    return anyFootPropels ? 'other-propels' : 'plate'
  }
  const losesLeft = losesThigh(lossOn(person.limbLoss, 'left'))
  const losesRight = losesThigh(lossOn(person.limbLoss, 'right'))
  const { left, right } = body.thighDepthMm
  const depthFrom = losesLeft && losesRight ? 'residual-limb' : losesLeft || losesRight ? 'sound-side' : 'shorter-thigh'
  const depthFromMm = depthFrom === 'sound-side' ? (losesLeft ? right : left) : Math.min(left, right)
  const { depth } = policy
  const rightGapMm: [number, number] =
    depthFrom === 'residual-limb'
      ? [depth.residualLimbMm, Math.max(depth.residualLimbMm, depth.rightGapMm[1])]
      : anyFootPropels
        ? depth.footPropulsionGapMm
        : depth.rightGapMm
  const propellingCalves = (['left', 'right'] as const).filter(propels).map(side => body.calfLengthMm[side])
  const childDriving = body.ageYears !== undefined && body.ageYears < 12 && drive === 'hands'
  const limbLoss = (person.limbLoss ?? []).length > 0
  return {
    drive,
    usesRims: ways.length === 0 || ways.some(isHand),
    ground: groundOr(person.ground),
    skill: skillOr(person.skill),
    trunkNeed: trunkNeedOf(person),
    reliefRisks: reliefNeededFor(person.skin),
    elbowRestMm: person.elbowHeightMm === undefined ? undefined : person.elbowHeightMm + policy.armrest.addMm,
    widthMm: body.hipWidthMm + policy.width.addMm + policy.width.clothingMm[person.climate ?? 'hot'],
    depthFromMm,
    depthFrom,
    rightGapMm,
    acceptedGapMm: [
      Math.min(smallGapAccepted ? depth.leastGapMm : depth.rightGapMm[0], rightGapMm[0]),
      Math.max(depth.acceptedGapMm, rightGapMm[1]),
    ],
    foot: { left: foot('left'), right: foot('right') },
    calfMm: body.calfLengthMm,
    propellingCalfMm: propellingCalves.length > 0 ? Math.min(...propellingCalves) : undefined,
    groundClearanceMm: policy.footrest.groundClearanceMm[groundOr(person.ground)],
    longerPlateOnTie: person.skin?.presentSore === true || person.skin?.reducedSensation === true,
    oneHoleBack: drive === 'hands' && (limbLoss || childDriving),
    antiTipAdvised: childDriving || (losesLeft && losesRight),
    slopeDeg: slopeOf(person, policy),
    least: leastAngles(person, drive, policy),
  }
}
