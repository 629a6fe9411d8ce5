import { type CalendarDate, completedMonths, isBefore } from '../calendar-date.ts'
import type { Doubt, Reason } from '../reason.ts'
import { roundTo } from '../units.ts'
import { expectedSegments, SEGMENT_NAMES, type Who } from './expected-body.ts'
import { judge } from './judge.ts'
import { massAndHipDoubts } from './mass-doubts.ts'
import type { Person } from './person.ts'
import type { MeasureOfPerson } from './possible-ranges.ts'
import { digitSwaps, lengthSlips, type Slip } from './slips.ts'
import { statureDoubt } from './stature-doubt.ts'

const ADULT_MONTHS = 18 * 12
const GREATEST_AGE_MONTHS = 110 * 12
/** Left and right further apart than this: look at the pelvis and measure again (project value). */
const SIDES_APART_MM = 20

const ageDoubt = ({ dateOfBirth }: Person, today: CalendarDate): Doubt | undefined => {
  if (dateOfBirth === undefined) return undefined
  const future = isBefore(today, dateOfBirth)
  if (!future && completedMonths(dateOfBirth, today) <= GREATEST_AGE_MONTHS) return undefined
  return {
    field: 'dateOfBirth',
    value: dateOfBirth,
    likely: future ? 'after-today' : 'unlikely',
    reason: { rule: 'age', inputs: { dateOfBirth, today }, source: 'project-value' },
    setAside: future,
  }
}

/** In completed months: an answer then changes on known days only, the monthly birthdays. */
const ageMonthsOf = ({ dateOfBirth, ageYears }: Person, today: CalendarDate): number | undefined => {
  if (dateOfBirth !== undefined) return completedMonths(dateOfBirth, today)
  return ageYears === undefined ? undefined : ageYears * 12
}

const whoIs = (person: Person, today: CalendarDate): Who => {
  const sexes = person.sex ? [person.sex] : (['male', 'female'] as const)
  const ageMonths = ageMonthsOf(person, today)
  if (ageMonths === undefined) return { sexes, ages: ['adult', 'child'] }
  return { sexes, ages: [ageMonths < ADULT_MONTHS ? 'child' : 'adult'], ageMonths }
}

/**
 * Segments against stature, or against such people at large when stature is unknown or has a slip of its own. When most
 * segments contradict the stature and no slip explains it, stature is questioned and they are not.
 */
const segmentDoubts = (person: Person, who: Who, stature: Doubt | undefined): readonly Doubt[] => {
  const unexplained = stature?.reason.rule === 'stature-against-segments' && stature.wouldBe === undefined
  const statureMm = isTrusted(stature) ? person.statureMm : undefined
  return SEGMENT_NAMES.flatMap(name => {
    const value = person[name]
    if (value === undefined) return []
    const expectations = unexplained ? [] : expectedSegments(name, who, statureMm, person.shoeSoleMm)
    return judge(name, value, expectations, lengthSlips, statureMm === undefined ? {} : { statureMm }) ?? []
  })
}

/** A stature that is only unusual (a short adult) is still what the rest is measured against. */
const isTrusted = (stature: Doubt | undefined): boolean =>
  stature === undefined ||
  (stature.reason.rule === 'expected-body' && stature.wouldBe === undefined && !stature.setAside)

/** Measures that nothing else of the body foretells. */
const ALONE = [
  'shoeSoleMm',
  'hipFlexionLeftDeg',
  'hipFlexionRightDeg',
  'kneeExtensionLeftDeg',
  'kneeExtensionRightDeg',
  'steepestSlopeDeg',
  'narrowestDoorMm',
] as const satisfies readonly MeasureOfPerson[]

const aloneDoubts = (person: Person): readonly Doubt[] =>
  ALONE.flatMap(name => {
    const value = person[name]
    return value === undefined ? [] : (judge(name, value, [], name.endsWith('Mm') ? lengthSlips : digitSwaps) ?? [])
  })

