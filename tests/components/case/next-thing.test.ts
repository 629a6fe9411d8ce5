import { describe, expect, it } from 'vitest'
import { type NextFacts, nextThing } from '../../../components/case/next-thing.ts'
import type { Hold } from '../../../src/fitting/reason.ts'

type Facts = NextFacts['outcome']
const hold = (key: Hold['key'], inputs: Hold['reason']['inputs']): Hold => ({
  key,
  reason: { rule: 'hold', inputs, source: 'common-practice' },
})
const BUILDING = hold('build-not-finished', { steps: 'axle brakes' })
const STALE: Facts['checks'] = [{ check: 'brakesHold', state: 'stale' }] as unknown as Facts['checks']
const outcome = (changed: Partial<Facts>): NextFacts => ({
  outcome: {
    differences: [],
    holds: [],
    checks: [],
    stage: 'preparing',
    next: [{ section: 'preparing', needs: [] }],
    dues: { items: [], lacks: [] },
    ...changed,
  } as unknown as Facts,
})

describe('the next thing', () => {
  it('is to build what changed before it is checked again', () => {
    expect(nextThing(outcome({ holds: [BUILDING], checks: STALE }))?.section).toBe('preparing')
    expect(nextThing(outcome({ checks: STALE }))?.section).toBe('checks')
    const fitting: Partial<Facts> = { stage: 'fitting', next: [{ section: 'fitting', needs: [] }] }
    expect(nextThing(outcome({ ...fitting, holds: [BUILDING], checks: STALE }))).toEqual({
      text: 'Prepare the chair: 2 steps',
      section: 'preparing',
    })
    expect(nextThing(outcome(fitting))?.section).toBe('fitting')
  })

  it('is a check that failed, even while something is being built', () => {
    const failed = [{ check: 'brakesHold', state: 'failed' }] as unknown as Facts['checks']
    expect(nextThing(outcome({ holds: [BUILDING], checks: failed }))?.section).toBe('checks')
  })
})
