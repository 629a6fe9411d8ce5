import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { recommend } from '../../src/fitting/recommend.ts'
import {
  anyCatalogue,
  anyPerson,
  anyPolicy,
  madeNear,
  measuredPerson,
  onEasyGround,
} from '../support/arbitrary-fitting.ts'
import { runs } from '../support/seed.ts'

const TODAY = toCalendarDate('2026-11-25')
const anyRules = fc.oneof(fc.constant(DEFAULT_POLICY), anyPolicy)

/** The places in a value where a number is none: JSON would print null there and hide it. */
const notNumbers = (value: unknown, path = ''): string[] => {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path]
  if (typeof value !== 'object' || value === null) return value === undefined ? [`${path} is undefined`] : []
  return Object.entries(value).flatMap(([key, inner]) => notNumbers(inner, `${path}/${key}`))
}

describe('a recommendation', () => {
  it('is an answer for any subset of measures, any policy and any catalogue: no exception, no NaN, what lacks is named', () => {
    let [answered, withoutBody] = [0, 0]
    fc.assert(
      fc.property(anyPerson, anyCatalogue(2), anyRules, (person, catalogue, policy) => {
        const answer = recommend(person, catalogue, policy, TODAY)
        expect(notNumbers(answer)).toEqual([])
        if (answer.options.length === 0 && answer.considered.setUps === 0)
          expect(answer.missing.some(one => one.effect === 'no-options')).toBe(true)
        else answered += 1
        if (answer.considered.setUps === 0) withoutBody += 1
      }),
      runs(400),
    )
    expect(answered).toBeGreaterThan(20)
    expect(withoutBody).toBeGreaterThan(20)
  })

  it('accounts for every set-up of the catalogue: ranked and excluded add up', () => {
    fc.assert(
      fc.property(measuredPerson, anyCatalogue(2), anyRules, (person, catalogue, policy) => {
        const { considered, excluded } = recommend(person, catalogue, policy, TODAY)
        expect(considered.ranked + excluded.reduce((sum, row) => sum + row.setUps, 0)).toBe(considered.setUps)
      }),
      runs(150),
    )
  })

  it('never gives wider hips a narrower seat', () => {
    let compared = 0
    fc.assert(
      fc.property(measuredPerson, anyCatalogue(1), fc.integer({ min: 1, max: 60 }), (anyone, made, wider) => {
        const person = { ...onEasyGround(anyone), hipWidthMm: Math.min(anyone.hipWidthMm ?? 380, 600) }
        const wide = { ...person, hipWidthMm: person.hipWidthMm + wider }
        const near = madeNear(made, person)
        const widths = Array.from({ length: 60 }, (_, index) => 200 + index * 12)
        const every = { ...near, models: near.models.map(model => ({ ...model, seatWidthsMm: widths })) }
        const seat = (who: typeof person) =>
          recommend(who, every, DEFAULT_POLICY, TODAY, { top: 1 }).options[0]?.seatWidthMm
        const [narrowSeat, wideSeat] = [seat(person), seat(wide)]
        fc.pre(narrowSeat !== undefined && wideSeat !== undefined)
        compared += 1
        expect(wideSeat).toBeGreaterThanOrEqual(narrowSeat ?? 0)
      }),
      runs(60),
    )
    expect(compared).toBeGreaterThan(20)
  })

  it('is the same text for the same inputs', () => {
    fc.assert(
      fc.property(anyPerson, anyCatalogue(2), (person, catalogue) => {
        const text = () => JSON.stringify(recommend(person, catalogue, DEFAULT_POLICY, TODAY))
        expect(text()).toBe(text())
      }),
      runs(40),
    )
  })
})
