import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cellsToHide, LEAST_SHOWN } from '../../src/report/hide-small.ts'
import { BREAKDOWNS, MEASURES, type Measure, PARTITIONS, WAITS } from '../../src/report/measures.ts'
import { releasedReport } from '../../src/report/released-report.ts'
import type { ReportFacts } from '../../src/report/report-facts.ts'
import { ReportFold } from '../../src/report/report-fold.ts'
import { runs } from '../support/seed.ts'

/** Measures that one person can be counted in: of each partition whose whole is true of them exactly one part. */
const measures: fc.Arbitrary<readonly Measure[]> = fc
  .tuple(
    fc.subarray([...MEASURES]),
    fc.array(fc.nat(20), { minLength: PARTITIONS.length, maxLength: PARTITIONS.length }),
  )
  .map(([some, picks]) => {
    const all = new Set<Measure>(['registered', ...some])
    for (const [index, { whole, parts }] of PARTITIONS.entries()) {
      for (const part of parts) all.delete(part)
      const part = parts[(picks[index] ?? 0) % parts.length]
      if (all.has(whole) && part) all.add(part)
    }
    // A whole that is itself a part of one before is settled by then: registered comes first.
    for (const { whole, parts } of PARTITIONS) if (!all.has(whole)) for (const part of parts) all.delete(part)
    return [...all]
  })
const person: fc.Arbitrary<ReportFacts> = fc.record({
  groups: fc.record({
    sex: fc.constantFrom('male', 'female', null),
    age: fc.constantFrom('under-5', '18-59', null),
    place: fc.constantFrom('Dorrow', 'DORROW', 'Hule', 'Sorkel', null),
    provision: fc.constantFrom('first', 'replacement', null),
  }),
  measures,
  waits: fc.array(fc.record({ wait: fc.constantFrom(...WAITS), days: fc.nat(400) }), { maxLength: 3 }),
  chairs: fc.array(
    fc.nat(900).chain(days =>
      fc.record({
        days: fc.constant(days),
        faults: fc.array(fc.record({ part: fc.constantFrom('tyre', 'Tyre', 'brake'), days: fc.nat(days) }), {
          maxLength: 4,
        }),
      }),
    ),
    { maxLength: 2 },
  ),
  measured: fc.array(
    fc.record({
      field: fc.constantFrom('hipWidthMm' as const, 'massKg' as const),
      values: fc.array(fc.integer({ min: 100, max: 900 }), { minLength: 2, maxLength: 3 }),
    }),
    { maxLength: 2 },
  ),
})
const people = (most: number) => fc.array(person, { maxLength: most })
const stock = fc.array(
  fc.record({ line: fc.constantFrom('tyre', 'cushion'), used: fc.nat(9), left: fc.integer({ min: -3, max: 20 }) }),
  { maxLength: 3 },
)

const foldOf = (all: readonly ReportFacts[], lines: Parameters<ReportFold['addStock']>[0] = []): ReportFold => {
  const fold = new ReportFold()
  for (const one of all) fold.add(one)
  fold.addStock(lines)
  return fold
}

