import { addMonths, type CalendarDate } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import { birthOf, isChildOn } from '../follow-up/priority.ts'

/**
 * What makes one person's waiting weigh more than another's, one point each on top of the one that everyone has (team
 * policy). Children, sores and progressive conditions as in follow-up: these bodies change or break while they wait.
 */
export const URGENCY_GROUNDS = ['child', 'sore', 'sore-risk', 'progressive', 'waited-long'] as const
export type UrgencyGround = (typeof URGENCY_GROUNDS)[number]

export interface Urgency {
  /** 1 for everyone and 1 more for each ground. */
  readonly weight: number
  readonly grounds: readonly UrgencyGround[]
}

/** Half a year: then whoever has waited goes before whoever came lately, all else equal (team policy). */
const LONG_WAIT_MONTHS = 6

/** `since`: waiting from this day; null where nobody noted it. A risk that is an open difference or unknown gives no ground. */
export const urgencyOf = (view: CaseView, since: CalendarDate | null, today: CalendarDate): Urgency => {
  const { presentSore, pastSore, reducedSensation, cannotReposition, moisture, progressive } = view.values
  const holds: Readonly<Record<UrgencyGround, boolean>> = {
    child: isChildOn(birthOf(view), today) === true,
    sore: presentSore === true,
    'sore-risk': [pastSore, reducedSensation, cannotReposition, moisture].includes(true),
    progressive: progressive === true,
    'waited-long': since !== null && addMonths(since, LONG_WAIT_MONTHS) <= today,
  }
  const grounds = URGENCY_GROUNDS.filter(ground => holds[ground])
  return { weight: 1 + grounds.length, grounds }
}
