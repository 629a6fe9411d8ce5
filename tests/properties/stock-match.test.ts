import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Stock, StockLine } from '../../src/crew/stock.ts'
import { matchStock } from '../../src/trip/stock-match.ts'
import type { Offer, WaitingPerson } from '../../src/trip/waiting.ts'
import { runs } from '../support/seed.ts'
import { aCase } from '../support/team-entries.ts'

const LINES = ['chair a 300 x 300', 'chair a 340 x 300', 'chair b 400 x 400', 'chair b 440 x 400'] as const
const CUSHIONS = ['cushion foam', 'cushion gel'] as const
const PLACES = ['Ambrel', 'Dorrow'] as const
const NAMES = ['anka', 'bolo', 'cerys', 'davi', 'esme'] as const

const offersFor = fc
  .uniqueArray(
    fc.record({
      chair: fc.constantFrom(...LINES),
      cushion: fc.constantFrom(...CUSHIONS),
      misfit: fc.integer({ min: 0, max: 6 }),
    }),
    { selector: ({ chair, cushion }) => `${chair} ${cushion}`, maxLength: 5 },
  )
  .map((offers): Offer[] => offers.toSorted((a, b) => a.misfit - b.misfit))

const personOf = (name: string, choose: boolean): fc.Arbitrary<WaitingPerson> =>
  fc
    .record({
      place: fc.constantFrom(...PLACES, null),
      weight: fc.integer({ min: 1, max: 3 }),
      offers: offersFor,
      chosen: choose
        ? fc.option(fc.record({ chair: fc.constantFrom(...LINES), cushion: fc.constantFrom(...CUSHIONS) }), { freq: 2 })
        : fc.constant(null),
      held: choose ? fc.integer({ min: 0, max: 5 }).map(roll => roll === 0) : fc.constant(false),
    })
    .map(({ place, weight, offers, chosen, held }) => ({
      case: aCase(name),
      place,
      since: null,
      urgency: { weight, grounds: [] },
      barred: held ? { type: 'held', holds: ['present-sore'] } : null,
      chosen,
      offers,
      holds: [],
    }))

const peopleOf = (choose: boolean) => fc.tuple(...NAMES.map(name => personOf(name, choose)))

const stockOfLines = (promise: boolean): fc.Arbitrary<Stock> =>
  fc
    .record({
      onHand: fc.array(fc.integer({ min: promise ? -1 : 0, max: 2 }), { minLength: 12, maxLength: 12 }),
      promises: fc.array(fc.record({ at: fc.nat(11), name: fc.constantFrom(...NAMES) }), {
        maxLength: promise ? 4 : 0,
      }),
      keep: fc.array(fc.nat(2), { minLength: 12, maxLength: 12 }),
    })
    .map(({ onHand, promises, keep }) => {
      const kinds = [...LINES, ...CUSHIONS].flatMap(line => PLACES.map(place => ({ line, place })))
      const lines = kinds.map(({ line, place }, index): StockLine => {
        const reserved = promises.filter(one => one.at === index).map(one => ({ case: aCase(one.name), amount: 1 }))
        const there = onHand[index] ?? 0
        return { line, place, onHand: there, reserved, free: there - reserved.length }
      })
      const keeps = kinds.map((kind, index) => ({ ...kind, amount: promise ? (keep[index] ?? 0) : 0 }))
      return { lines, keeps: keeps.filter(({ amount }) => amount > 0), differences: [] }
    })

/** By trying every way to give out the chairs: the most urgency served, and the least weighted misfit with that. */
const tryAll = (people: readonly WaitingPerson[], stock: Stock) => {
  let best = { served: 0, misfit: 0 }
  const give = (index: number, left: ReadonlyMap<string, number>, served: number, misfit: number): void => {
    const person = people[index]
    if (!person) {
      if (served > best.served || (served === best.served && misfit < best.misfit)) best = { served, misfit }
      return
    }
    const { weight } = person.urgency
    for (const { chair, misfit: points } of person.offers) {
      const pieces = left.get(chair) ?? 0
      if (pieces === 0) continue
      give(index + 1, new Map([...left, [chair, pieces - 1]]), served + weight, misfit + weight * points)
    }
    give(index + 1, left, served, misfit)
  }
  const pieces = new Map<string, number>()
  for (const { line, onHand } of stock.lines) pieces.set(line, (pieces.get(line) ?? 0) + onHand)
  give(0, pieces, 0, 0)
  return best
}

