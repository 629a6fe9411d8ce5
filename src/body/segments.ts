import type { ArmLoss, LimbLoss, Side } from './person.ts'

/** Share of body mass and where the segment's centre lies, as a fraction of its length from the upper joint. */
export interface Segment {
  readonly massFraction: number
  readonly centreFraction: number
}

/** Head+arms+trunk from hip to shoulder, thigh from hip to knee, leg with foot from knee to ankle. */
export interface SegmentSet {
  readonly key: 'adult' | 'child'
  readonly headArmsTrunk: Segment
  readonly thigh: Segment
  readonly legAndFoot: Segment
}

/** Winter 2009 table 4.1, after Dempster 1955: READ. Near the low, safe end of the published sets for rearward stability. */
export const ADULT_SEGMENTS: SegmentSet = {
  key: 'adult',
  headArmsTrunk: { massFraction: 0.678, centreFraction: 0.626 },
  thigh: { massFraction: 0.1, centreFraction: 0.433 },
  legAndFoot: { massFraction: 0.061, centreFraction: 0.606 },
}
/** Winter 2009 table 4.1: leg without foot, foot, whole arm, forearm with hand. */
export const LEG_ALONE: Segment = { massFraction: 0.0465, centreFraction: 0.433 }
export const FOOT_MASS_FRACTION = 0.0145
export const ARM_MASS_FRACTION = { 'whole-arm': 0.05, 'below-elbow': 0.022 } as const

/** Own mass of a prosthesis worn in the chair: project value. */
const PROSTHESIS_KG = { transtibial: 3, transfemoral: 4 } as const

/** Jensen 1986, 1989 (n = 12 boys) collapsed to this model; masses are shares, centres from hip to shoulder and knee to ankle. */
const CHILD_ROWS = [
  { age: 6, hat: 0.701, hatCentre: 0.712, thigh: 0.0848, leg: 0.0649, legCentre: 0.599 },
  { age: 9, hat: 0.667, hatCentre: 0.667, thigh: 0.0973, leg: 0.0694, legCentre: 0.596 },
  { age: 12, hat: 0.633, hatCentre: 0.616, thigh: 0.1098, leg: 0.0739, legCentre: 0.594 },
  { age: 15, hat: 0.604, hatCentre: 0.575, thigh: 0.1211, leg: 0.0771, legCentre: 0.588 },
] as const

/** The last age at which the children's set is computed beside the adult one. */
export const ADULT_AGE_YEARS = 18

/**
 * Piecewise linear in age between 6, 9, 12 and 15 years, held outside, shares brought to a sum of 1. No collapsed row was
 * published for 18: the 15-year row stands in from 15 on, where the adult set is the more cautious one anyway.
 */
export const childSegments = (ageYears: number): SegmentSet => {
  const [first, last] = [CHILD_ROWS[0], CHILD_ROWS[CHILD_ROWS.length - 1] ?? CHILD_ROWS[0]]
  const age = Math.min(Math.max(ageYears, first.age), last.age)
  const upper = CHILD_ROWS.find(row => row.age >= age) ?? last
  const lower = CHILD_ROWS.findLast(row => row.age <= age) ?? first
  const part = upper.age === lower.age ? 0 : (age - lower.age) / (upper.age - lower.age)
  const between = (pick: (row: (typeof CHILD_ROWS)[number]) => number): number =>
    pick(lower) + part * (pick(upper) - pick(lower))
  const [hat, thigh, leg] = [between(row => row.hat), between(row => row.thigh), between(row => row.leg)]
  const sum = hat + 2 * thigh + 2 * leg
  return {
    key: 'child',
    headArmsTrunk: { massFraction: hat / sum, centreFraction: between(row => row.hatCentre) },
    thigh: { massFraction: thigh / sum, centreFraction: ADULT_SEGMENTS.thigh.centreFraction },
    legAndFoot: { massFraction: leg / sum, centreFraction: between(row => row.legCentre) },
  }
}

/** What is left of one leg: its present masses as fractions of the intact body, centres along thigh and leg. */
export interface LegParts {
  readonly thigh: Segment
  readonly leg: Segment
}

const NOTHING: Segment = { massFraction: 0, centreFraction: 0 }

/** What remains of the cut segment's length; asked for but not given, half is taken to remain. */
export const remainingFractionOf = (loss: LimbLoss): number => loss.remainingFraction ?? 0.5

/**
 * One leg after a loss. A remaining part keeps its fraction of the segment's mass, its centre at the same proportion of
 * what remains. Without a fraction (asked for, not given) half is taken to remain and the answer names it as missing.
 */
export const legParts = (set: SegmentSet, loss: LimbLoss | undefined): LegParts => {
  if (!loss) return { thigh: set.thigh, leg: set.legAndFoot }
  const remaining = remainingFractionOf(loss)
  const legShare = LEG_ALONE.massFraction / (LEG_ALONE.massFraction + FOOT_MASS_FRACTION)
  const legMass = set.legAndFoot.massFraction * legShare
  const cut = (segment: Segment): Segment => ({
    massFraction: segment.massFraction * remaining,
    centreFraction: segment.centreFraction * remaining,
  })
  switch (loss.level) {
    case 'hip-disarticulation':
      return { thigh: NOTHING, leg: NOTHING }
    case 'transfemoral':
      return { thigh: cut(set.thigh), leg: NOTHING }
    case 'knee-disarticulation':
      return { thigh: set.thigh, leg: NOTHING }
    case 'transtibial':
      return { thigh: set.thigh, leg: cut({ massFraction: legMass, centreFraction: LEG_ALONE.centreFraction }) }
    case 'ankle-disarticulation':
      return { thigh: set.thigh, leg: { massFraction: legMass, centreFraction: LEG_ALONE.centreFraction } }
  }
}

/** Mass of a worn prosthesis; 0 where none is worn or the loss needs none. */
export const prosthesisKg = (loss: LimbLoss): number => {
  if (loss.prosthesisWorn !== true) return 0
  return loss.level === 'transtibial' || loss.level === 'ankle-disarticulation'
    ? PROSTHESIS_KG.transtibial
    : PROSTHESIS_KG.transfemoral
}

/** Fraction of the intact body's mass that was lost. */
export const lostMassFraction = (
  set: SegmentSet,
  limbLoss: readonly LimbLoss[],
  armLoss: readonly ArmLoss[],
): number => {
  const intactLeg = set.thigh.massFraction + set.legAndFoot.massFraction
  const legs = limbLoss.map(loss => {
    const left = legParts(set, loss)
    return intactLeg - left.thigh.massFraction - left.leg.massFraction
  })
  const arms = armLoss.map(loss => ARM_MASS_FRACTION[loss.level])
  return [...legs, ...arms].reduce((sum, part) => sum + part, 0)
}

/** The thigh no longer reaches the knee: seat depth follows the sound side, or the residual limb where there is none. */
export const losesThigh = (loss: LimbLoss | undefined): boolean =>
  loss?.level === 'hip-disarticulation' || loss?.level === 'transfemoral'

/** No foot of one's own or of a prosthesis reaches a footplate on that side. */
export const hasNoFoot = (loss: LimbLoss | undefined): boolean => loss !== undefined && loss.prosthesisWorn !== true

export const lossOn = (limbLoss: readonly LimbLoss[] | undefined, side: Side): LimbLoss | undefined =>
  limbLoss?.find(loss => loss.side === side)
