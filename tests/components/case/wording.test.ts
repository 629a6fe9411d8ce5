import { describe, expect, it } from 'vitest'
import { setUpCount } from '../../../components/case/choosing/set-up-count.ts'
import { dueWhy } from '../../../components/follow-up/due-words.ts'
import { TOLD_EVENTS } from '../../../components/follow-up/history-words.ts'
import { stepTitle, toolWords } from '../../../components/preparation/sheet-words.ts'
import { en } from '../../../components/text/en/index.ts'
import { PRACTICE_PEOPLE } from '../../../demo/practice-people.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { FIELD_NAMES, fieldOf } from '../../../src/case/fields.ts'
import { personOf } from '../../../src/case/person-of.ts'
import { CHECK_KEYS, SETTING_KEYS, STANDARD_STEP_KEYS } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { HOLD_KEYS } from '../../../src/fitting/reason.ts'
import { recommend } from '../../../src/fitting/recommend.ts'
import { HARD_RULES } from '../../../src/fitting/rules.ts'
import { SETTING_RULES, TOLERANCE_DIMENSIONS } from '../../../src/fitting/setting-parts.ts'
import { LEVERS } from '../../../src/fitting/would-help.ts'
import { DUE_KINDS, DUE_RULES } from '../../../src/follow-up/due.ts'
import { homeUpkeepOf } from '../../../src/follow-up/upkeep.ts'
import { STEP_STATES } from '../../../src/preparation/step-state.ts'
import { planSteps } from '../../../src/preparation/steps.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { practice } from '../../support/practice-set-ups.ts'

const wordless = (keys: readonly string[], table: Readonly<Record<string, unknown>>): readonly string[] =>
  keys.filter(key => !Object.hasOwn(table, key))

describe('every key that the rules can give has its words', () => {
  it.each([
    ['holds', HOLD_KEYS, en.hold],
    ['hard rules', HARD_RULES, en.rule],
    ['settings', SETTING_RULES, en.reason],
    ['tolerances', TOLERANCE_DIMENSIONS, en.tolerance],
    ['levers', LEVERS, en.lever],
    ['kinds of due', DUE_KINDS, en.due],
    ['rules of dues', DUE_RULES, en.dueRule],
    ['usual steps', STANDARD_STEP_KEYS, en.step],
    ['states of steps', STEP_STATES, en.stepState],
    ['settings in a sentence', SETTING_KEYS, en.settingIn],
    ['checks', CHECK_KEYS.map(key => `check${key.charAt(0).toUpperCase()}${key.slice(1)}`), en.field],
    ['care at home', homeUpkeepOf(undefined).flatMap(({ tasks }) => tasks), en.upkeep],
  ] as const)('%s', (_, keys, table) => {
    expect(keys.length).toBeGreaterThan(0)
    expect(wordless(keys, table)).toEqual([])
  })

  it('every kind of event is told in the history, but the steps of preparing and the photos', () => {
    const apart = ['stepDone', 'photo', 'photoRemoved']
    const events = FIELD_NAMES.filter(name => fieldOf(name).kind === 'event' && !apart.includes(name))
    expect([...TOLD_EVENTS].sort()).toEqual([...events].sort())
  })
})

describe('words of the build sheet', () => {
  it('name every tool that a usual step of any practice chair asks for', () => {
    const tools = new Set(practice.models.flatMap(model => planSteps(model).all.flatMap(step => step.tools)))
    const own = new Set(practice.models.flatMap(model => model.steps.flatMap(step => step.tools ?? [])))
    const unnamed = [...tools].filter(
      tool => !own.has(tool) && !Object.hasOwn(en.tool, tool) && !/^spanner [\d.]+ mm$/.test(tool),
    )
    expect(unnamed).toEqual([])
    // A space that does not break stands between number and unit (SI Brochure 9, 5.4.3).
    expect(toolWords('spanner 19 mm')).toBe('spanner 19\u00a0mm')
    expect(toolWords('tube cutter')).toBe('tube cutter')
  })

  it("keep the words of the chair's own papers", () => {
    const own = { key: 'brakes', title: 'Slide each brake along its rail', source: 'chair-papers' } as const
    expect(stepTitle(own)).toBe('Slide each brake along its rail')
    expect(stepTitle({ ...own, source: 'common-practice' })).toBe(en.step.brakes)
  })
})

describe('why something is due', () => {
  it('says dates and risks in words', () => {
    const reason = {
      rule: 'first-review-priority',
      inputs: { handedOverOn: '2026-05-01', afterDays: 42, because: 'child, pastSore' },
      source: 'who-basic-level',
    } as const
    expect(dueWhy({ reason })).toBe('42 days after the handover on 1 May 2026: a child and sore in the past')
  })
})

describe('what was excluded', () => {
  it('counts the set-ups of a chair as the search does', () => {
    const person = PRACTICE_PEOPLE.find(one => one.key === 'davor')
    if (!person) throw new Error('no practice person "davor"')
    const today = toCalendarDate('2026-05-12')
    const found = recommend(
      personOf(viewOfCase(testCase, [said({ set: person.facts })]), today),
      practice,
      DEFAULT_POLICY,
      today,
    )
    expect(found.considered.setUps).toBeGreaterThan(1000)
    expect(practice.models.reduce((sum, model) => sum + setUpCount(model), 0)).toBe(found.considered.setUps)
  })
})
