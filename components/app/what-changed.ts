import type { CalendarDate } from '../../src/calendar-date.ts'
import type { SetUp } from '../../src/chair/set-up.ts'
import type { Due } from '../../src/follow-up/due.ts'
import type { CaseId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { AppCasebook } from './context.ts'

/** What is compared of a case: enough to say it later in any language. */
export interface CaseFacts {
  readonly chosen: SetUp | null
  readonly best: SetUp | null
  readonly holds: Outcome['holds']
  readonly differences: Outcome['differences']
  readonly due: Pick<Due, 'kind' | 'date'> | null
}

export interface ChangedCase {
  readonly caseId: CaseId
  readonly name: string | null
  readonly before: CaseFacts
  readonly after: CaseFacts
}

export interface NewCase {
  readonly caseId: CaseId
  readonly name: string | null
}

const factsOf = ({ target, recommendation, holds, differences, dues }: Outcome): CaseFacts => {
  const [due] = dues.items
  return {
    chosen: target?.setUp ?? null,
    best: recommendation.options[0]?.setUp ?? null,
    holds,
    differences,
    due: due ? { kind: due.kind, date: due.date } : null,
  }
}

/** The facts of those cases that are shown here. */
export const factsOfCases = async (
  casebook: AppCasebook,
  cases: Iterable<CaseId>,
  today: CalendarDate,
): Promise<ReadonlyMap<CaseId, CaseFacts>> => {
  const facts = new Map<CaseId, CaseFacts>()
  for (const caseId of cases) {
    const outcome = await casebook.outcome(caseId, today)
    if (outcome) facts.set(caseId, factsOf(outcome))
  }
  return facts
}

/** All derived facts as one text: the same text, nothing to tell. */
const textOf = ({ differences: _, ...told }: CaseFacts): string => JSON.stringify(told)

export const isSame = (one: CaseFacts, other: CaseFacts): boolean => textOf(one) === textOf(other)
