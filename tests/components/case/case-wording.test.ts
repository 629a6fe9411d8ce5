import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { describe, expect, it } from 'vitest'
import { ASSESSMENT_GROUPS, RED_FLAGS, SKIN_RISKS } from '../../../components/case/assessment/assessment-groups.ts'
import { REFERRAL_GROUPS } from '../../../components/case/referral/referral-groups.ts'
import { sayHold, sectionOfHold } from '../../../components/case/say-hold.ts'
import { answersOf } from '../../../components/fields/answers-of.ts'
import { optionLabel, sayValue } from '../../../components/text/say-value.ts'
import { FIELD_NAMES, FIELDS, fieldOf, METHODS, type NamesOfKind } from '../../../src/case/fields.ts'
import { HOLD_KEYS, type Hold, type HoldKey } from '../../../src/fitting/reason.ts'
import { HARD_RULES } from '../../../src/fitting/rules.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'

const ROOT = resolve(import.meta.dirname, '../../..')

describe('every answer that the registry allows has words', () => {
  const choices = FIELD_NAMES.filter(name => fieldOf(name).kind === 'choice' && answersOf(name).options.length > 0)

  it('finds the choices', () => {
    // Counted by eye in the registry: these are some of each shape.
    for (const name of ['posture', 'propulsion', 'supports', 'armLossLeft', 'brakeReach'] as const)
      expect(choices).toContain(name)
  })

  it.each(choices)('%s', name => {
    for (const option of answersOf(name).options) expect(optionLabel(name, option).trim()).not.toBe('')
  })

  it('and so has every way of measuring', () => {
    for (const how of METHODS) expect(optionLabel('how', how).trim()).not.toBe('')
  })
})

const holdOf = (key: HoldKey, inputs: Hold['reason']['inputs'] = {}): Hold => ({
  key,
  reason: { rule: key, inputs, source: 'team-policy' },
})
const noOutcome = { differences: [], checks: [] } as unknown as Outcome

describe('every hold has words', () => {
  it.each(HOLD_KEYS.filter(key => key !== 'difference'))('%s', key => {
    const inputs = { fields: 'hipWidthMm', needs: 'hipWidthMm', field: 'posture', checks: 'brakesHold', rule: 'door' }
    const words = sayHold(holdOf(key, { ...inputs, steps: 'brakes', why: 'No cushion in the vehicle' }), noOutcome)
    expect(words).toMatch(/^[A-Z1].{10,}/)
    expect(words).not.toContain(key)
  })

  it('each rule that a chosen chair can break is said', () => {
    for (const rule of HARD_RULES)
      expect(sayHold(holdOf('chosen-breaks-rule', { rule }), noOutcome)).toMatch(
        /^The chosen chair breaks a rule: .+\.$/,
      )
  })

  it('fields and checks are named, not their keys', () => {
    expect(sayHold(holdOf('measure-again', { fields: 'hipWidthMm massKg' }), noOutcome)).toBe(
      'Measure again, this cannot be right: hip width and body mass',
    )
    expect(sayHold(holdOf('checks-stale', { checks: 'brakesHold axleNutsTight' }), noOutcome)).toBe(
      'Check again, something changed since: brakes hold on a slope and axle nuts tight',
    )
  })

  it('leads to the part where it is dealt with', () => {
    expect(sectionOfHold(holdOf('difference'))).toBe('differences')
    expect(sectionOfHold(holdOf('checks-failed'))).toBe('checks')
    expect(sectionOfHold(holdOf('present-sore'))).toBe('assessment')
    expect(sectionOfHold(holdOf('skin-after-first-hour'))).toBe('fitting')
  })
})

describe('the questions', () => {
  it('ask every risk of the assessment, each once', () => {
    const risks = FIELD_NAMES.filter(name => fieldOf(name).kind === 'risk' && FIELDS[name].section === 'assessment')
    const asked: readonly NamesOfKind<'risk'>[] = [...RED_FLAGS, ...SKIN_RISKS]
    expect([...asked].sort()).toEqual([...risks].sort())
  })

  it.each([
    ['referral', REFERRAL_GROUPS],
    ['assessment', ASSESSMENT_GROUPS],
  ] as const)('ask every field of the %s, each once', (section, groups) => {
    const fields = FIELD_NAMES.filter(name => FIELDS[name].section === section)
    expect(groups.flatMap(group => group.fields).sort()).toEqual([...fields].sort())
  })
})

describe('values in words', () => {
  it.each([
    ['hipWidthMm', 368, '368\u00a0mm'],
    ['hipWidthMm', { typed: 14.5, unit: 'in' }, '14.5\u00a0in'],
    ['statureMm', 1765, '1765\u00a0mm'],
    ['hipFlexionLeftDeg', 70, '70°'],
    ['propulsion', ['left-hand', 'left-foot'], 'left hand and left foot'],
    ['supports', [], 'None'],
    ['limbLossLeft', null, 'Nothing missing'],
    ['limbLossLeft', { level: 'transtibial', remainingFraction: 0.5 }, 'Below the knee (50\u00a0%)'],
    ['loads', [{ massKg: 20, at: 'under' }], '20\u00a0kg under the seat'],
    ['loads', [], 'Carries nothing'],
    ['dateOfBirth', '2001-01-22', '22 January 2001'],
    ['presentSore', true, 'Yes'],
    ['toldAndAgreed', { told: true, agreed: false, by: 'person', on: '2026-05-12' }, 'told, not agreed'],
  ] as const)('%s', (name, value, words) => {
    expect(sayValue(name, value)).toBe(words)
  })
})

it('no word is written into an element of the case: wording lives in one place', () => {
  const files = ['components/case', 'components/fields'].flatMap(folder =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter(file => file.name.startsWith('spoke-'))
      .map(file => join(file.parentPath, file.name)),
  )
  expect(files.length).toBeGreaterThan(15)
  // Between two tags: letters that no expression put there.
  const written = files.flatMap(file =>
    [...readFileSync(file, 'utf8').matchAll(/>\s*([A-Z][a-z]{2,}[^<>${}`]*)<\//g)].map(
      ([, words]) => `${file}: ${words}`,
    ),
  )
  expect(written).toEqual([])
})
