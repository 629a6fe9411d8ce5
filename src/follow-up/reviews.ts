import { addDays, addMonths, type CalendarDate, daysBetween, earliest } from '../calendar-date.ts'
import type { Policy } from '../fitting/policy.ts'
import type { SourceKey } from '../sources.ts'
import type { Clock } from './clocks.ts'
import { type DueDraft, type DueRule, SHORT_LEAD_DAYS } from './due.ts'
import type { Facts } from './facts.ts'
import { type Birth, isChildOn, type Risk, type WeighingRisk, weighingOn } from './priority.ts'

export type Review = Facts['review'][number]

/** All four parts looked at. A visit that left one out, or an attempt that met nobody, satisfies no review. */
export const isWhole = (review: Review): boolean =>
  [review.fit, review.skin, review.chair, review.skills].every(part => part !== 'not-done')

export interface ReviewContext {
  readonly policy: Policy['followUp']
  readonly facts: Facts
  readonly risks: readonly Risk[]
  readonly birth: Birth | undefined
}

interface Candidate {
  readonly date: CalendarDate
  readonly rule: DueRule
  readonly source: SourceKey
  readonly inputs: DueDraft['inputs']
  readonly leadDays?: number
}

/** A risk found after the day counted from asks for a look within the priority days, whatever else is due. */
const forLaterRisks = (
  risks: readonly WeighingRisk[],
  anchor: CalendarDate,
  { priorityFirstDays }: Policy['followUp'],
): readonly Candidate[] =>
  risks
    .filter(risk => risk.from > anchor)
    .map(({ name, from }) => ({
      date: addDays(from, priorityFirstDays),
      rule: 'review-after-new-risk',
      source: 'who-basic-level',
      inputs: { risk: name, firstRecordedOn: from, afterDays: priorityFirstDays },
      leadDays: SHORT_LEAD_DAYS,
    }))

/**
 * First review: six months for everyone (WHO 2008, 3.3.9); 42 days for a child and for a risk known by then; a risk first
 * recorded on day r: the earlier of six months and r + 42.
 */
const firstReview = (handedOverOn: CalendarDate, context: ReviewContext): readonly Candidate[] => {
  const { policy, risks, birth } = context
  const { priorityFirstDays, firstMonths } = policy
  const weighing = weighingOn(risks, handedOverOn, handedOverOn)
  const reasons = weighing.filter(risk => risk.from <= handedOverOn).map(risk => risk.name as string)
  if (isChildOn(birth, handedOverOn)) reasons.unshift('child')
  const everyone: Candidate = {
    date: addMonths(handedOverOn, firstMonths),
    rule: 'first-review',
    source: 'who-2008',
    inputs: { handedOverOn, afterMonths: firstMonths },
  }
  const priority: Candidate = {
    date: addDays(handedOverOn, priorityFirstDays),
    rule: 'first-review-priority',
    source: 'who-basic-level',
    inputs: { handedOverOn, afterDays: priorityFirstDays, because: reasons.join(', ') },
    leadDays: SHORT_LEAD_DAYS,
  }
  return [everyone, ...(reasons.length > 0 ? [priority] : []), ...forLaterRisks(weighing, handedOverOn, policy)]
}

/** After a satisfying review on v: a child and a priority v + 6 months, others v + 12 (team policy; a child: WHO basic level). */
const nextReview = (
  handedOverOn: CalendarDate,
  visitedOn: CalendarDate,
  context: ReviewContext,
): readonly Candidate[] => {
  const { policy, risks, birth } = context
  const { priorityMonths, otherMonths } = policy
  const weighing = weighingOn(risks, handedOverOn, visitedOn)
  const others: Candidate = {
    date: addMonths(visitedOn, otherMonths),
    rule: 'review',
    source: 'team-policy',
    inputs: { visitedOn, afterMonths: otherMonths },
  }
  const priority = (because: string, source: SourceKey): Candidate => ({
    date: addMonths(visitedOn, priorityMonths),
    rule: 'review-priority',
    source,
    inputs: { visitedOn, afterMonths: priorityMonths, because },
  })
  return [
    others,
    ...(isChildOn(birth, visitedOn) ? [priority('child', 'who-basic-level')] : []),
    ...(weighing.length > 0 ? [priority([...new Set(weighing.map(risk => risk.name))].join(', '), 'team-policy')] : []),
    ...forLaterRisks(weighing, visitedOn, policy),
  ]
}

const first = (candidates: readonly Candidate[]): Candidate | undefined => {
  const date = earliest(candidates.map(candidate => candidate.date))
  return candidates.find(candidate => candidate.date === date)
}

const reviewFrom = (handedOverOn: CalendarDate, context: ReviewContext): { draft: Candidate; anchor: CalendarDate } => {
  const { policy, facts } = context
  const satisfying = facts.review.filter(
    review => isWhole(review) && daysBetween(handedOverOn, review.visitedOn) >= policy.leastDaysAfterHandover,
  )
  const last = satisfying.at(-1)?.visitedOn
  const draft = first(last === undefined ? firstReview(handedOverOn, context) : nextReview(handedOverOn, last, context))
  if (!draft) throw new Error(`no review rule for the handover of ${handedOverOn}`)
  return { draft, anchor: last ?? handedOverOn }
}

/** The next review of one chair. Of two unsettled handovers the one whose review comes earlier decides. */
export const reviewOf = (clock: Clock, context: ReviewContext): DueDraft => {
  const each = clock.handedOverOn.map(handedOverOn => reviewFrom(handedOverOn, context))
  const date = earliest(each.map(one => one.draft.date))
  const least = each.find(one => one.draft.date === date)
  if (!least) throw new Error(`a chair without a handover: ${clock.serialNumber}`)
  return { kind: 'review', serialNumber: clock.serialNumber, anchor: least.anchor, ...least.draft }
}
