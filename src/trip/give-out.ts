import type { Stock } from '../crew/stock.ts'
import { type CaseId, compareText } from '../ids.ts'
import { type Allocation, type AllocationProblem, allocate, gainOfOneMore } from './allocate.ts'

/** What one person asks of the stock: lines that serve, each with its cost in thousandths of a point, cheapest first. */
export interface Request {
  readonly case: CaseId
  readonly place: string | null
  /** A whole number from 1: how much this person's misfit, and waiting, counts. */
  readonly weight: number
  /** Somebody decided on this line: it or none. */
  readonly chosen: string | null
  readonly lines: readonly { readonly line: string; readonly cost: number }[]
}

/** `reserved`: put aside for this person before. `chosen`: decided on. `matched`: by what is best for all. */
export interface GivenPiece {
  readonly line: string
  readonly place: string
  readonly how: 'reserved' | 'chosen' | 'matched'
}

/**
 * `reserved-is-not-chosen`, `reserved-does-not-serve`: a piece is put aside for this person that must not be given so; it
 * stays aside until a person says. `reserved-elsewhere`: at a place whose stock is not asked. `kept-back`: there are pieces, all under a reserve rule or put aside for others.
 */
export type NothingGiven =
  | 'reserved-is-not-chosen'
  | 'reserved-does-not-serve'
  | 'reserved-elsewhere'
  | 'promised-twice'
  | 'not-in-stock'
  | 'kept-back'
  | 'others-first'

export type Answer = GivenPiece | NothingGiven

export interface GivenOut {
  /** In the order of the requests. */
  readonly answers: readonly Answer[]
  /** What one piece more of a line would change, exactly, whatever place it came to. */
  gainOf(line: string): Gain
}

/** How one piece more helps: first by the urgency it serves, then by misfit (weighted thousandths; may rise as more are served). */
export interface Gain {
  readonly served: number
  readonly misfitLess: number
}

/** Pieces of one line at one place that nobody is promised and no rule keeps. */
interface Spare {
  readonly line: string
  readonly place: string
  pieces: number
}

/**
 * Gives out pieces to all who ask, at once. First what is put aside for somebody, then what somebody decided on, each in
 * the order of the requests; of the rest as much urgency as possible is served, and among all ways to do that the one of
 * least weighted misfit is taken. Between equals the earlier request has what it likes best: by cost, then from its own
 * place, then by the text of line and place. The same stock and requests give the same answer in any order of the stock.
 */
export const giveOut = (requests: readonly Request[], stock: Stock, places?: readonly string[]): GivenOut => {
  const isWithin = ({ place }: { readonly place: string }): boolean => places === undefined || places.includes(place)
  const spares = sparesOf(stock).filter(isWithin)
  const whyNone = reasonsOf(stock.lines.filter(isWithin), spares)
  const answers = new Map(honourReservations(requests, stock.lines, isWithin))
  const unservedChosen: Request[] = []
  for (const request of requests) {
    if (answers.has(request) || request.chosen === null) continue
    const given = takeChosen(request.chosen, request.place, spares)
    if (!given) unservedChosen.push(request)
    answers.set(request, given ?? whyNone([request.chosen]))
  }

  const open = requests.filter(request => !answers.has(request))
  const { problem, allocation, serving } = match(open, spares)
  for (const [row, request] of open.entries()) {
    const spare = spares[allocation.columnOf[row] ?? -1]
    const given: Answer = spare
      ? { line: spare.line, place: spare.place, how: 'matched' }
      : whyNone(request.lines.map(({ line }) => line))
    answers.set(request, given)
  }

  return {
    answers: requests.map(request => {
      const answer = answers.get(request)
      if (answer === undefined) throw new Error(`no answer for case ${request.case}`)
      return answer
    }),
    gainOf: line => {
      // Who decided on the line goes first, as ever; then the piece is theirs.
      const chooser = unservedChosen.find(({ chosen }) => chosen === line)
      if (chooser) return { served: chooser.weight, misfitLess: 0 - weighted(chooser, costOf(chooser, line) ?? 0) }
      const costs = open.map(request => weighted(request, costOf(request, line) ?? Number.POSITIVE_INFINITY))
      const gain = gainOfOneMore(problem, allocation, costs)
      const served = Math.round(gain / serving)
      return { served, misfitLess: gain - served * serving }
    },
  }
}

/** By line, then by place. */
const sparesOf = ({ lines, keeps }: Stock): readonly Spare[] =>
  lines
    .map(({ line, place, free }): Spare => {
      const kept = keeps.find(keep => keep.line === line && keep.place === place)?.amount ?? 0
      return { line, place, pieces: Math.max(0, free - kept) }
    })
    .sort((a, b) => compareText(a.line, b.line) || compareText(a.place, b.place))