describe('a report', () => {
  it('of two casebooks folded together, in either order, is that of all their cases in any order', () => {
    fc.assert(
      fc.property(people(15), people(15), stock, stock, (first, second, lines, more) => {
        const together = foldOf([...second, ...first].toReversed(), [...lines, ...more]).report()
        for (const [a, b] of [
          [foldOf(first, lines), foldOf(second, more)],
          [foldOf(second, more), foldOf(first, lines)],
        ]) {
          if (!a || !b) throw new Error('two folds')
          const before = JSON.stringify(b.report())
          a.merge(b)
          expect(JSON.stringify(a.report())).toBe(JSON.stringify(together))
          expect(JSON.stringify(b.report())).toBe(before)
        }
      }),
      runs(100),
    )
  })

  it('adds up in every breakdown, and the parts of a whole come to the whole', () => {
    fc.assert(
      fc.property(people(30), all => {
        const { counts } = foldOf(all).report()
        const of = (measure: Measure) => counts.find(one => one.measure === measure)
        expect(of('registered')?.people).toBe(all.length)
        for (const { people: total, by } of counts)
          for (const breakdown of BREAKDOWNS)
            expect(by[breakdown].reduce((sum, one) => sum + one.people, 0)).toBe(total)
        for (const { whole, parts } of PARTITIONS)
          expect(parts.reduce((sum, part) => sum + (of(part)?.people ?? 0), 0)).toBe(of(whole)?.people)
      }),
      runs(100),
    )
  })

  it('takes every chair into the life of each part: at first all of them are at risk, and every fault ends a life', () => {
    fc.assert(
      fc.property(people(20), all => {
        const chairs = all.flatMap(one => one.chairs)
        for (const { part, faults, survival } of foldOf(all).report().parts) {
          const ofPart = chairs.flatMap(one => one.faults).filter(one => one.part.toLowerCase() === part.toLowerCase())
          expect(faults).toBe(ofPart.length)
          expect(survival.reduce((sum, step) => sum + step.failed, 0)).toBe(faults)
          expect(Math.max(...survival.map(step => step.atRisk))).toBeLessThanOrEqual(chairs.length + faults)
        }
      }),
      runs(100),
    )
  })

  it('names a place once, however it is spelled', () => {
    const at = (place: string): ReportFacts => ({
      groups: { sex: null, age: null, place, provision: null },
      measures: ['registered'],
      waits: [],
      chairs: [],
      measured: [],
    })
    const [registered] = foldOf([at('dorrow'), at('Dorrow'), at('Dörrow')]).report().counts
    expect(registered?.by.place).toEqual([{ category: 'Dorrow', people: 3 }])
  })
})

interface Linear {
  readonly variables: readonly string[]
  readonly rows: readonly { readonly coefficients: ReadonlyMap<string, number>; readonly value: number }[]
}

/**
 * Whether a hidden value follows: two different solutions are looked for by moving along the kernel of the sums. Written apart
 * from the code it judges: fractions as big integers, no rounding.
 */
const isFixed = ({ variables, rows }: Linear, name: string): boolean => {
  const columns = [...variables.filter(one => one !== name), name]
  let matrix = rows.map(({ coefficients }) => columns.map(column => BigInt(coefficients.get(column) ?? 0)))
  let done = 0
  for (let column = 0; column < columns.length - 1; column += 1) {
    const at = matrix.findIndex((row, index) => index >= done && row[column] !== 0n)
    const pivot = matrix[at]
    if (!pivot) continue
    matrix = [...matrix.slice(0, done), pivot, ...matrix.slice(done).filter(row => row !== pivot)]
    matrix = matrix.map((row, index) => {
      if (index <= done || row[column] === 0n) return row
      const [mine, its] = [row[column] ?? 0n, pivot[column] ?? 0n]
      return row.map((value, next) => value * its - (pivot[next] ?? 0n) * mine)
    })
    done += 1
  }
  // A row that is left with the one column alone gives the value away.
  return matrix.slice(done).some(row => row.at(-1) !== 0n)
}

