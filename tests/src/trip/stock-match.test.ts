import { describe, expect, it, test } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { crewOf } from '../../../src/crew/crew.ts'
import { type Stock, stockOf } from '../../../src/crew/stock.ts'
import { matchStock, type StockMatch } from '../../../src/trip/stock-match.ts'
import type { Barred, Offer, WaitingPerson } from '../../../src/trip/waiting.ts'
import { aCase, founded, teamSaid } from '../../support/team-entries.ts'

const SMALL = 'chair trail-folding 340 x 400'
const MIDDLE = 'chair trail-folding 400 x 440'
const LARGE = 'chair trail-folding 460 x 480'
const FOAM = 'cushion flat-foam'
const GEL = 'cushion high-relief'

const offer = (chair: string, points: number, cushion = FOAM): Offer => ({ chair, cushion, misfit: points * 1000 })

const waits = (
  name: string,
  offers: readonly Offer[],
  more: { weight?: number; since?: string; place?: string; chosen?: WaitingPerson['chosen']; barred?: Barred } = {},
): WaitingPerson => ({
  case: aCase(name),
  place: more.place ?? 'Dorrow',
  since: more.since === undefined ? null : toCalendarDate(more.since),
  urgency: { weight: more.weight ?? 1, grounds: [] },
  barred: more.barred ?? null,
  chosen: more.chosen ?? null,
  offers,
  holds: [],
})

const inStock = (...movements: readonly (readonly [line: string, amount: number, place?: string])[]) =>
  movements.map(([line, amount, place = 'store']) => teamSaid('ana', { movement: { line, place, amount } }))
const putAside = (line: string, name: string, place = 'store') =>
  teamSaid('ana', { reservation: { line, place, amount: 1, case: aCase(name) } })
const keep = (line: string, amount: number) => teamSaid('ana', { keep: { line, place: 'store', amount } })

const stockFrom = (...said: readonly ReturnType<typeof teamSaid>[]): Stock => {
  const entries = [founded('ana'), ...said]
  return stockOf(crewOf(entries), entries)
}

/** `{ anka: 'chair …' }`, or the reason why not. */
const chairsIn = (match: StockMatch, names: readonly string[]) =>
  Object.fromEntries(
    names.map(name => {
      const given = match.matched.find(one => one.case === aCase(name))
      const without = match.without.find(one => one.case === aCase(name))
      return [name, given ? given.chair.line : without?.why.type]
    }),
  )

