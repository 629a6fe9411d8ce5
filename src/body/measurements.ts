import { ageOn, type CalendarDate } from '../calendar-date.ts'
import type { Person, Side } from './person.ts'
import {
  ADULT_AGE_YEARS,
  ADULT_SEGMENTS,
  childSegments,
  hasNoFoot,
  losesThigh,
  lossOn,
  prosthesisKg,
  type SegmentSet,
} from './segments.ts'

/** Sole thickness where the shoes were not measured: project value. */
export const DEFAULT_SHOE_SOLE_MM = 25
/** Standard error of a mass that was guessed instead of weighed (fitting review, part 3). */
const GUESSED_MASS_ERROR_KG = 15
const WEIGHED_MASS_ERROR = 0.03
/** What the second of two weighings adds: as far as one reading repeats (project value). The scale's own error cancels. */
const SECOND_WEIGHING_ERROR_KG = 1
const LENGTH_ERROR_MM = 10
const STATURE_ERROR_MM = 15
const ARM_LINK_ERROR_MM = 8

export interface Sided {
  readonly left: number
  readonly right: number
}

/** A body complete enough for mechanics: what was measured, and what stands in for what was not, with its error. */
export interface Body {
  readonly ageYears: number | undefined
  readonly isChild: boolean
  /** As sat on the seat, worn prostheses included. */
  readonly totalMassKg: number
  /** Without prostheses: what the segment fractions share out. */
  readonly ownMassKg: number
  readonly massGuessed: boolean
  readonly statureMm: number
  readonly statureFrom: 'measured' | 'segments'
  readonly hipWidthMm: number
  readonly thighDepthMm: Sided
  readonly calfLengthMm: Sided
  readonly shoeSoleMm: number
  readonly shoulderHeightMm: number
  readonly upperArmLinkMm: number
  readonly forearmLinkMm: number
  readonly biacromialMm: number
  /** The adult set, and under 18 the children's set beside it. */
  readonly segmentSets: readonly SegmentSet[]
  readonly errors: {
    readonly massKg: number
    readonly lengthMm: number
    readonly shoulderMm: number
    readonly statureMm: number
    readonly armLinkMm: number
  }
}

/** A measure or fact that is not there, and what its absence does. */
export interface Missing {
  readonly field: string
  readonly effect: 'no-options' | 'no-setting' | 'assumed' | 'wider-error'
  readonly assumed?: number | string
}

/** Completed years, from the date of birth where it is known. */
export const ageYearsOf = (person: Person, today: CalendarDate): number | undefined =>
  person.dateOfBirth !== undefined ? Math.max(0, ageOn(person.dateOfBirth, today)) : person.ageYears

interface Estimate {
  readonly mm: number
  readonly errorMm: number
}

/** Of both sexes where it is not known: the middle. */
const bySex = (sex: Person['sex'], male: number, female: number): number =>
  sex === 'male' ? male : sex === 'female' ? female : (male + female) / 2

const meanOf = (values: readonly number[]): number | undefined =>
  values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length

/**
 * Stature where it was not measured: it moves no angle by more than 0.04 deg for 10 mm, so nothing waits for it.
 * Adults, ANSUR II: shoulder, thigh and barefoot calf together (SD 22 and 23 mm); thigh and calf alone by their own lines
 * (residual SD 18 and 13 mm over slopes of 0.31); acromion above the seat 0.344 H. Under 18, Snyder 1977 individuals:
 * thigh depth = 0.3162 H - 73 boys, 0.3251 H - 78 girls, SD 15 mm, so 46 mm of stature.
 */
const statureFromSegments = (
  { sex, shoulderHeightMm: shoulder }: Person,
  age: number | undefined,
  thigh: number | undefined,
  calfBarefoot: number | undefined,
): Estimate | undefined => {
  if (age !== undefined && age < ADULT_AGE_YEARS && thigh !== undefined)
    return { mm: bySex(sex, (thigh + 73) / 0.3162, (thigh + 78) / 0.3251), errorMm: 46 }
  if (shoulder !== undefined && thigh !== undefined && calfBarefoot !== undefined) {
    const men = 0.914 * shoulder + 0.594 * thigh + 1.447 * calfBarefoot + 285
    const women = 1.041 * shoulder + 0.749 * thigh + 1.163 * calfBarefoot + 228
    return { mm: bySex(sex, men, women), errorMm: sex === undefined ? 30 : 23 }
  }
  const lines: number[] = []
  if (thigh !== undefined) lines.push(bySex(sex, (thigh + 32.9) / 0.3051, (thigh + 47) / 0.3267))
  if (calfBarefoot !== undefined) lines.push(bySex(sex, (calfBarefoot + 107) / 0.3056, (calfBarefoot + 94.1) / 0.2962))
  if (shoulder !== undefined) lines.push(shoulder / 0.344)
  const mm = meanOf(lines)
  return mm === undefined ? undefined : { mm, errorMm: 60 }
}

/** The measures that a set-up cannot be chosen without, for this person: a lost part needs none. */
const massErrorKg = (person: Person, massKg: number): number =>
  person.massGuessed === true
    ? GUESSED_MASS_ERROR_KG
    : WEIGHED_MASS_ERROR * massKg + (person.weighedWith === undefined ? 0 : SECOND_WEIGHING_ERROR_KG)

