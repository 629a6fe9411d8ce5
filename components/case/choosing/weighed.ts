import type { CaseView } from '../../../src/case/case-view.ts'
import { withValues } from '../../../src/case/differences.ts'
import { personOf } from '../../../src/case/person-of.ts'
import { type Recommendation, recommend } from '../../../src/fitting/recommend.ts'
import type { PartFacts } from '../case-part.ts'

/** How many ranked set-ups are worked out for the screen. */
const RANKED = 10

/** The view as the outcome works on it: each open difference answered by its first option, as long as it is open. */
export const answeredView = (view: CaseView): CaseView =>
  withValues(
    view,
    view.differences.flatMap(({ field, options: [option] }) => (option ? [{ field, option }] : [])),
  )

/** The ranking of the case with more than the three set-ups that an outcome carries. */
export const rankingOf = ({ view, outcome, context }: PartFacts): Recommendation => {
  const answered = answeredView(view)
  return recommend(personOf(answered, outcome.today), context.catalogue, context.policy, outcome.today, {
    top: RANKED,
    smallGapAccepted: answered.values.acceptedGapWhy !== undefined,
  })
}
