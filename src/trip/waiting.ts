import type { CalendarDate } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import { withFirstAnswers } from '../case/differences.ts'
import { personOf } from '../case/person-of.ts'
import { hasOpenHandover } from '../case/stage.ts'
import { stockLineOf } from '../chair/stock-line.ts'
import { candidatesFor } from '../fitting/candidates.ts'
import type { Hold, HoldKey } from '../fitting/reason.ts'
import type { CaseId } from '../ids.ts'
import type { CasebookContext, Outcome } from '../outcome/outcome.ts'
import { type Urgency, urgencyOf } from './urgency.ts'

/** A chair with a cushion that fits this person, as lines of stock. */
export interface Offer {
  readonly chair: string
  readonly cushion: string
  /** Thousandths of a point, as fitting ranks by. */
  readonly misfit: number
}

/** Why no chair of the stock may be put aside for somebody, whatever there is. */
export type Barred =
  | { readonly type: 'held'; readonly holds: readonly HoldKey[] }
  | { readonly type: 'measures-missing' | 'no-chair-serves' | 'chosen-breaks-rule' | 'chosen-not-in-catalogue' }

/** Somebody who has no chair yet, as matching to stock sees them. Plain data: what a list keeps of a case. */
export interface WaitingPerson {
  readonly case: CaseId
  readonly place: string | null
  readonly since: CalendarDate | null
  readonly urgency: Urgency
  readonly barred: Barred | null
  /** A person decided on it: no other chair is given instead. */
  readonly chosen: { readonly chair: string; readonly cushion: string } | null
  /** Every chair that no rule forbids, best first. */
  readonly offers: readonly Offer[]
  /** What stands in the way of handing over, though a chair may be put aside meanwhile. */
  readonly holds: readonly HoldKey[]
}

/** Holds that send a person elsewhere before any chair, or say that today is not the day. */
const isBarring = (hold: Hold): boolean =>
  hold.refer !== undefined || hold.key === 'cannot-issue-wait' || hold.key === 'cannot-issue-refer'

const barredBy = (made: Outcome, hasOffers: boolean, hasChosen: boolean): Barred | null => {
  const barring = made.holds.filter(isBarring).map(hold => hold.key)
  if (barring.length > 0) return { type: 'held', holds: [...new Set(barring)] }
  for (const type of ['chosen-not-in-catalogue', 'chosen-breaks-rule'] as const)
    if (made.holds.some(hold => hold.key === type)) return { type }
  if (hasChosen || hasOffers) return null
  return { type: made.recommendation.considered.setUps === 0 ? 'measures-missing' : 'no-chair-serves' }
}

/**
 * Null for somebody who has a chair, or needs none any more. While a difference is open its first answer stands, as in the
 * outcome, and its hold is among `holds`. The outcome must be of this view, context and day.
 */
export const waitingPersonOf = (
  view: CaseView,
  made: Outcome,
  { catalogue, policy }: CasebookContext,
  today: CalendarDate,
): WaitingPerson | null => {
  if (hasOpenHandover(view) || view.values.exit) return null
  const base = withFirstAnswers(view)
  const { place, acceptedGapWhy } = base.values
  const offers = candidatesFor(personOf(base, today), catalogue, policy, today, acceptedGapWhy !== undefined).map(
    ({ setUp: { model, seatWidthMm, depth, cushion }, misfit }): Offer => ({
      chair: stockLineOf({ kind: 'chair', model: model.key, seatWidthMm, seatDepthMm: depth.valueMm }),
      cushion: stockLineOf({ kind: 'cushion', cushion: cushion.key }),
      misfit,
    }),
  )
  const { chosenSetUp } = base.values
  const model = catalogue.models.find(one => one.key === chosenSetUp?.chair)
  const depth = model?.seatDepths.find(one => one.key === chosenSetUp?.seatDepth)
  const chosen =
    chosenSetUp && model && depth
      ? {
          chair: stockLineOf({
            kind: 'chair',
            model: model.key,
            seatWidthMm: chosenSetUp.seatWidthMm,
            seatDepthMm: depth.valueMm,
          }),
          cushion: stockLineOf({ kind: 'cushion', cushion: chosenSetUp.cushion }),
        }
      : null
  const since = made.dues.waitingSince
  return {
    case: view.caseId,
    place: place ?? null,
    since,
    urgency: urgencyOf(base, since, today),
    barred: barredBy(made, offers.length > 0, chosenSetUp !== undefined),
    chosen,
    offers,
    holds: [...new Set(made.holds.map(hold => hold.key))],
  }
}