const essentialFields = (person: Person): readonly (keyof Person)[] => {
  const bothThighsLost = losesThigh(lossOn(person.limbLoss, 'left')) && losesThigh(lossOn(person.limbLoss, 'right'))
  const sided = (side: Side): (keyof Person)[] => {
    const loss = lossOn(person.limbLoss, side)
    const fields: (keyof Person)[] = []
    if (!losesThigh(loss) || bothThighsLost) fields.push(side === 'left' ? 'thighDepthLeftMm' : 'thighDepthRightMm')
    if (!hasNoFoot(loss)) fields.push(side === 'left' ? 'calfLengthLeftMm' : 'calfLengthRightMm')
    return fields
  }
  return ['massKg', 'hipWidthMm', ...sided('left'), ...sided('right')]
}

/**
 * Completes a person's measures for mechanics. Gives the body when the essential ones are there, and always the list of
 * what is missing. Published proportions stand in only where the design says so (Drillis & Contini 1966, ANSUR II).
 */
export const bodyOf = (
  person: Person,
  today: CalendarDate,
): { body: Body | undefined; missing: readonly Missing[] } => {
  const missing: Missing[] = essentialFields(person)
    .filter(field => person[field] === undefined)
    .map(field => ({ field, effect: 'no-options' }))
  for (const loss of person.limbLoss ?? [])
    if ((loss.level === 'transfemoral' || loss.level === 'transtibial') && loss.remainingFraction === undefined)
      missing.push({ field: `limbLoss.${loss.side}.remainingFraction`, effect: 'assumed', assumed: 0.5 })
  for (const loss of person.limbLoss ?? [])
    if (loss.level !== 'hip-disarticulation' && loss.prosthesisWorn === undefined)
      missing.push({ field: `limbLoss.${loss.side}.prosthesisWorn`, effect: 'assumed', assumed: 'not-worn' })
  const age = ageYearsOf(person, today)
  if (age === undefined) missing.push({ field: 'dateOfBirth', effect: 'assumed', assumed: 'adult' })

  const shoeSoleMm = person.shoeSoleMm ?? DEFAULT_SHOE_SOLE_MM
  const known = (left: number | undefined, right: number | undefined): number | undefined => left ?? right
  const thigh = known(person.thighDepthLeftMm, person.thighDepthRightMm)
  const calf = known(person.calfLengthLeftMm, person.calfLengthRightMm)
  const estimated =
    person.statureMm === undefined
      ? statureFromSegments(person, age, thigh, calf === undefined ? undefined : Math.max(1, calf - shoeSoleMm))
      : undefined
  const statureMm = person.statureMm ?? estimated?.mm
  if (person.statureMm === undefined)
    missing.push({ field: 'statureMm', effect: statureMm === undefined ? 'no-options' : 'wider-error' })
  if (person.shoulderHeightMm === undefined) missing.push({ field: 'shoulderHeightMm', effect: 'wider-error' })

  const { massKg, hipWidthMm } = person
  if (
    missing.some(one => one.effect === 'no-options') ||
    statureMm === undefined ||
    massKg === undefined ||
    hipWidthMm === undefined
  )
    return { body: undefined, missing }

  // A lost thigh or leg takes the other side's length; with both lost 0.285 H and 0.237 H (Drillis & Contini; ANSUR II).
  const thighDepthMm = {
    left: person.thighDepthLeftMm ?? thigh ?? 0.285 * statureMm,
    right: person.thighDepthRightMm ?? thigh ?? 0.285 * statureMm,
  }
  const calfStandIn = calf ?? 0.237 * statureMm + shoeSoleMm
  const calfLengthMm = {
    left: person.calfLengthLeftMm ?? calfStandIn,
    right: person.calfLengthRightMm ?? calfStandIn,
  }
  const prostheses = (person.limbLoss ?? []).reduce((sum, loss) => sum + prosthesisKg(loss), 0)
  const ownMassKg = person.weighedWithProsthesis === true ? Math.max(massKg - prostheses, massKg / 2) : massKg
  const biacromialShare = person.sex === 'male' ? 0.237 : person.sex === 'female' ? 0.225 : 0.231
  const isChild = age !== undefined && age < ADULT_AGE_YEARS
  return {
    missing,
    body: {
      ageYears: age,
      isChild,
      ownMassKg,
      totalMassKg: ownMassKg + prostheses,
      massGuessed: person.massGuessed === true,
      statureMm,
      statureFrom: person.statureMm === undefined ? 'segments' : 'measured',
      hipWidthMm,
      thighDepthMm,
      calfLengthMm,
      shoeSoleMm,
      shoulderHeightMm: person.shoulderHeightMm ?? 0.344 * statureMm,
      upperArmLinkMm: person.upperArmMm === undefined ? 0.186 * statureMm : 0.9 * person.upperArmMm,
      // The measured length runs from the back of the elbow: 0.0125 H lies behind the joint.
      forearmLinkMm: person.forearmGripMm === undefined ? 0.187 * statureMm : person.forearmGripMm - 0.0125 * statureMm,
      biacromialMm: person.biacromialMm ?? biacromialShare * statureMm,
      segmentSets: isChild ? [ADULT_SEGMENTS, childSegments(age)] : [ADULT_SEGMENTS],
      errors: {
        massKg: massErrorKg(person, massKg),
        lengthMm: LENGTH_ERROR_MM,
        shoulderMm: person.shoulderHeightMm === undefined ? 25 : LENGTH_ERROR_MM,
        statureMm: estimated?.errorMm ?? STATURE_ERROR_MM,
        armLinkMm: person.upperArmMm === undefined || person.forearmGripMm === undefined ? 12 : ARM_LINK_ERROR_MM,
      },
    },
  }
}
