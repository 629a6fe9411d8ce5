import type { CalendarDate } from '../src/calendar-date.ts'
import { FitMemory } from '../src/outcome/fit-memory.ts'
import { type Outcome, outcome, RULES_VERSION } from '../src/outcome/outcome.ts'
import type { Rules } from './rules.ts'

/** What a list shows of a case: from its summary, without opening it. */
export interface OutcomeBrief {
  readonly stage: Outcome['stage']
  /** Keys of what stands in the way, in the outcome's order. */
  readonly holds: readonly string[]
  /** Fields with a difference that matters. */
  readonly differences: readonly string[]
  readonly nextDue: { readonly key: string; readonly date: CalendarDate } | null
  /** Every due with its dates, so that a list can tell on any later day what is overdue. */
  readonly dues: readonly {
    readonly key: string
    readonly date: CalendarDate
    readonly opens: CalendarDate
    readonly overdueFrom: CalendarDate
  }[]
  /** The chair: chosen, else the best recommended. */
  readonly chair: {
    readonly key: string
    readonly seatWidthMm: number
    readonly seatDepthMm: number | null
    readonly chosen: boolean
  } | null
}

const briefOf = ({ stage, holds, differences, dues, target, recommendation }: Outcome): OutcomeBrief => {
  const [best] = recommendation.options
  const chosen = target && {
    key: target.setUp.chair,
    seatWidthMm: target.setUp.seatWidthMm,
    seatDepthMm: null,
    chosen: true,
  }
  const advised = best
    ? { key: best.chair, seatWidthMm: best.seatWidthMm, seatDepthMm: best.seatDepthMm, chosen: false }
    : null
  const [first] = dues.items
  return {
    stage,
    holds: [...new Set(holds.map(hold => hold.key))],
    differences: differences.filter(one => one.effect !== 'none').map(one => one.field),
    nextDue: first ? { key: first.key, date: first.date } : null,
    dues: dues.items.map(({ key, date, opens, overdueFrom }) => ({ key, date, opens, overdueFrom })),
    chair: chosen ?? advised,
  }
}

/** The rules of this product as a casebook takes them: the outcome, remembering fits whose inputs did not change. */
export const outcomeRules = (memory: FitMemory = new FitMemory()): Rules<Outcome, OutcomeBrief> => ({
  version: String(RULES_VERSION),
  outcomeOf: (view, context, today) => outcome(view, context, today, memory),
  briefOf,
})
