import { ageInMonthsOn, type CalendarDate, daysBetween } from '../calendar-date.ts'
import { compareText } from '../ids.ts'
import { BODY_MASS_INDEX_FOR_AGE, HEIGHT_CM_FOR_AGE, type LmsRow, type Sex } from './who-lms.ts'

/** Median M, skewness L and variation S at one age (Cole's LMS method, as WHO uses it). */
export interface Lms {
  readonly l: number
  readonly m: number
  readonly s: number
}

export interface Stature {
  readonly on: CalendarDate
  readonly mm: number
}

/** One length of the body and the day it was taken. */
export type MeasuredLength = Stature

/** WHO gives no curve beyond 3 standard deviations; a child beyond is followed along that line. */
const GREATEST_Z = 3
/** A pace may be off the WHO curve by this much, no more: measuring error must not run away with it. Project value. */
const OWN_PACE_LEAST = 0.5
const OWN_PACE_MOST = 1.5
/** A pace needs two statures at least this far apart: 10 mm of error on a year's 55 mm is already a fifth. Project value. */
const PACE_DAYS = 150
/**
 * Thigh depth (back of buttocks to popliteal fold) in mm per mm of stature gained: slope of rump-knee length on stature
 * (0.381 boys, 0.390 girls) less 0.065. Regressions from individuals of Snyder et al. 1977, 2-17 years.
 */
export const THIGH_PER_STATURE: Readonly<Record<Sex, number>> = { male: 0.316, female: 0.325 }

const between = (from: number, to: number, share: number): number => from + (to - from) * share

/** L, M and S at an age in months, in a straight line between rows. Undefined outside the table (24-228 months). */
export const lmsAt = (rows: readonly LmsRow[], ageMonths: number): Lms | undefined => {
  const above = rows.findIndex(row => row[0] >= ageMonths)
  const to = rows[above]
  if (!to) return undefined
  const from = rows[above - 1] ?? to
  if (ageMonths < from[0]) return undefined
  const share = to === from ? 0 : (ageMonths - from[0]) / (to[0] - from[0])
  return { l: between(from[1], to[1], share), m: between(from[2], to[2], share), s: between(from[3], to[3], share) }
}

/** z = ((y/M)^L - 1)/(L S), or ln(y/M)/S where L = 0. The value must be above 0, in the table's unit. */
export const zOf = (value: number, { l, m, s }: Lms): number =>
  l === 0 ? Math.log(value / m) / s : ((value / m) ** l - 1) / (l * s)

/** y = M (1 + L S z)^(1/L), or M e^(S z) where L = 0: the inverse of `zOf`. */
export const valueAtZ = (z: number, { l, m, s }: Lms): number =>
  l === 0 ? m * Math.exp(s * z) : m * (1 + l * s * z) ** (1 / l)

const clamp = (value: number, least: number, most: number): number => Math.min(Math.max(value, least), most)
const clampedZ = (value: number, lms: Lms): number => clamp(zOf(value, lms), -GREATEST_Z, GREATEST_Z)

const heightLms = (sex: Sex, ageMonths: number): Lms | undefined => lmsAt(HEIGHT_CM_FOR_AGE[sex], ageMonths)
const bmiLms = (sex: Sex, ageMonths: number): Lms | undefined => lmsAt(BODY_MASS_INDEX_FOR_AGE[sex], ageMonths)

/** Height-for-age z of a stature, WHO 2006 and 2007. Undefined under 24 or over 228 months. */
export const heightZ = (sex: Sex, ageMonths: number, statureMm: number): number | undefined => {
  const lms = heightLms(sex, ageMonths)
  return lms && zOf(statureMm / 10, lms)
}

/** Stature in mm of a child on the line z at an age. Undefined under 24 or over 228 months. */
export const statureAtZMm = (sex: Sex, ageMonths: number, z: number): number | undefined => {
  const lms = heightLms(sex, ageMonths)
  return lms && valueAtZ(z, lms) * 10
}

export interface Child {
  readonly sex: Sex
  readonly bornOn: CalendarDate
  /** In any order. Repeats of one day are averaged. */
  readonly statures: readonly Stature[]
  readonly mass?: { readonly on: CalendarDate; readonly kg: number }
}

/** How one child is expected to grow. Each answer is undefined on days outside the WHO tables. */
export interface Growth {
  readonly latest: Stature
  /** z of the latest stature, held constant from there on; clamped to +-3. */
  readonly z: number
  /** Own gain against the gain at constant z, 0.5 to 1.5; 1 without two statures 150 days apart. */
  readonly pace: number
  readonly statureMm: (day: CalendarDate) => number | undefined
  readonly thighDepthMm: (measured: MeasuredLength, day: CalendarDate) => number | undefined
  readonly hipWidthMm: (measured: MeasuredLength, day: CalendarDate) => number | undefined
  readonly calfLengthMm: (measured: MeasuredLength, day: CalendarDate) => number | undefined
}

