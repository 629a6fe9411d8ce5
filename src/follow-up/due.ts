import { addDays, addMonths, type CalendarDate, daysBetween, toCalendarDate } from '../calendar-date.ts'
import { compareText } from '../ids.ts'
import type { Reason, ReasonInput } from '../reason.ts'
import type { SourceKey } from '../sources.ts'
import type { Formula, WorkedReason } from '../sum.ts'

/** What falls due. `growth`, `tyre` and both cushion dues are forecasts or lives; the others follow from what was recorded. */
export const DUE_KINDS = [
  'review',
  'skin-look',
  'problem',
  'unusable-chair',
  'found-wrong',
  'technician-upkeep',
  'tyre',
  'cushion-review',
  'cushion-life',
  'growth',
  'temporary-chair',
  'cannot-issue',
] as const
export type DueKind = (typeof DUE_KINDS)[number]

/** Why something falls due when it does: each rule has its sentence in `components/text`. */
export const DUE_RULES = [
  'first-review',
  'first-review-priority',
  'review',
  'review-priority',
  'review-after-new-risk',
  'open-sore',
  'problem',
  'unsafe-problem',
  'left-unusable',
  'found-wrong-at-review',
  'technician-upkeep',
  'tyre-down-to-least-pressure',
  'cushion-review',
  'cushion-life',
  'outgrown-seat-depth',
  'outgrown-seat-width',
  'outgrown-footrest',
  'temporary-chair',
  'cannot-issue-wait',
  'cannot-issue-refer',
  'cannot-issue-temporary-chair',
] as const
export type DueRule = (typeof DUE_RULES)[number]
export type DueState = 'later' | 'due' | 'overdue'

export interface DateWindow {
  readonly from: CalendarDate
  readonly to: CalendarDate
}

/** One thing to do for one case, with the day it should be done by. Never stored: worked out again from the record. */
export interface Due {
  /** Stable within the case: the kind and what it is about. */
  readonly key: string
  readonly kind: DueKind
  /** Serial number of the chair it is about; null where the handover names none or it is about the person. */
  readonly serialNumber: string | null
  readonly date: CalendarDate
  readonly opens: CalendarDate
  /** The first day on which it counts as overdue: the day after `date`, later where a rule allows some days. */
  readonly overdueFrom: CalendarDate
  readonly state: DueState
  /** A forecast is a stretch of days, not a day. */
  readonly window?: DateWindow
  readonly reason: Reason
  readonly source: SourceKey
}

/** Dues near enough to be done in one visit, on the earliest of their dates. Keys in the order of `items`. */
export interface Visit {
  readonly on: CalendarDate
  readonly opens: CalendarDate
  readonly dues: readonly string[]
}

/** How long before its date a due opens, in days (project values): short rules 7, six months and more 30, the rest 14. */
export const SHORT_LEAD_DAYS = 7
const USUAL_LEAD_DAYS = 14
const LONG_LEAD_DAYS = 30
const LONG_INTERVAL_MONTHS = 6

export interface DueDraft {
  readonly kind: DueKind
  /** What it is about, where a case can have several of the kind. */
  readonly about?: string
  readonly serialNumber?: string | null
  /** The day the rule counts from, where there is one. A due never opens before it. */
  readonly anchor?: CalendarDate
  readonly date: CalendarDate
  readonly leadDays?: number
  readonly overdueFrom?: CalendarDate
  readonly window?: DateWindow
  readonly rule: DueRule
  readonly inputs: Readonly<Record<string, ReasonInput>>
  readonly source: SourceKey
  readonly sum?: readonly Formula[]
}

const FIRST_DATE = toCalendarDate('1900-01-01')
const LAST_DATE = toCalendarDate('9999-12-31')
/** A typed "until" may be any date of the calendar; a day beside it must not fall off the calendar's end. */
const shifted = (date: CalendarDate, days: number): CalendarDate => {
  if (days > 0) return daysBetween(date, LAST_DATE) < days ? LAST_DATE : addDays(date, days)
  return daysBetween(FIRST_DATE, date) < -days ? FIRST_DATE : addDays(date, days)
}

const usualLeadDays = (anchor: CalendarDate | undefined, date: CalendarDate): number =>
  anchor !== undefined && date >= addMonths(anchor, LONG_INTERVAL_MONTHS) ? LONG_LEAD_DAYS : USUAL_LEAD_DAYS

const stateOn = (today: CalendarDate, opens: CalendarDate, overdueFrom: CalendarDate): DueState => {
  if (today >= overdueFrom) return 'overdue'
  return today < opens ? 'later' : 'due'
}

/** A due with its state on a day. `later` before it opens, `due` from then through its date, `overdue` afterwards. */
export const toDue = (draft: DueDraft, today: CalendarDate): Due => {
  const { kind, about, anchor, date, rule, inputs, source, sum } = draft
  const serialNumber = draft.serialNumber ?? null
  const early = shifted(date, -(draft.leadDays ?? usualLeadDays(anchor, date)))
  const opens = anchor !== undefined && early < anchor && anchor <= date ? anchor : early
  const overdueFrom = draft.overdueFrom ?? shifted(date, 1)
  return {
    key: [kind, about, serialNumber].filter(part => part !== undefined && part !== null).join(' '),
    kind,
    serialNumber,
    date,
    opens,
    overdueFrom,
    state: stateOn(today, opens, overdueFrom),
    ...(draft.window ? { window: draft.window } : {}),
    reason: { rule, inputs, source, ...(sum ? { sum } : {}) },
    source,
  }
}

/** Dues that are worked out rather than counted off: a person can open them to their sum. */
export const workedReasonOf = ({ kind, reason }: Due): WorkedReason | undefined =>
  kind === 'growth' || kind === 'tyre' ? { ...reason, sum: reason.sum ?? [] } : undefined

/** By date, then by key: the same order on every device. */
export const byDate = (a: Due, b: Due): number => compareText(a.date, b.date) || compareText(a.key, b.key)

/**
 * Dues within `withinDays` of the earliest are offered as one visit at that earliest day. No date is moved: a due keeps
 * its own. `items` must be in date order.
 */
export const visitsOf = (items: readonly Due[], withinDays: number): readonly Visit[] => {
  const visits: { on: CalendarDate; opens: CalendarDate; dues: string[] }[] = []
  for (const { key, date, opens } of items) {
    const visit = visits.at(-1)
    if (!visit || daysBetween(visit.on, date) > withinDays) visits.push({ on: date, opens, dues: [key] })
    else {
      visit.dues.push(key)
      if (opens < visit.opens) visit.opens = opens
    }
  }
  return visits
}

/** The days after `today` on which one of these dues changes its state. */
export const changeDays = (items: readonly Due[], today: CalendarDate): readonly CalendarDate[] =>
  items.flatMap(({ opens, overdueFrom }) => [opens, overdueFrom]).filter(day => day > today)
