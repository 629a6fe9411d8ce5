import { describe, expect, test } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { checkFieldName } from '../../../src/case/fields.ts'
import type { CheckKey } from '../../../src/chair/chair-model.ts'
import type { SetUp } from '../../../src/chair/set-up.ts'
import { type CheckState, checkAgainst, checkStates } from '../../../src/preparation/checks.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { changedModel, practiceModel, practiceSetUp } from '../../support/practice-set-ups.ts'

const trail = practiceModel('trail-folding')
const setUp = practiceSetUp(trail)
const moved = (change: Partial<SetUp>): SetUp => ({ ...setUp, ...change })

const made = (check: CheckKey, result = 'pass', target = setUp, on = '2026-03-02') => ({
  [checkFieldName(check)]: { result, on, against: checkAgainst(trail, check, target) },
})
const stateOf = (check: CheckKey, entries: readonly Counted[], target = setUp, today?: string): CheckState => {
  const states = checkStates(viewOfCase(testCase, entries), trail, target, today ? toCalendarDate(today) : undefined)
  const found = states.find(one => one.check === check)
  if (found === undefined) throw new Error(`no state of ${check}`)
  return found
}
const everyCheck = said({ set: Object.assign({}, ...trail.checks.map(check => made(check))) })
const namesIn = (state: CheckState['state'], target: SetUp): readonly CheckKey[] =>
  checkStates(viewOfCase(testCase, [everyCheck]), trail, target)
    .filter(one => one.state === state)
    .map(one => one.check)

describe('a check', () => {
  test('is not done until somebody made it', () => {
    expect(stateOf('brakesHold', [])).toEqual({ check: 'brakesHold', state: 'not-done' })
  })

  test('that the model does not name does not apply', () => {
    expect(trail.checks).not.toContain('antiTipSet')
    expect(stateOf('antiTipSet', [])).toEqual({ check: 'antiTipSet', state: 'not-applicable' })
  })

  test('passed for the set-up aimed at is passed', () => {
    expect(stateOf('brakesHold', [said({ set: made('brakesHold') })])).toEqual({ check: 'brakesHold', state: 'passed' })
    expect(namesIn('passed', setUp)).toHaveLength(trail.checks.length)
  })

  test('goes stale with a setting it depends on, and says from what to what', () => {
    expect(stateOf('brakesHold', [everyCheck], moved({ axle: 'hole-3' }))).toEqual({
      check: 'brakesHold',
      state: 'stale',
      changed: [{ setting: 'axle', from: 'hole-2', to: 'hole-3' }],
      workedOnSince: [],
    })
  })

  test('goes stale when it does not say what it was made for', () => {
    const bare = said({ set: { checkBrakesHold: { result: 'pass', on: '2026-03-02', against: { axle: 'hole-2' } } } })
    expect(stateOf('brakesHold', [bare])).toMatchObject({
      state: 'stale',
      changed: [
        { setting: 'size', from: null },
        { setting: 'seatHeight', from: null },
      ],
    })
  })

  test('made on one chair does not count for another with the same settings', () => {
    const other = changedModel('trail-folding', { key: 'trail-twin' }).models[0]
    if (other === undefined) throw new Error('no twin')
    const states = checkStates(viewOfCase(testCase, [everyCheck]), other, moved({ chair: 'trail-twin' }))
    expect(states.filter(one => one.state === 'passed')).toEqual([])
    expect(states.filter(one => one.state === 'stale')).toHaveLength(trail.checks.length)
  })

  test('that failed stays failed whatever changes', () => {
    const failed = said({ set: made('brakesHold', 'fail') })
    expect(stateOf('brakesHold', [failed], moved({ axle: 'hole-3' }))).toEqual({ check: 'brakesHold', state: 'failed' })
  })

  test('that failed on one phone and passed on another, apart, is failed', () => {
    const failed = said({ set: made('brakesHold', 'fail'), by: 'a' })
    const passed = said({ set: made('brakesHold'), by: 'b' })
    expect(stateOf('brakesHold', [failed, passed]).state).toBe('failed')
    expect(stateOf('brakesHold', [passed, failed]).state).toBe('failed')
  })

  test('passed by two people apart, on two days, is passed', () => {
    const first = said({ set: made('brakesHold'), by: 'a' })
    const second = said({ set: made('brakesHold', 'pass', setUp, '2026-03-03'), by: 'b' })
    expect(stateOf('brakesHold', [first, second]).state).toBe('passed')
  })

  test('passed for the set-up aimed at counts beside one passed apart for another', () => {
    const old = said({ set: made('brakesHold', 'pass', moved({ axle: 'hole-1' })), by: 'a' })
    const now = said({ set: made('brakesHold'), by: 'b' })
    expect(stateOf('brakesHold', [old, now]).state).toBe('passed')
  })

  test('found not to apply goes stale like a pass', () => {
    const none = said({ set: made('armrestsFirm', 'not-applicable') })
    expect(stateOf('armrestsFirm', [none])).toEqual({ check: 'armrestsFirm', state: 'not-applicable' })
    expect(stateOf('armrestsFirm', [none], moved({ armrestMm: 260 })).state).toBe('stale')
  })

  test('goes stale by later work that undoes it, though the settings are back where they were', () => {
    const reset = (on: string) => said({ set: { stepDone: { step: 'brakes', on, against: {} } } })
    const passed = said({ set: made('brakesHold') })
    expect(stateOf('brakesHold', [passed, reset('2026-03-01')]).state).toBe('passed')
    expect(stateOf('brakesHold', [passed, reset('2026-03-02')]).state).toBe('passed')
    expect(stateOf('brakesHold', [passed, reset('2026-03-05')])).toEqual({
      check: 'brakesHold',
      state: 'stale',
      changed: [],
      workedOnSince: [{ step: 'brakes', on: '2026-03-05' }],
    })
    expect(stateOf('tyrePressures', [said({ set: made('tyrePressures') }), reset('2026-03-05')]).state).toBe('passed')
  })

  test('is not undone by work dated in the future', () => {
    const typo = said({ set: { stepDone: { step: 'brakes', on: '2036-03-05', against: {} } } })
    const passed = said({ set: made('brakesHold') })
    expect(stateOf('brakesHold', [passed, typo], setUp, '2026-03-10').state).toBe('passed')
  })
})