const SIDES = [
  ['thighDepthLeftMm', 'thighDepthRightMm'],
  ['calfLengthLeftMm', 'calfLengthRightMm'],
] as const

/** Left against right. Where a swap of digits brings one side to the other, that is the likely slip. */
const sidesDoubts = (person: Person): readonly Doubt[] =>
  SIDES.flatMap(([left, right]): readonly Doubt[] => {
    const [leftMm, rightMm] = [person[left], person[right]]
    if (leftMm === undefined || rightMm === undefined || Math.abs(leftMm - rightMm) <= SIDES_APART_MM) return []
    const meets = (otherMm: number) => (slip: Slip) => Math.abs(slip.wouldBe - otherMm) <= SIDES_APART_MM
    const onLeft = digitSwaps(leftMm).find(meets(rightMm))
    const onRight = onLeft ? undefined : digitSwaps(rightMm).find(meets(leftMm))
    const slip = onLeft ?? onRight
    const reason: Reason = {
      rule: 'left-against-right',
      inputs: { [left]: leftMm, [right]: rightMm, apartMm: roundTo(Math.abs(leftMm - rightMm), 1) },
      source: 'project-value',
    }
    return [
      {
        field: onRight ? right : left,
        value: onRight ? rightMm : leftMm,
        likely: slip?.key ?? 'sides-apart',
        ...(slip ? { wouldBe: slip.wouldBe } : {}),
        reason,
        setAside: false,
      },
    ]
  })

/** Heights from the seat that rise in this order on anybody. */
const RISING = [
  ['ribHeightMm', 'scapulaHeightMm'],
  ['ribHeightMm', 'axillaHeightMm'],
  ['scapulaHeightMm', 'axillaHeightMm'],
  ['axillaHeightMm', 'shoulderHeightMm'],
  ['ribHeightMm', 'shoulderHeightMm'],
  ['elbowHeightMm', 'shoulderHeightMm'],
] as const

const orderDoubts = (person: Person): readonly Doubt[] =>
  RISING.flatMap(([lower, upper]): readonly Doubt[] => {
    const [lowerMm, upperMm] = [person[lower], person[upper]]
    if (lowerMm === undefined || upperMm === undefined || lowerMm < upperMm) return []
    const reason: Reason = {
      rule: 'heights-rise',
      inputs: { [lower]: lowerMm, [upper]: upperMm },
      source: 'project-value',
    }
    return [{ field: lower, value: lowerMm, likely: 'out-of-order', reason, setAside: false }]
  })

const without = (person: Person, doubts: readonly Doubt[]): Person => {
  if (doubts.length === 0) return person
  const fields = new Set(doubts.map(doubt => doubt.field))
  // Every part of a person may be absent, so what is left is a person.
  return Object.fromEntries(Object.entries(person).filter(([key]) => !fields.has(key))) as Person
}

/** The person without the values that a doubt sets aside: they count as missing until they are measured again. */
export const withoutSetAside = (person: Person, doubts: readonly Doubt[]): Person =>
  without(
    person,
    doubts.filter(doubt => doubt.setAside),
  )

/**
 * What is unlikely in a person's measures, each with the slip that would explain it: units, digits, sides, order,
 * proportions. Mends nothing. Values that no person can have are `setAside`; the others stay in use. Total: any person.
 */
export const doubtsOf = (person: Person, today: CalendarDate): readonly Doubt[] => {
  const age = ageDoubt(person, today)
  const born = age ? withoutSetAside(person, [age]) : person
  const who = whoIs(born, today)
  const stature = statureDoubt(born, who)
  const single = [
    ...(age ? [age] : []),
    ...(stature ? [stature] : []),
    ...massAndHipDoubts(born, who, isTrusted(stature) ? born.statureMm : undefined),
    ...segmentDoubts(born, who, stature),
    ...aloneDoubts(born),
  ]
  // What is already questioned is not questioned again for its neighbour's sake.
  const clear = without(born, single)
  return [...single, ...sidesDoubts(clear), ...orderDoubts(clear)]
}