const byDay = (statures: readonly Stature[]): readonly Stature[] => {
  const days = new Map<CalendarDate, number[]>()
  for (const { on, mm } of statures) days.set(on, [...(days.get(on) ?? []), mm])
  return [...days]
    .map(([on, all]) => ({ on, mm: all.toSorted((a, b) => a - b).reduce((sum, one) => sum + one, 0) / all.length }))
    .sort((a, b) => compareText(a.on, b.on))
}

/**
 * Growth by the WHO LMS curves at the child's own, constant z, times its own pace where that is known. A window, never a
 * promise: cerebral palsy, spina bifida and poor nutrition grow differently. Undefined without a stature, or when the
 * latest stature was taken outside 24-228 months.
 */
export const growthOf = ({ sex, bornOn, statures, mass }: Child): Growth | undefined => {
  const known = byDay(statures)
  const latest = known.at(-1)
  const first = known[0]
  if (!latest || !first) return undefined
  const monthsOn = (day: CalendarDate): number => ageInMonthsOn(bornOn, day)
  const lineOf = (stature: Stature): number | undefined => {
    const lms = heightLms(sex, monthsOn(stature.on))
    return lms && clampedZ(stature.mm / 10, lms)
  }
  /** Growth in mm from one day to another along the line z. */
  const gainMm = (z: number, from: CalendarDate, to: CalendarDate): number | undefined => {
    const [before, after] = [statureAtZMm(sex, monthsOn(from), z), statureAtZMm(sex, monthsOn(to), z)]
    return before === undefined || after === undefined ? undefined : after - before
  }

  const z = lineOf(latest)
  const firstZ = lineOf(first)
  if (z === undefined) return undefined

  const earlier = known.findLast(stature => daysBetween(stature.on, latest.on) >= PACE_DAYS)
  const earlierZ = earlier && lineOf(earlier)
  const usualGainMm = earlier && earlierZ !== undefined ? gainMm(earlierZ, earlier.on, latest.on) : undefined
  const pace =
    earlier && usualGainMm !== undefined && usualGainMm > 0
      ? clamp((latest.mm - earlier.mm) / usualGainMm, OWN_PACE_LEAST, OWN_PACE_MOST)
      : 1

  const statureMm = (day: CalendarDate): number | undefined => {
    if (day >= latest.on) {
      const gain = gainMm(z, latest.on, day)
      return gain === undefined ? undefined : latest.mm + pace * Math.max(0, gain)
    }
    if (day < first.on) {
      const gain = firstZ === undefined ? undefined : gainMm(firstZ, day, first.on)
      return gain === undefined || gain >= first.mm ? undefined : first.mm - gain
    }
    const after = known.findIndex(stature => stature.on > day)
    const [from, to] = [known[after - 1], known[after]]
    if (!from || !to) return undefined
    return between(from.mm, to.mm, daysBetween(from.on, day) / daysBetween(from.on, to.on))
  }

  const massLms = mass && bmiLms(sex, monthsOn(mass.on))
  const massStatureMm = mass && statureMm(mass.on)
  const bmiZ = mass && massLms && massStatureMm ? clampedZ(mass.kg / (massStatureMm / 1000) ** 2, massLms) : 0
  /** Mass over stature on a day, up to a constant: body mass index at the child's own z times stature. */
  const massPerStature = (day: CalendarDate): number | undefined => {
    const [lms, mm] = [bmiLms(sex, monthsOn(day)), statureMm(day)]
    return lms && mm !== undefined ? valueAtZ(bmiZ, lms) * mm : undefined
  }

  return {
    latest,
    z,
    pace,
    statureMm,
    thighDepthMm: (measured, day) => {
      const [before, after] = [statureMm(measured.on), statureMm(day)]
      if (before === undefined || after === undefined) return undefined
      return measured.mm + THIGH_PER_STATURE[sex] * (after - before)
    },
    // Width goes with the root of mass over stature: waist/sqrt(mass/stature) stays within 2 % from 2 to 17 years (Snyder 1977).
    hipWidthMm: (measured, day) => {
      const [before, after] = [massPerStature(measured.on), massPerStature(day)]
      return before === undefined || after === undefined ? undefined : measured.mm * Math.sqrt(after / before)
    },
    calfLengthMm: (measured, day) => {
      const [before, after] = [statureMm(measured.on), statureMm(day)]
      return before === undefined || after === undefined ? undefined : (measured.mm * after) / before
    },
  }
}
