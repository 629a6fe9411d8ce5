import { addDays, ageOn, type CalendarDate, daysBetween } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import type { Section } from '../case/fields.ts'
import { lacksOf } from '../case/stage.ts'
import { type Facts, factsUntil } from '../follow-up/facts.ts'
import { birthOf, risksOf } from '../follow-up/priority.ts'
import { isWhole, reviewOf } from '../follow-up/reviews.ts'
import type { CasebookContext, Outcome } from '../outcome/outcome.ts'
import { type ChairLife, chairLivesOf } from './chair-lives.ts'
import { type MeasuredTwice, measuredTwice } from './measured-twice.ts'
import { AGE_BANDS, type ByBreakdown, type Measure, type Wait } from './measures.ts'

/** All that a report takes from one case: no name, no free text but those of the place and of parts. */
export interface ReportFacts {
  readonly groups: ByBreakdown<string | null>
  readonly measures: readonly Measure[]
  readonly waits: readonly { readonly wait: Wait; readonly days: number }[]
  readonly chairs: readonly ChairLife[]
  readonly measured: readonly MeasuredTwice[]
}

const ageBandOf = (view: CaseView, today: CalendarDate): string | null => {
  const birth = birthOf(view)
  if (!birth || birth.on > today) return null
  const age = ageOn(birth.on, today)
  return AGE_BANDS.find(({ below }) => age < below)?.key ?? null
}

/** A second chair, or a first one for somebody who had another before. */
const provisionOf = ({ values }: CaseView, { handover }: Facts): string | null => {
  if (handover.length > 1) return 'replacement'
  if (values.oldChair === undefined) return null
  return values.oldChair === 'none' ? 'first' : 'replacement'
}

interface FirstReview {
  readonly measure: Measure
  readonly visitedOn?: CalendarDate
}

/** Whether the first whole review came by its day, as the rules set that day on what is known now. */
const firstReviewOf = (
  view: CaseView,
  facts: Facts,
  handedOverOn: CalendarDate,
  { policy }: CasebookContext,
  today: CalendarDate,
): FirstReview => {
  const clock = { serialNumber: null, handedOverOn: [handedOverOn], latest: handedOverOn }
  const { followUp } = policy
  const due = reviewOf(clock, {
    policy: followUp,
    facts: { ...facts, review: [] },
    risks: risksOf(view, facts),
    birth: birthOf(view),
  }).date
  const from = addDays(handedOverOn, followUp.leastDaysAfterHandover)
  const visitedOn = facts.review.find(review => isWhole(review) && review.visitedOn >= from)?.visitedOn
  if (visitedOn !== undefined) return { measure: visitedOn <= due ? 'review-on-time' : 'review-late', visitedOn }
  return { measure: due < today ? 'review-missing' : 'review-not-due' }
}

const useOf = ({ review }: Facts): Measure => {
  const said = review.findLast(one => one.inUse !== undefined)?.inUse
  if (said === undefined) return 'use-unknown'
  return said === 'no' ? 'not-used' : said === 'daily' ? 'used-daily' : 'used-sometimes'
}

const toleranceOf = ({ target }: Outcome): Measure => {
  if (!target?.settings) return 'tolerance-unknown'
  return target.outOfTolerance.length === 0 ? 'within-tolerance' : 'out-of-tolerance'
}

/** The last that the person said of chair and service, 1 to 5. */
const ratingsOf = ({ review }: Facts): readonly Measure[] => {
  const chair = review.findLast(one => one.satisfactionChair !== undefined)?.satisfactionChair
  const service = review.findLast(one => one.satisfactionService !== undefined)?.satisfactionService
  return [
    ...(chair === undefined ? [] : (['chair-rated', `chair-rated-${chair}` as Measure] as const)),
    ...(service === undefined ? [] : (['service-rated', `service-rated-${service}` as Measure] as const)),
  ]
}

const SECTIONS_COUNTED = [
  ['assessment', 'assessed'],
  ['fitting', 'fitted'],
  ['training', 'trained'],
] as const satisfies readonly (readonly [Section, Measure])[]

/**
 * What one case adds to a report on the outcome's day. Events of later days do not count yet. `assessed`, `fitted`, `trained`:
 * their section lacks nothing.
 */
export const reportFacts = (view: CaseView, outcome: Outcome, context: CasebookContext): ReportFacts => {
  const { today } = outcome
  const { facts } = factsUntil(view, today)
  const [handedOverOn] = facts.handover.map(one => one.handedOverOn)
  const { ended, waitingSince, attempts } = outcome.dues
  const { referredOn, sex, place } = view.values
  const isReferred = referredOn !== undefined && referredOn <= today
  const firstReview = handedOverOn ? firstReviewOf(view, facts, handedOverOn, context, today) : undefined
  const lacking = new Set(lacksOf(view).flatMap(({ section, needs }) => (needs.length > 0 ? [section] : [])))

  const measures: Measure[] = ['registered', ...ratingsOf(facts)]
  if (isReferred) measures.push('referred')
  for (const [section, measure] of SECTIONS_COUNTED) if (!lacking.has(section)) measures.push(measure)
  if (firstReview) measures.push('handed-over', firstReview.measure, useOf(facts), toleranceOf(outcome))
  else measures.push(ended ? 'left-without-chair' : 'waiting')
  if (facts.repair.length > 0) measures.push('repaired')
  if (attempts > 0) measures.push('not-found')
  if (ended) measures.push('left', `left-${ended.why}`)

  const waits: { wait: Wait; days: number }[] = []
  const span = (wait: Wait, from: CalendarDate | null | undefined, to: CalendarDate | undefined): void => {
    if (from && to && from <= to) waits.push({ wait, days: daysBetween(from, to) })
  }
  span('referral-to-handover', referredOn, handedOverOn)
  span('handover-to-first-review', handedOverOn, firstReview?.visitedOn)
  if (!firstReview && !ended) span('waiting-now', waitingSince, today)

  return {
    groups: {
      sex: sex ?? null,
      age: ageBandOf(view, today),
      place: place?.trim() ?? null,
      provision: provisionOf(view, facts),
    },
    measures,
    waits,
    chairs: chairLivesOf(facts),
    measured: measuredTwice(view),
  }
}

/**
 * Cases that were linked as of one person count once: as the one that came furthest. Every chair and every measuring of theirs
 * counts.
 */
export const factsOfOnePerson = (cases: readonly ReportFacts[]): ReportFacts => {
  const [furthest] = cases.toSorted((a, b) => b.measures.length - a.measures.length)
  if (!furthest) throw new Error('a person without a case')
  return {
    ...furthest,
    chairs: cases.flatMap(one => one.chairs),
    measured: cases.flatMap(one => one.measured),
  }
}