const weighed = (people: readonly WaitingPerson[], stock: Stock) => {
  const { matched } = matchStock(people, stock)
  let [served, misfit] = [0, 0]
  for (const { case: id, chair } of matched) {
    const person = people.find(one => one.case === id)
    const points = person?.offers.find(offer => offer.chair === chair.line)?.misfit
    if (!person || points === undefined) throw new Error(`${id} was given ${chair.line}, which does not serve`)
    served += person.urgency.weight
    misfit += person.urgency.weight * points
  }
  return { served, misfit }
}

it('neither beats the trial of every way to give out the chairs nor loses to it', () => {
  fc.assert(
    fc.property(peopleOf(false), stockOfLines(false), (people, stock) => {
      expect(weighed(people, stock)).toEqual(tryAll(people, stock))
    }),
    runs(200),
  )
})

it('says of one chair more exactly what trying it out shows, and leaves out no line that would help', () => {
  fc.assert(
    fc.property(peopleOf(false), stockOfLines(false), (people, stock) => {
      const now = tryAll(people, stock)
      const tried = LINES.flatMap(line => {
        const extra = { line, place: 'elsewhere', onHand: 1, reserved: [], free: 1 }
        const then = tryAll(people, { ...stock, lines: [...stock.lines, extra] })
        const gain = { served: then.served - now.served, misfitLess: now.misfit - then.misfit }
        return gain.served > 0 || gain.misfitLess > 0 ? [{ line, gain }] : []
      })
      const said = matchStock(people, stock).oneMore
      expect(said.toSorted((a, b) => (a.line < b.line ? -1 : 1))).toEqual(tried)
    }),
    runs(150),
  )
})

it('whatever is promised, decided on, kept or below zero: everybody stands in one list once, and no piece is given twice', () => {
  fc.assert(
    fc.property(peopleOf(true), stockOfLines(true), (people, stock) => {
      const { matched, without } = matchStock(people, stock)
      const listed = [...matched, ...without].map(one => one.case)
      expect(listed.toSorted()).toEqual(people.map(one => one.case).toSorted())

      for (const { case: id, chair } of matched) {
        const person = people.find(one => one.case === id)
        expect(person?.barred).toBeNull()
        if (person?.chosen) expect(chair.line).toBe(person.chosen.chair)
        else expect(person?.offers.map(offer => offer.chair)).toContain(chair.line)
      }
      const cushions = matched.flatMap(({ cushion }) => (typeof cushion === 'string' ? [] : [cushion]))
      for (const given of [matched.map(({ chair }) => chair), cushions])
        for (const line of stock.lines) {
          const here = given.filter(one => one.line === line.line && one.place === line.place)
          const open = here.filter(one => one.how !== 'reserved').length
          const keep = stock.keeps.find(one => one.line === line.line && one.place === line.place)?.amount ?? 0
          expect(open).toBeLessThanOrEqual(Math.max(0, line.free - keep))
          expect(here.length).toBeLessThanOrEqual(Math.max(0, line.onHand))
        }
      // A piece put aside for one is never another's: whoever has one put aside has that, or waits for a word about it.
      for (const { case: id, chair } of matched) {
        const aside = stock.lines.filter(
          line => line.line.startsWith('chair') && line.reserved.some(one => one.case === id),
        )
        if (aside.length === 0) expect(chair.how).not.toBe('reserved')
        else expect(aside.map(({ line, place }) => ({ line, place, how: 'reserved' }))).toContainEqual(chair)
      }
    }),
    runs(300),
  )
})

it('gives the same text whatever the order of people and of stock', () => {
  fc.assert(
    fc.property(
      peopleOf(true),
      stockOfLines(true),
      fc.shuffledSubarray([...NAMES.keys()], { minLength: NAMES.length }),
      fc.shuffledSubarray([...Array(12).keys()], { minLength: 12 }),
      (people, stock, order, lineOrder) => {
        const turned = order.flatMap(index => people[index] ?? [])
        const lines = lineOrder.flatMap(index => stock.lines[index] ?? [])
        const again = matchStock(turned, { ...stock, lines, keeps: stock.keeps.toReversed() })
        expect(JSON.stringify(again)).toBe(JSON.stringify(matchStock(people, stock)))
      },
    ),
    runs(200),
  )
})