/** Why none of some lines is given. To be asked for before any spare is taken: what was spare then went to others. */
const reasonsOf = (lines: Stock['lines'], spares: readonly Spare[]): ((asked: readonly string[]) => NothingGiven) => {
  const there = new Set(lines.filter(({ onHand }) => onHand > 0).map(({ line }) => line))
  const spare = new Set(spares.filter(({ pieces }) => pieces > 0).map(({ line }) => line))
  return asked => {
    if (asked.some(line => spare.has(line))) return 'others-first'
    return asked.some(line => there.has(line)) ? 'kept-back' : 'not-in-stock'
  }
}

const takeChosen = (line: string, place: string | null, spares: readonly Spare[]): GivenPiece | undefined => {
  const ofLine = spares.filter(one => one.line === line && one.pieces > 0)
  const spare = ofLine.find(one => one.place === place) ?? ofLine[0]
  if (!spare) return undefined
  spare.pieces -= 1
  return { line, place: spare.place, how: 'chosen' }
}

const costOf = ({ lines }: Request, line: string): number | undefined => lines.find(one => one.line === line)?.cost
const weighted = ({ weight }: Request, cost: number): number => weight * cost

/**
 * Pieces put aside are given to those they are for, as far as there are any: one promised to two is the first one's, and
 * what is promised to somebody who asks for nothing today stays theirs.
 */
const honourReservations = (
  requests: readonly Request[],
  lines: Stock['lines'],
  isWithin: (line: { readonly place: string }) => boolean,
): ReadonlyMap<Request, Answer> => {
  const answers = new Map<Request, Answer>()
  const asking = new Set(requests.map(request => request.case))
  const left = new Map(
    lines.map(line => {
      const elsewhere = line.reserved.reduce((sum, one) => (asking.has(one.case) ? sum : sum + one.amount), 0)
      return [line, Math.max(0, line.onHand - elsewhere)]
    }),
  )
  for (const request of requests) {
    const { chosen } = request
    const mine = lines.filter(({ reserved }) => reserved.some(one => one.case === request.case))
    if (mine.length === 0) continue
    const fitting = mine
      .filter(({ line }) => (chosen === null ? costOf(request, line) !== undefined : line === chosen))
      .sort(
        (a, b) =>
          (costOf(request, a.line) ?? 0) - (costOf(request, b.line) ?? 0) ||
          Number(b.place === request.place) - Number(a.place === request.place) ||
          compareText(a.line, b.line) ||
          compareText(a.place, b.place),
      )
    const there = fitting.find(line => isWithin(line) && (left.get(line) ?? 0) > 0)
    if (there) {
      left.set(there, (left.get(there) ?? 0) - 1)
      answers.set(request, { line: there.line, place: there.place, how: 'reserved' })
    } else if (fitting.some(isWithin)) answers.set(request, 'promised-twice')
    else if (fitting.length > 0) answers.set(request, 'reserved-elsewhere')
    else answers.set(request, chosen === null ? 'reserved-does-not-serve' : 'reserved-is-not-chosen')
  }
  return answers
}

interface Matching {
  readonly problem: AllocationProblem
  readonly allocation: Allocation
  /** What serving one point of urgency outweighs: more than twice all misfit together. */
  readonly serving: number
}

const match = (open: readonly Request[], spares: readonly Spare[]): Matching => {
  const costs = open.map(request => {
    const byLine = new Map<string, number>()
    for (const { line, cost } of request.lines) if (!byLine.has(line)) byLine.set(line, weighted(request, cost))
    return spares.map(({ line }) => byLine.get(line) ?? Number.POSITIVE_INFINITY)
  })
  const most = open.map(request =>
    request.lines.reduce((greatest, { cost }) => Math.max(greatest, weighted(request, cost)), 0),
  )
  const serving = 2 * most.reduce((sum, one) => sum + one, 0) + 1
  const leftOutCosts = open.map(({ weight }) => weight * serving)
  const bound = leftOutCosts.reduce((sum, one) => sum + one, 0)
  if (!Number.isSafeInteger(2 * bound)) throw new RangeError(`too many wait to be weighed exactly: ${open.length}`)
  const isAway = (row: number, column: number): number => Number(spares[column]?.place !== open[row]?.place)
  const problem: AllocationProblem = {
    costs,
    pieces: spares.map(({ pieces }) => pieces),
    leftOutCosts,
    compareEqual: (row, a, b) => isAway(row, a) - isAway(row, b),
  }
  return { problem, allocation: allocate(problem), serving }
}
