import type { Stock } from '../crew/stock.ts'
import type { HoldKey } from '../fitting/reason.ts'
import { type CaseId, compareText } from '../ids.ts'
import { type Gain, type GivenOut, type GivenPiece, giveOut, type NothingGiven, type Request } from './give-out.ts'
import type { Barred, WaitingPerson } from './waiting.ts'

export interface MatchedPerson {
  readonly case: CaseId
  readonly chair: GivenPiece
  /** A cushion that this chair can take and that serves this person; or why none is put aside. */
  readonly cushion: GivenPiece | NothingGiven
  /** Thousandths of a point with that cushion, or with the best one where none is put aside. Null for a chair decided on whose fit is not known. */
  readonly misfit: number | null
  /** Place of this chair among all that serve the person, from 1. Null: it is not among them, a person decided on it. */
  readonly choice: number | null
  /** The chair that would fit best of all the catalogue. */
  readonly best: string | null
  /** What still stands in the way of handing over. */
  readonly holds: readonly HoldKey[]
}

export interface PersonWithout {
  readonly case: CaseId
  readonly why: Barred | { readonly type: NothingGiven }
  readonly best: string | null
}

/** One chair more, of a line that may not be in stock at all, and what it would change for the whole group. */
export interface OneMore {
  readonly line: string
  readonly gain: Gain
}

export interface StockMatch {
  /** In the order in which people are served first: urgency, then who waits longest, then case id. */
  readonly matched: readonly MatchedPerson[]
  readonly without: readonly PersonWithout[]
  /** Every line of which one more chair would help, the most helpful first. */
  readonly oneMore: readonly OneMore[]
  /** Who would get what, had there been one more of the first of these. */
  readonly withOneMore: readonly { readonly case: CaseId; readonly from: string | null; readonly to: string }[]
}

const inTurn = (a: WaitingPerson, b: WaitingPerson): number =>
  b.urgency.weight - a.urgency.weight ||
  compareText(a.since ?? '9999', b.since ?? '9999') ||
  compareText(a.case, b.case)

const chairRequest = ({ case: id, place, urgency, chosen, offers }: WaitingPerson): Request => {
  const lines = new Map<string, number>()
  for (const { chair, misfit } of offers) if (!lines.has(chair)) lines.set(chair, misfit)
  return {
    case: id,
    place,
    weight: urgency.weight,
    chosen: chosen?.chair ?? null,
    lines: [...lines].map(([line, cost]) => ({ line, cost })),
  }
}

/** Of the cushions that serve on the chair that is given. */
const cushionRequest = (person: WaitingPerson, { line }: GivenPiece): Request => ({
  case: person.case,
  place: person.place,
  weight: person.urgency.weight,
  chosen: person.chosen?.cushion ?? null,
  lines: person.offers
    .filter(({ chair }) => chair === line)
    .map(({ cushion, misfit }) => ({ line: cushion, cost: misfit })),
})

/** One more chair at a place of its own, so that no rule or promise of another place touches it. */
const withOne = (stock: Stock, line: string): Stock => ({
  ...stock,
  lines: [...stock.lines, { line, place: ONE_MORE, onHand: 1, reserved: [], free: 1 }],
})
/** No place has this name: a place is never empty. */
const ONE_MORE = ''

const moreServed = (a: Gain, b: Gain): number => b.served - a.served || b.misfitLess - a.misfitLess

/**
 * Chairs of the stock for everybody who waits, at once. Nobody is given a chair that a rule forbids or while a hold says
 * to refer or wait; what is put aside for somebody, or decided on, is never given to another, nor another to them. Exact
 * in chairs; cushions are then given out exactly among the chairs given (both at once is a problem without a fast exact
 * answer), and where a cushion is short that is said. `places`: whose stock may be used; all where it is not given.
 */
export const matchStock = (waiting: readonly WaitingPerson[], stock: Stock, places?: readonly string[]): StockMatch => {
  const people = waiting.toSorted(inTurn)
  const asking = people.filter(({ barred }) => barred === null)
  const requests = asking.map(chairRequest)
  const chairs = giveOut(requests, stock, places)
  const given = asking.flatMap((person, index) => {
    const chair = chairs.answers[index]
    return chair === undefined || typeof chair === 'string' ? [] : [{ person, chair }]
  })
  const cushions = giveOut(
    given.map(({ person, chair }) => cushionRequest(person, chair)),
    stock,
    places,
  )
  const without = people.flatMap((person): PersonWithout[] => {
    const best = person.offers[0]?.chair ?? null
    if (person.barred) return [{ case: person.case, why: person.barred, best }]
    const answer = chairs.answers[asking.indexOf(person)]
    return typeof answer === 'string' ? [{ case: person.case, why: { type: answer }, best }] : []
  })
  const oneMore = [
    ...new Set(requests.flatMap(({ lines, chosen }) => (chosen ? [chosen] : lines.map(one => one.line)))),
  ]
    .map((line): OneMore => ({ line, gain: chairs.gainOf(line) }))
    .filter(({ gain }) => gain.served > 0 || gain.misfitLess > 0)
    .sort((a, b) => moreServed(a.gain, b.gain) || compareText(a.line, b.line))
  const [first] = oneMore
  return {
    matched: given.map(({ person, chair }, index) => matchedOf(person, chair, cushions.answers[index])),
    without,
    oneMore,
    withOneMore: first ? changesWith(requests, chairs, withOne(stock, first.line), places) : [],
  }
}

const matchedOf = (
  { case: id, offers, holds }: WaitingPerson,
  chair: GivenPiece,
  cushion: GivenPiece | NothingGiven | undefined,
): MatchedPerson => {
  if (cushion === undefined) throw new Error(`case ${id} has a chair and no answer about its cushion`)
  const serving = offers.filter(offer => offer.chair === chair.line)
  const withIt = typeof cushion === 'string' ? serving[0] : serving.find(offer => offer.cushion === cushion.line)
  const ranked = [...new Set(offers.map(offer => offer.chair))]
  const place = ranked.indexOf(chair.line)
  return {
    case: id,
    chair,
    cushion,
    misfit: withIt?.misfit ?? null,
    choice: place < 0 ? null : place + 1,
    best: ranked[0] ?? null,
    holds,
  }
}

const changesWith = (
  requests: readonly Request[],
  before: GivenOut,
  stock: Stock,
  places: readonly string[] | undefined,
): StockMatch['withOneMore'] => {
  const after = giveOut(requests, stock, places && [...places, ONE_MORE])
  const lineOf = (answer: GivenOut['answers'][number] | undefined): string | null =>
    answer === undefined || typeof answer === 'string' ? null : answer.line
  return requests.flatMap(({ case: id }, index) => {
    const [from, to] = [lineOf(before.answers[index]), lineOf(after.answers[index])]
    return to === null || from === to ? [] : [{ case: id, from, to }]
  })
}