describe('matching people to stock', () => {
  it('gives each the best for the whole group, not the best for whoever comes first', () => {
    // By hand: first come first served gives anka 0 and bolo 30; the other way round is 5 and 0.
    const people = [
      waits('anka', [offer(MIDDLE, 0), offer(LARGE, 5)], { since: '2026-01-01' }),
      waits('bolo', [offer(MIDDLE, 0), offer(LARGE, 30)], { since: '2026-02-01' }),
    ]
    const match = matchStock(people, stockFrom(...inStock([MIDDLE, 1], [LARGE, 1])))
    expect(chairsIn(match, ['anka', 'bolo'])).toEqual({ anka: LARGE, bolo: MIDDLE })
    expect(match.matched.map(one => [one.choice, one.misfit, one.best])).toEqual([
      [2, 5000, MIDDLE],
      [1, 0, MIDDLE],
    ])
  })

  it('serves as many as it can, and of those who cannot all be served the more urgent', () => {
    // By hand: two chairs for three people, one of whom can only have the middle one.
    const people = [
      waits('anka', [offer(MIDDLE, 0), offer(LARGE, 20)]),
      waits('bolo', [offer(MIDDLE, 0)], { weight: 2 }),
      waits('cerys', [offer(LARGE, 0), offer(MIDDLE, 0)], { weight: 3 }),
    ]
    const match = matchStock(people, stockFrom(...inStock([MIDDLE, 1], [LARGE, 1])))
    expect(chairsIn(match, ['anka', 'bolo', 'cerys'])).toEqual({ anka: 'others-first', bolo: MIDDLE, cerys: LARGE })
  })

  it('between equals, who waits longer has what fits better, and all else equal the chair of the own place', () => {
    const offers = [offer(MIDDLE, 0), offer(LARGE, 5)]
    const people = [
      waits('late', offers, { since: '2026-05-01', place: 'Ambrel' }),
      waits('early', offers, { since: '2026-04-01', place: 'Dorrow' }),
    ]
    const match = matchStock(
      people,
      stockFrom(...inStock([MIDDLE, 1, 'Ambrel'], [LARGE, 1, 'Ambrel'], [LARGE, 1, 'Dorrow'])),
    )
    expect(match.matched.map(one => [one.case, one.chair])).toEqual([
      [aCase('early'), { line: MIDDLE, place: 'Ambrel', how: 'matched' }],
      [aCase('late'), { line: LARGE, place: 'Ambrel', how: 'matched' }],
    ])
  })

  it('what somebody decided on is theirs before any matching, and nothing else is given instead', () => {
    const people = [
      waits('urgent', [offer(MIDDLE, 0)], { weight: 5 }),
      waits('decided', [offer(MIDDLE, 9), offer(LARGE, 0)], { chosen: { chair: MIDDLE, cushion: FOAM } }),
      waits('too-late', [offer(LARGE, 0)], { chosen: { chair: SMALL, cushion: FOAM } }),
    ]
    const match = matchStock(people, stockFrom(...inStock([MIDDLE, 1], [LARGE, 1])))
    expect(chairsIn(match, ['urgent', 'decided', 'too-late'])).toEqual({
      urgent: 'others-first',
      decided: MIDDLE,
      'too-late': 'not-in-stock',
    })
  })

  it('what is put aside for somebody is given to nobody else, whether or not they can have it today', () => {
    const stock = stockFrom(...inStock([MIDDLE, 1], [LARGE, 1]), putAside(MIDDLE, 'away'), putAside(LARGE, 'held'))
    const people = [
      waits('urgent', [offer(MIDDLE, 0), offer(LARGE, 0)], { weight: 5 }),
      waits('held', [offer(LARGE, 0)], { barred: { type: 'held', holds: ['present-sore'] } }),
      waits('away', [offer(LARGE, 0), offer(MIDDLE, 40)]),
    ]
    const match = matchStock(people, stock)
    expect(chairsIn(match, ['urgent', 'held', 'away'])).toEqual({ urgent: 'kept-back', held: 'held', away: MIDDLE })
    expect(match.matched[0]?.chair.how).toBe('reserved')
  })

  it('a chair put aside that does not serve, or is not the one decided on, waits for a person', () => {
    const stock = stockFrom(...inStock([SMALL, 2], [MIDDLE, 1]), putAside(SMALL, 'grown'), putAside(SMALL, 'decided'))
    const people = [
      waits('grown', [offer(MIDDLE, 0)]),
      waits('decided', [offer(SMALL, 3), offer(MIDDLE, 0)], { chosen: { chair: MIDDLE, cushion: FOAM } }),
    ]
    expect(chairsIn(matchStock(people, stock), ['grown', 'decided'])).toEqual({
      grown: 'reserved-does-not-serve',
      decided: 'reserved-is-not-chosen',
    })
  })

  it('of a chair promised to two, the first in turn has it and the other is told', () => {
    const stock = stockFrom(...inStock([MIDDLE, 1], [LARGE, 1]), putAside(MIDDLE, 'anka'), putAside(MIDDLE, 'bolo'))
    const people = [
      waits('anka', [offer(MIDDLE, 0)]),
      waits('bolo', [offer(MIDDLE, 0), offer(LARGE, 0)], { weight: 2 }),
    ]
    expect(chairsIn(matchStock(people, stock), ['anka', 'bolo'])).toEqual({ anka: 'promised-twice', bolo: MIDDLE })
    expect(stock.differences.map(one => one.type)).toEqual(['stock-promised-twice'])
  })

  it('a reserve rule keeps its pieces from matching, and of two rules made apart the greater stands', () => {
    const people = [waits('anka', [offer(MIDDLE, 0)]), waits('bolo', [offer(MIDDLE, 0)])]
    const three = inStock([MIDDLE, 3])
    const gives = (...rules: readonly ReturnType<typeof keep>[]) =>
      matchStock(people, stockFrom(...three, ...rules)).matched.length
    expect(gives()).toBe(2)
    expect(gives(keep(MIDDLE, 2))).toBe(1)
    expect(gives(keep(MIDDLE, 1), keep(MIDDLE, 3))).toBe(0)
    const first = keep(MIDDLE, 3)
    const ended = teamSaid('ana', { keep: { line: MIDDLE, place: 'store', amount: 0 } }, [first.id])
    expect(gives(first, ended)).toBe(2)
  })

  it('names the chair that would help most, for whom, and what moves with it', () => {
    // By hand: one more middle chair goes to anka, whose large one then serves cerys; a small one would only help cerys less.
    const people = [
      waits('anka', [offer(MIDDLE, 0), offer(LARGE, 5)], { weight: 2 }),
      waits('cerys', [offer(LARGE, 0), offer(SMALL, 1)]),
    ]
    const match = matchStock(people, stockFrom(...inStock([LARGE, 1])))
    expect(chairsIn(match, ['anka', 'cerys'])).toEqual({ anka: LARGE, cerys: 'others-first' })
    expect(match.oneMore).toEqual([
      { line: MIDDLE, gain: { served: 1, misfitLess: 10_000 } },
      { line: LARGE, gain: { served: 1, misfitLess: 0 } },
      { line: SMALL, gain: { served: 1, misfitLess: -1000 } },
    ])
    expect(match.withOneMore).toEqual([
      { case: aCase('anka'), from: LARGE, to: MIDDLE },
      { case: aCase('cerys'), from: null, to: LARGE },
    ])
  })

  it('gives cushions by urgency among the chairs that were given, and says where one is short', () => {
    const people = [
      waits('dry', [offer(MIDDLE, 0, GEL), offer(MIDDLE, 4, FOAM)]),
      waits('sore', [offer(MIDDLE, 0, GEL)], { weight: 2 }),
      waits('second', [offer(MIDDLE, 0, GEL)]),
    ]
    const match = matchStock(people, stockFrom(...inStock([MIDDLE, 3], [GEL, 1], [FOAM, 5])))
    const cushions = Object.fromEntries(match.matched.map(one => [one.case, one.cushion]))
    expect(cushions).toEqual({
      [aCase('dry')]: { line: FOAM, place: 'store', how: 'matched' },
      [aCase('sore')]: { line: GEL, place: 'store', how: 'matched' },
      [aCase('second')]: 'others-first',
    })
  })

  it('uses the stock of the places it is told, all of them when told nothing', () => {
    const people = [waits('anka', [offer(MIDDLE, 0)])]
    const stock = stockFrom(...inStock([MIDDLE, 1, 'far store']))
    expect(matchStock(people, stock, ['store']).without[0]?.why).toEqual({ type: 'not-in-stock' })
    expect(matchStock(people, stock, ['far store']).matched).toHaveLength(1)
    expect(matchStock(people, stock).matched).toHaveLength(1)
  })

  it('who has a chair put aside where this trip does not load is given no second one', () => {
    const stock = stockFrom(...inStock([MIDDLE, 1], [MIDDLE, 1, 'far store']), putAside(MIDDLE, 'anka', 'far store'))
    const people = [waits('anka', [offer(MIDDLE, 0)])]
    expect(chairsIn(matchStock(people, stock, ['store']), ['anka'])).toEqual({ anka: 'reserved-elsewhere' })
    expect(matchStock(people, stock).matched[0]?.chair).toMatchObject({ place: 'far store', how: 'reserved' })
  })
})

test('a line given out twice by a merge stands below zero, is named, and gives nobody a chair', () => {
  const stock = stockFrom(...inStock([MIDDLE, 1], [MIDDLE, -1], [MIDDLE, -1]))
  const match = matchStock([waits('anka', [offer(MIDDLE, 0)])], stock)
  expect(stock.differences).toEqual([{ type: 'stock-below-zero', line: MIDDLE, place: 'store', pieces: -1 }])
  expect(match.without.map(one => one.why)).toEqual([{ type: 'not-in-stock' }])
})