describe('what leaves the team', () => {
  it('shows no cell under five, and none that was hidden follows from what is shown by adding and subtracting', () => {
    let hiddenCells = 0
    let shownCells = 0
    fc.assert(
      fc.property(people(60), all => {
        const whole = foldOf(all).report()
        const released = releasedReport(whole)
        const cell = (measure: string, breakdown = '', category: string | null = null) =>
          `${measure}|${breakdown}|${category}`
        const shown = new Map<string, number | null>()
        const sums: { whole: string; parts: string[] }[] = []
        for (const { measure, people: total, by } of released.counts) {
          shown.set(cell(measure), total)
          for (const breakdown of BREAKDOWNS) {
            for (const one of by[breakdown]) shown.set(cell(measure, breakdown, one.category), one.people)
            sums.push({ whole: cell(measure), parts: by[breakdown].map(one => cell(measure, breakdown, one.category)) })
          }
        }
        for (const partition of PARTITIONS) {
          sums.push({ whole: cell(partition.whole), parts: partition.parts.map(part => cell(part)) })
          const by = released.counts.find(({ measure }) => measure === partition.whole)?.by
          for (const breakdown of BREAKDOWNS)
            for (const { category } of by?.[breakdown] ?? [])
              sums.push({
                whole: cell(partition.whole, breakdown, category),
                parts: partition.parts.map(part => cell(part, breakdown, category)),
              })
        }
        const hidden = [...shown].flatMap(([name, value]) => (value === null ? [name] : []))
        for (const [name, value] of shown)
          if (value !== null) expect(value === 0 || value >= LEAST_SHOWN, name).toBe(true)
        const rows = sums.map(({ whole: sum, parts }) => {
          const coefficients = new Map<string, number>()
          const terms = [[sum, 1] as const, ...parts.map(part => [part, -1] as const)]
          for (const [name, sign] of terms)
            if (shown.get(name) === null) coefficients.set(name, (coefficients.get(name) ?? 0) + sign)
          return { coefficients, value: 0 }
        })
        hiddenCells += hidden.length
        shownCells += shown.size - hidden.length
        for (const name of hidden.slice(0, 12)) expect(isFixed({ variables: hidden, rows }, name), name).toBe(false)
      }),
      runs(12),
    )
    expect(hiddenCells).toBeGreaterThan(100)
    expect(shownCells).toBeGreaterThan(100)
  })

  it.each([
    ['one small cell takes the next smallest with it', [3, 9, 20], [0, 1]],
    ['two small ones cover each other', [3, 4, 20], [0, 1]],
    ['two of one person each do not: their sum is two', [1, 1, 20], [0, 1, 2]],
    ['nobody is nobody and stays', [0, 9, 20], []],
    ['one alone beside nobody takes the total', [3, 0, 0], [0, 'total']],
  ] as const)('%s', (_what, counts, expected) => {
    const cells = new Map<string, number>([...counts.entries()].map(([index, count]) => [`${index}`, count]))
    cells.set(
      'total',
      counts.reduce((sum: number, count) => sum + count, 0),
    )
    const hidden = cellsToHide(cells, [{ whole: 'total', parts: ['0', '1', '2'] }])
    expect([...hidden].toSorted()).toEqual(expected.map(String).toSorted())
  })

  it('a cell that two sums together give away, though neither does alone, takes another with it', () => {
    // c = 20 - 7 - x: with x shown c would follow from the two wholes.
    const cells = new Map(Object.entries({ a: 3, b: 4, c: 3, x: 10, first: 7, second: 20 }))
    const sums = [
      { whole: 'first', parts: ['a', 'b'] },
      { whole: 'second', parts: ['a', 'b', 'c', 'x'] },
    ]
    expect([...cellsToHide(cells, sums)].toSorted()).toEqual(['a', 'b', 'c', 'x'])
  })

  it('a cell hidden in rows and columns is not given away by either', () => {
    // By arithmetic: a + b, c + d, a + c and b + d are shown, and none of the four follows.
    const cells = new Map([
      ['a', 2],
      ['b', 10],
      ['c', 11],
      ['d', 12],
      ['row1', 12],
      ['row2', 23],
      ['col1', 13],
      ['col2', 22],
      ['all', 35],
    ])
    const sums = [
      { whole: 'row1', parts: ['a', 'b'] },
      { whole: 'row2', parts: ['c', 'd'] },
      { whole: 'col1', parts: ['a', 'c'] },
      { whole: 'col2', parts: ['b', 'd'] },
      { whole: 'all', parts: ['row1', 'row2'] },
      { whole: 'all', parts: ['col1', 'col2'] },
    ]
    expect([...cellsToHide(cells, sums)].toSorted()).toEqual(['a', 'b', 'c', 'd'])
  })
})
