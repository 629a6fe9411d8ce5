import { ageOn, type CalendarDate, earliest, latest, toCalendarDate } from '../calendar-date.ts'
import type { CaseView, Head } from '../case/case-view.ts'
import type { NamesOfKind } from '../case/fields.ts'
import type { EntryId } from '../ids.ts'
import { daysByEntry, type Facts } from './facts.ts'

type RiskName = NamesOfKind<'risk'>

/** Risks that make follow-up a priority: risk of a sore, a progressive condition, trouble with training (WHO basic level). */
const PRIORITY_RISKS = [
  'presentSore',
  'pastSore',
  'reducedSensation',
  'cannotReposition',
  'moisture',
  'progressive',
  'trainingTrouble',
] as const satisfies readonly RiskName[]

export const CHILD_UNDER_YEARS = 18

/** A risk as it weighs on dues. */
export interface Risk {
  readonly name: RiskName
  /** A statement says true now. Otherwise it was lowered, or only events show it. */
  readonly standing: boolean
  /** Days of the forms on which it stands as true. */
  readonly statedOn: readonly CalendarDate[]
  /** Days of the events that show it. */
  readonly shownOn: readonly CalendarDate[]
  /** No dated fact says since when: it counts from the handover, the earlier side. */
  readonly undated: boolean
  /** The day on which it was lowered, for one that was; undefined on a risk that stands. `unknown`: on no dated form. */
  readonly lowered: CalendarDate | 'unknown' | undefined
}

/** Events that show the risk by themselves, whether or not its box was ticked. */
const shownBy = (name: RiskName, facts: Facts): readonly CalendarDate[] => {
  if (name === 'presentSore')
    return [
      ...facts.skinLook.filter(look => look.found === 'sore').map(look => look.on),
      ...facts.review.filter(review => review.skin === 'problem').map(review => review.visitedOn),
    ]
  if (name === 'trainingTrouble')
    return facts.review.filter(review => review.skills === 'problem').map(review => review.visitedOn)
  return []
}

const riskOf = (
  name: RiskName,
  view: CaseView,
  facts: Facts,
  days: ReadonlyMap<EntryId, readonly CalendarDate[]>,
): Risk | undefined => {
  const heads: readonly Head[] = view.heads[name] ?? []
  const shownOn = shownBy(name, facts)
  const standing = heads.filter(head => head.value === true)
  if (standing.length > 0) {
    const formDays = standing.map(head => days.get(head.id)?.[0])
    const statedOn = formDays.filter(day => day !== undefined)
    const undated = shownOn.length === 0 && formDays.includes(undefined)
    return { name, standing: true, statedOn, shownOn, undated, lowered: undefined }
  }
  // Only a reasoned settle or retest takes a risk away (B6): a `false` of another kind means that it never stood.
  const lowering = heads.filter(head => head.value === false && head.kind !== 'save')
  if (lowering.length > 0) {
    const loweredOn = lowering.map(head => days.get(head.id)?.at(-1))
    const lowered = loweredOn.includes(undefined) ? 'unknown' : latest(loweredOn.filter(day => day !== undefined))
    return { name, standing: false, statedOn: [], shownOn, undated: shownOn.length === 0, lowered }
  }
  if (shownOn.length === 0) return undefined
  return { name, standing: false, statedOn: [], shownOn, undated: false, lowered: undefined }
}

/**
 * The priority risks of a case. A risk once true weighs on every due counted from a day before its lowering: a lowered
 * risk lengthens only dues counted from the next review, so that a merge of it never moves a date back.
 */
export const risksOf = (view: CaseView, facts: Facts): readonly Risk[] => {
  const stated = PRIORITY_RISKS.flatMap(name => view.heads[name] ?? [])
  const days = daysByEntry(
    view,
    stated.map(head => head.id),
  )
  return PRIORITY_RISKS.flatMap(name => riskOf(name, view, facts, days) ?? [])
}

export interface WeighingRisk {
  readonly name: RiskName
  /** The anchor itself for a risk known by then; later for one recorded, or seen again, since. */
  readonly from: CalendarDate
}

/** Of a risk lowered by the day counted from, only what events showed after the lowering weighs. */
const liveDays = ({ statedOn, shownOn, undated, lowered }: Risk, handedOverOn: CalendarDate, anchor: CalendarDate) =>
  lowered === undefined || lowered === 'unknown' || lowered > anchor
    ? [...statedOn, ...shownOn, ...(undated ? [handedOverOn] : [])]
    : shownOn.filter(day => day > lowered)

/** Risks that weigh on a due counted from `anchor`, each with the day it weighs from. */
export const weighingOn = (
  risks: readonly Risk[],
  handedOverOn: CalendarDate,
  anchor: CalendarDate,
): readonly WeighingRisk[] =>
  risks.flatMap(risk => {
    const days = liveDays(risk, handedOverOn, anchor)
    const known = days.some(day => day <= anchor)
    const since = earliest(days.filter(day => day > anchor))
    return [...(known ? [anchor] : []), ...(since ? [since] : [])].map(from => ({ name: risk.name, from }))
  })

export interface Birth {
  readonly on: CalendarDate
  /** Only the year is known: 31 December of it stands in, the younger side. */
  readonly yearOnly: boolean
}

const yearEnd = (year: number): CalendarDate => toCalendarDate(`${year}-12-31`)

/** The day of birth, from date or year. While two dates stand against each other, the younger counts. */
export const birthOf = (view: CaseView): Birth | undefined => {
  const { dateOfBirth, birthYear } = view.values
  if (dateOfBirth !== undefined) return { on: dateOfBirth, yearOnly: false }
  const youngest = (field: 'dateOfBirth' | 'birthYear'): unknown =>
    view.differences
      .filter(difference => difference.field === field)
      .flatMap(difference => difference.options.map(option => option.value as string | number))
      .reduce<string | number | undefined>((most, one) => (most === undefined || one > most ? one : most), undefined)
  const openDate = youngest('dateOfBirth')
  if (openDate !== undefined) return { on: openDate as CalendarDate, yearOnly: false }
  const year = birthYear ?? youngest('birthYear')
  return typeof year === 'number' ? { on: yearEnd(year), yearOnly: true } : undefined
}

/** Under 18 on a day. Undefined: nobody noted an age. */
export const isChildOn = (birth: Birth | undefined, day: CalendarDate): boolean | undefined =>
  birth && ageOn(birth.on, day) < CHILD_UNDER_YEARS