// Common practice, no source.
describe('what goes stale', () => {
  test('with the axle: brakes, test ride and fit while moving, but not the hand check', () => {
    const stale = namesIn('stale', moved({ axle: 'hole-3' }))
    expect(stale).toEqual(
      expect.arrayContaining(['wheelsTurnFreely', 'axleNutsTight', 'brakesHold', 'testRide', 'fitWhileMoving']),
    )
    expect(stale).not.toContain('handCheckUnderSeatBones')
    expect(stale).not.toContain('tyrePressures')
  })

  test('with the cushion: hand check, seat, test ride and fit while moving, but not the brakes', () => {
    expect(namesIn('stale', moved({ cushion: 'high-relief' })).toSorted()).toEqual([
      'fitWhileMoving',
      'handCheckUnderSeatBones',
      'seatFlat',
      'testRide',
    ])
  })

  test('with a footrest: footrests and hand check', () => {
    expect(namesIn('stale', moved({ footrestLeftMm: 340 }))).toEqual(
      expect.arrayContaining(['footrestsFirmAndClear', 'handCheckUnderSeatBones']),
    )
  })

  test('with the chair size: every check', () => {
    expect(namesIn('stale', moved({ seatWidthMm: 370 })).toSorted()).toEqual(trail.checks.toSorted())
  })

  test('with a step of its own that a model says undoes a check', () => {
    const { models } = changedModel('trail-folding', {
      steps: [{ key: 'strap', title: 'Fit the strap', settings: ['cushion'], makesStale: ['brakesHold'] }],
    })
    const own = models[0]
    if (own === undefined) throw new Error('no model')
    const view = viewOfCase(testCase, [everyCheck])
    const brakes = checkStates(view, own, moved({ cushion: 'high-relief' })).find(one => one.check === 'brakesHold')
    expect(brakes).toMatchObject({ state: 'stale' })
  })
})
