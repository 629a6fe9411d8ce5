import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type AllocationProblem, allocate, gainOfOneMore } from '../../src/trip/allocate.ts'
import { runs } from '../support/seed.ts'

/** Few different costs, so that equals are the rule; a third of the pairs forbidden. */
const cost = fc.oneof(
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 4 }) },
  { weight: 1, arbitrary: fc.constant(Number.POSITIVE_INFINITY) },
)
const problem: fc.Arbitrary<AllocationProblem> = fc
  .record({ rows: fc.integer({ min: 0, max: 5 }), columns: fc.integer({ min: 0, max: 4 }) })
  .chain(({ rows, columns }) =>
    fc.record({
      costs: fc.array(fc.array(cost, { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows }),
      pieces: fc.array(fc.integer({ min: 0, max: 3 }), { minLength: columns, maxLength: columns }),
      leftOutCosts: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: rows, maxLength: rows }),
    }),
  )

interface Tried {
  readonly columnOf: readonly (number | null)[]
  readonly totalCost: number
  /** For each row the place of its column among the columns as the row likes them: by cost, by number, left out last. */
  readonly liking: readonly number[]
}

/** Every way to give out the pieces: slow, and nothing to get wrong. */
const everyAllocation = ({ costs, pieces, leftOutCosts }: AllocationProblem): Tried[] => {
  const all: Tried[] = []
  const give = (taken: readonly (number | null)[], left: readonly number[], totalCost: number): void => {
    const row = taken.length
    const rowCosts = costs[row]
    if (!rowCosts) {
      const liking = taken.map((column, of) => {
        const liked = [...(costs[of] ?? []).entries()].sort(([a, x], [b, y]) => x - y || a - b).map(([index]) => index)
        return column === null ? liked.length : liked.indexOf(column)
      })
      all.push({ columnOf: taken, totalCost, liking })
      return
    }
    for (const [column, one] of rowCosts.entries())
      if ((left[column] ?? 0) > 0 && Number.isFinite(one))
        give([...taken, column], left.with(column, (left[column] ?? 0) - 1), totalCost + one)
    give([...taken, null], left, totalCost + (leftOutCosts[row] ?? 0))
  }
  give([], pieces, 0)
  return all
}

const before = (a: Tried, b: Tried): number => {
  const place = a.liking.findIndex((value, row) => value !== b.liking[row])
  return a.totalCost - b.totalCost || (a.liking[place] ?? 0) - (b.liking[place] ?? 0)
}
const bestOf = (one: AllocationProblem): Tried => {
  const [first, ...others] = everyAllocation(one)
  if (!first) throw new Error('leaving all out is always one way')
  return others.reduce((best, tried) => (before(tried, best) < 0 ? tried : best), first)
}

describe('allocating', () => {
  it('equals the trial of every allocation: the least total, and between equals the first row what it likes best', () => {
    fc.assert(
      fc.property(problem, one => {
        const { columnOf, totalCost } = allocate(one)
        const best = bestOf(one)
        expect({ columnOf, totalCost }).toEqual({ columnOf: best.columnOf, totalCost: best.totalCost })
      }),
      runs(600),
    )
  })

  it('one piece more of any kind, of a new kind too, lowers the total by what trying it out shows', () => {
    const withCosts = problem.chain(one =>
      fc.record({
        one: fc.constant(one),
        costs: fc.array(cost, { minLength: one.costs.length, maxLength: one.costs.length }),
      }),
    )
    fc.assert(
      fc.property(withCosts, ({ one, costs }) => {
        const allocation = allocate(one)
        const grown = {
          ...one,
          costs: one.costs.map((row, index) => [...row, costs[index] ?? 0]),
          pieces: [...one.pieces, 1],
        }
        expect(gainOfOneMore(one, allocation, costs)).toBe(bestOf(one).totalCost - bestOf(grown).totalCost)
        for (const [column, pieces] of one.pieces.entries()) {
          const more = { ...one, pieces: one.pieces.with(column, pieces + 1) }
          const columnCosts = one.costs.map(row => row[column] ?? 0)
          const gain = bestOf(one).totalCost - bestOf(more).totalCost
          expect(gainOfOneMore(one, allocation, columnCosts)).toBe(gain)
        }
      }),
      runs(150),
    )
  })

  it('the order of the columns changes nothing but their numbers', () => {
    const shuffled = problem.chain(one =>
      fc.record({
        one: fc.constant(one),
        order: fc.shuffledSubarray([...one.pieces.keys()], { minLength: one.pieces.length }),
      }),
    )
    fc.assert(
      fc.property(shuffled, ({ one, order }) => {
        const turned: AllocationProblem = {
          costs: one.costs.map(row => order.map(column => row[column] ?? 0)),
          pieces: order.map(column => one.pieces[column] ?? 0),
          leftOutCosts: one.leftOutCosts,
          compareEqual: (_, a, b) => (order[a] ?? 0) - (order[b] ?? 0),
        }
        const back = allocate(turned).columnOf.map(column => (column === null ? null : (order[column] ?? null)))
        expect(back).toEqual(allocate(one).columnOf)
      }),
      runs(200),
    )
  })
})
