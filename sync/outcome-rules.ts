import type { CalendarDate } from '../src/calendar-date.ts'
import type { Stage } from '../src/case/stage.ts'
import { FitMemory } from '../src/outcome/fit-memory.ts'
import { type Outcome, outcome, RULES_VERSION } from '../src/outcome/outcome.ts'
import type { Rules } from './rules.ts'

/** What lists show of a case without opening it. */
export interface OutcomeBrief {
  readonly stage: Stage
  readonly holds: readonly string[]
  readonly differences: readonly string[]
  readonly nextDue: { readonly key: string; readonly date: CalendarDate } | null
}

const briefOf = ({ stage, holds, differences, dues }: Outcome): OutcomeBrief => {
  const [first] = dues.items
  return {
    stage,
    holds: holds.map(({ key }) => key),
    differences: differences.map(({ field }) => field),
    nextDue: first ? { key: first.key, date: first.date } : null,
  }
}

/** The rules of this program for a casebook. `memory` only saves time; each casebook has its own. */
export const outcomeRules = (memory: FitMemory = new FitMemory()): Rules<Outcome, OutcomeBrief> => ({
  version: String(RULES_VERSION),
  outcomeOf: (view, context, today) => outcome(view, context, today, memory),
  briefOf,
})
