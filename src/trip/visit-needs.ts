import type { CalendarDate } from '../calendar-date.ts'
import type { Section } from '../case/fields.ts'
import type { Due, DueKind } from '../follow-up/due.ts'
import type { CaseId } from '../ids.ts'
import type { Outcome } from '../outcome/outcome.ts'
import type { WaitingPerson } from './waiting.ts'

/**
 * Minutes of one crew member for each piece of work: common practice, no source; a crew that times its own work knows
 * better. Sections are what a person without a chair still lacks, dues what falls due for one who has one.
 */
export const SECTION_MINUTES = {
  referral: 10,
  assessment: 40,
  measuring: 20,
  choosing: 10,
  preparing: 60,
  checks: 15,
  fitting: 40,
  training: 45,
  handover: 15,
} as const satisfies { readonly [Name in Section]?: number }
export const DUE_MINUTES = {
  review: 40,
  'skin-look': 15,
  problem: 45,
  'unusable-chair': 60,
  'found-wrong': 45,
  'technician-upkeep': 30,
  tyre: 10,
  'cushion-review': 10,
  'cushion-life': 15,
  growth: 40,
  'temporary-chair': 60,
  'cannot-issue': 20,
} as const satisfies Readonly<Record<DueKind, number>>
/** The way to a home and back within a place: common practice, no source. */
export const HOME_VISIT_MINUTES = 30

/** Work that can be done before there is a chair. */
const BEFORE_A_CHAIR: readonly Section[] = ['referral', 'assessment', 'measuring', 'choosing']

/** How bad it is to leave a person for the next trip, the worst first (team policy). */
export const VISIT_RISKS = ['unsafe', 'refer', 'overdue-priority', 'waits-urgent', 'overdue', 'waits', 'due'] as const
export type VisitRisk = (typeof VISIT_RISKS)[number]

/** Why the crew goes to the home: the person should not, or did not, come (team policy). */
export const HOME_VISIT_REASONS = ['sore', 'no-usable-chair', 'unsafe-chair', 'not-found'] as const
export type HomeVisitReason = (typeof HOME_VISIT_REASONS)[number]

export type VisitTask =
  | { readonly type: 'section'; readonly section: keyof typeof SECTION_MINUTES; readonly minutes: number }
  | {
      readonly type: 'due'
      readonly key: string
      readonly kind: DueKind
      readonly overdue: boolean
      readonly minutes: number
    }

/** What one person needs of a trip. */
export interface VisitNeeds {
  readonly case: CaseId
  readonly place: string | null
  readonly risk: VisitRisk
  readonly tasks: readonly VisitTask[]
  readonly homeVisit: HomeVisitReason | null
  /** Of one crew member, the way to a home included. */
  readonly minutes: number
}

export interface TripDates {
  readonly from: CalendarDate
  readonly to: CalendarDate
}

/** Points of urgency from which waiting is urgent: at least two grounds. */
const URGENT_WEIGHT = 3

const UNSAFE_KINDS: readonly DueKind[] = ['skin-look', 'unusable-chair']
const isUnsafe = ({ kind, reason }: Due): boolean => UNSAFE_KINDS.includes(kind) || reason.rule === 'unsafe-problem'
const isPriority = ({ reason }: Due): boolean =>
  reason.rule === 'first-review-priority' ||
  reason.rule === 'review-priority' ||
  reason.rule === 'review-after-new-risk'

const riskOf = (
  dues: readonly Due[],
  { from }: TripDates,
  toBeReferred: boolean,
  waiting: WaitingPerson | null,
): VisitRisk => {
  const isOverdue = (due: Due): boolean => due.overdueFrom <= from
  if (dues.some(isUnsafe)) return 'unsafe'
  if (toBeReferred) return 'refer'
  if (dues.some(due => isOverdue(due) && isPriority(due))) return 'overdue-priority'
  if (waiting && waiting.urgency.weight >= URGENT_WEIGHT) return 'waits-urgent'
  if (dues.some(isOverdue)) return 'overdue'
  return waiting ? 'waits' : 'due'
}

const homeVisitOf = (dues: readonly Due[], attempts: number): HomeVisitReason | null => {
  if (dues.some(due => due.kind === 'skin-look')) return 'sore'
  if (dues.some(due => due.kind === 'unusable-chair')) return 'no-usable-chair'
  if (dues.some(due => due.reason.rule === 'unsafe-problem')) return 'unsafe-chair'
  return attempts > 0 ? 'not-found' : null
}

/**
 * What a person needs of a trip on these dates; null when there is nothing. A due counts when it opens by the last day and
 * is overdue as it is on the first. `waiting`: as matching sees the person, null for one who has a chair; `hasChair`: one
 * is put aside on this trip, without which the work ends with choosing.
 */
export const visitNeedsOf = (
  made: Outcome,
  about: { readonly case: CaseId; readonly place: string | null },
  waiting: WaitingPerson | null,
  hasChair: boolean,
  dates: TripDates,
): VisitNeeds | null => {
  const { dues, holds, next } = made
  const falling = dues.items.filter(due => due.opens <= dates.to)
  const sections = waiting ? next.map(({ section }) => section) : []
  const mayGoOn = hasChair && waiting?.barred === null
  const tasks: VisitTask[] = [
    ...sections.flatMap((section): VisitTask[] => {
      if (!isTimed(section) || (!mayGoOn && !BEFORE_A_CHAIR.includes(section))) return []
      return [{ type: 'section', section, minutes: SECTION_MINUTES[section] }]
    }),
    ...falling.map(
      ({ key, kind, overdueFrom }): VisitTask => ({
        type: 'due',
        key,
        kind,
        overdue: overdueFrom <= dates.from,
        minutes: DUE_MINUTES[kind],
      }),
    ),
  ]
  const toBeReferred = holds.some(hold => hold.refer !== undefined) && dues.ended === null
  if (tasks.length === 0 && !toBeReferred) return null
  const homeVisit = homeVisitOf(falling, dues.attempts)
  const work = tasks.reduce((sum, task) => sum + task.minutes, 0)
  return {
    ...about,
    risk: riskOf(falling, dates, toBeReferred, waiting),
    tasks,
    homeVisit,
    minutes: (tasks.length > 0 ? work : REFERRAL_TALK_MINUTES) + (homeVisit ? HOME_VISIT_MINUTES : 0),
  }
}

/** Seeing somebody only to refer them on: common practice, no source. */
const REFERRAL_TALK_MINUTES = 20

const isTimed = (section: Section): section is keyof typeof SECTION_MINUTES => Object.hasOwn(SECTION_MINUTES, section)
