import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bodyOf } from '../../src/body/measurements.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { sitterOf } from '../../src/fitting/loaded-chair.ts'
import { needsOf } from '../../src/fitting/needs.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { searchCatalogue, setUpCount } from '../../src/fitting/search.ts'
import { anyCatalogue, anyPolicy, madeNear, measuredPerson, onEasyGround } from '../support/arbitrary-fitting.ts'
import { enumerateCatalogue } from '../support/exhaustive.ts'
import { IS_LONG, runs } from '../support/seed.ts'

/** Plain enumeration is what takes the time here. */
const MOST_SET_UPS = IS_LONG ? 20_000 : 6_000
const TODAY = toCalendarDate('2026-11-25')

describe('the search', () => {
  it('answers as plain enumeration of every set-up does: same ranking, same settings, same excluded counts', () => {
    let [withOptions, withExcluded] = [0, 0]
    fc.assert(
      fc.property(
        measuredPerson,
        anyCatalogue(2),
        fc.boolean(),
        fc.oneof(fc.constant(DEFAULT_POLICY), anyPolicy),
        (anyone, made, near, anyRules) => {
          const person = near ? onEasyGround(anyone) : anyone
          const catalogue = near ? madeNear(made, person) : made
          const policy = near ? DEFAULT_POLICY : anyRules
          fc.pre(catalogue.models.reduce((sum, model) => sum + setUpCount(model), 0) < MOST_SET_UPS)
          const { body } = bodyOf(person, TODAY)
          if (!body) throw new Error('a measured person without a body')
          const sitter = sitterOf(person, body)
          const needs = needsOf(person, body, policy)
          const fast = searchCatalogue(sitter, needs, catalogue, policy)
          const slow = enumerateCatalogue(sitter, needs, catalogue, policy)
          expect(fast.considered).toBe(slow.considered)
          expect(fast.ranked).toBe(slow.ranked)
          expect(fast.candidates).toEqual(slow.candidates)
          const byRule = (rows: typeof fast.excluded) =>
            rows.toSorted((a, b) => `${a.chair} ${a.rule}`.localeCompare(`${b.chair} ${b.rule}`))
          expect(byRule(fast.excluded)).toEqual(byRule(slow.excluded))
          if (fast.candidates.length > 1) withOptions += 1
          if (fast.excluded.length > 1) withExcluded += 1
        },
      ),
      runs(120),
    )
    // The property would be empty if the made people never fitted the made chairs.
    expect(withOptions).toBeGreaterThan(5)
    expect(withExcluded).toBeGreaterThan(20)
  })
})
