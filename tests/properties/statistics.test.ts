import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addTo, type Histogram, mergeInto, quantileOf, spreadOf } from '../../src/statistics/histogram.ts'
import { logRank } from '../../src/statistics/log-rank.ts'
import { addMeasured, measurementError, mergeAgreement, noAgreement } from '../../src/statistics/measurement-error.ts'
import {
  addLifetime,
  type Lifetimes,
  medianLifetime,
  mergeLifetimes,
  noLifetimes,
  survivalOf,
} from '../../src/statistics/survival.ts'
import { wilsonInterval } from '../../src/statistics/wilson.ts'
import { runs } from '../support/seed.ts'

const lived = fc.array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.boolean()), { maxLength: 30 })
const lifetimesOf = (all: readonly (readonly [number, boolean])[]): Lifetimes => {
  const lifetimes = noLifetimes()
  for (const [days, hasFailed] of all) addLifetime(lifetimes, days, hasFailed)
  return lifetimes
}
const histogramOf = (values: readonly number[]): Histogram => {
  const histogram: Histogram = new Map()
  for (const value of values) addTo(histogram, value)
  return histogram
}

describe('what is counted in parts', () => {
  it('lifetimes of two groups added up are those of both together', () => {
    fc.assert(
      fc.property(lived, lived, (first, second) => {
        const both = lifetimesOf(first)
        mergeLifetimes(both, lifetimesOf(second))
        expect(survivalOf(both)).toEqual(survivalOf(lifetimesOf([...first, ...second])))
      }),
      runs(100),
    )
  })

  it('agreement counted in two parts, in any order, is that of all at once, to the last bit', () => {
    const people = fc.array(fc.array(fc.integer({ min: 0, max: 9000 }), { maxLength: 5 }), { maxLength: 20 })
    fc.assert(
      fc.property(people, people, (first, second) => {
        const [part, all] = [noAgreement(), noAgreement()]
        const other = noAgreement()
        for (const values of second) addMeasured(part, values)
        for (const values of first) addMeasured(other, values)
        mergeAgreement(part, other)
        for (const values of [...first, ...second]) addMeasured(all, values)
        expect(measurementError(part)).toEqual(measurementError(all))
      }),
      runs(100),
    )
  })

  it('a quartile lies where as many values lie on either side as its share says', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 60 }), values => {
        const [first, second] = [histogramOf(values.slice(0, 20)), histogramOf(values.slice(20))]
        mergeInto(first, second)
        for (const share of [0, 0.25, 0.5, 0.75, 1]) {
          const quantile = quantileOf(first, share) ?? Number.NaN
          const place = (values.length - 1) * share
          expect(values.filter(value => value < quantile).length).toBeLessThanOrEqual(Math.ceil(place))
          expect(values.filter(value => value > quantile).length).toBeLessThanOrEqual(
            Math.ceil(values.length - 1 - place),
          )
        }
      }),
      runs(100),
    )
  })
})

describe('survival', () => {
  it('without losses from sight is the share that is left', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 40 }), days => {
        for (const step of survivalOf(lifetimesOf(days.map(one => [one, true]))))
          expect(step.survival).toBeCloseTo(days.filter(one => one > step.days).length / days.length, 12)
      }),
      runs(100),
    )
  })

  it('never rises, and lies within its interval, which lies within 0 and 1', () => {
    fc.assert(
      fc.property(lived, all => {
        let before = 1
        for (const { survival, interval } of survivalOf(lifetimesOf(all))) {
          expect(survival).toBeLessThanOrEqual(before)
          before = survival
          if (!interval) continue
          expect(interval.low).toBeGreaterThanOrEqual(0)
          expect(interval.low).toBeLessThanOrEqual(survival)
          expect(interval.high).toBeGreaterThanOrEqual(survival)
          expect(interval.high).toBeLessThanOrEqual(1)
        }
      }),
      runs(100),
    )
  })

  it('what is lost from sight on the day of a failure was at risk on it (Kaplan and Meier 1958)', () => {
    const [step] = survivalOf(
      lifetimesOf([
        [5, true],
        [5, false],
        [9, false],
      ]),
    )
    expect(step).toMatchObject({ days: 5, atRisk: 3, failed: 1 })
  })

  it('has no median while more than half last', () => {
    expect(
      medianLifetime(
        survivalOf(
          lifetimesOf([
            [5, true],
            [9, false],
            [9, false],
          ]),
        ),
      ),
    ).toBeNull()
    expect(medianLifetime([])).toBeNull()
  })

  it('as many failures are expected as were seen, and a group differs not from itself', () => {
    fc.assert(
      fc.property(lived, lived, (first, second) => {
        const test = logRank(lifetimesOf(first), lifetimesOf(second))
        if (!test) return
        expect(test.expected[0] + test.expected[1]).toBeCloseTo(test.observed[0] + test.observed[1], 9)
        expect(test.probability).toBeGreaterThanOrEqual(0)
        expect(test.probability).toBeLessThanOrEqual(1)
        const same = logRank(lifetimesOf(first), lifetimesOf(first))
        expect(same?.chiSquare ?? 0).toBeCloseTo(0, 12)
      }),
      runs(100),
    )
  })

  it('compares nothing with nobody', () => {
    expect(logRank(noLifetimes(), lifetimesOf([[5, true]]))).toBeNull()
  })
})

describe('what cannot be counted', () => {
  it('is refused, or is nothing', () => {
    expect(() => wilsonInterval(3, 2)).toThrow(RangeError)
    expect(() => wilsonInterval(-1, 2)).toThrow(RangeError)
    expect(wilsonInterval(0, 0)).toBeNull()
    expect(() => addMeasured(noAgreement(), [4.5, 5])).toThrow(RangeError)
    expect(() => addTo(new Map(), 0.5)).toThrow(RangeError)
    expect(measurementError(noAgreement())).toBeNull()
    expect(spreadOf(new Map())).toEqual({ count: 0, lowerQuarter: null, median: null, upperQuarter: null })
  })

  it('one value of a person says nothing of agreement; equal values say that there is no error', () => {
    const agreement = noAgreement()
    addMeasured(agreement, [400])
    expect(measurementError(agreement)).toBeNull()
    addMeasured(agreement, [400, 400])
    expect(measurementError(agreement)).toEqual({ people: 1, error: 0, relativePercent: 0, reliability: null })
  })
})
