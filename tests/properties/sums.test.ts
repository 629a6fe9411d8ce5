import { describe, expect, it } from 'vitest'
import { PRACTICE_PEOPLE } from '../../demo/practice-people.ts'
import type { Person } from '../../src/body/person.ts'
import { doubtsOf } from '../../src/body/plausibility.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import { ALLOWANCE_POLICY, DEFAULT_POLICY, type Policy } from '../../src/fitting/policy.ts'
import { type Recommendation, recommend } from '../../src/fitting/recommend.ts'
import { workedReasonOf } from '../../src/follow-up/due.ts'
import { targetOf } from '../../src/outcome/target.ts'
import { tighteningOf } from '../../src/preparation/fasteners.ts'
import { pressureFor } from '../../src/preparation/tyres.ts'
import type { Reason } from '../../src/reason.ts'
import { isSumInput, SUM_INPUTS } from '../../src/sum.ts'
import { practice, practicePerson } from '../browser/fit/practice-fit.ts'
import { ADULT, duesOf, handover, theDue, tyre } from '../src/follow-up/dues-of.ts'
import { namesIn, workedOut } from '../support/work-sum.ts'

const TODAY = toCalendarDate('2026-05-12')

/** Half of the last digit that an input is given with; what is read off a chair or a policy is exact. */
const roundingOf = (name: string): number => {
  if (name.endsWith('DiameterMm')) return 0.0005
  if (name === 'stressAreaMm2') return 0.005
  if (name === 'twist') return 0.00005
  if (name === 'preloadKN') return 0.01
  if (name === 'torqueNm') return 0.1
  if (name === 'lossPerDay') return 0.0000005
  if (name === 'expected' || name === 'usualStatureMm') return 0.05
  return isSumInput(name) && ['mm', 'deg', 'kg', 'kPa'].includes(SUM_INPUTS[name]) ? 0.05 : 0
}

/**
 * Redoes every sum of a reason by hand. A result may differ from the formula as far as the rounding of what is printed
 * moves it: each input by half of its last digit, one after the other.
 */
const redo = ({ rule, inputs, sum = [] }: Reason): readonly string[] =>
  sum.map(formula => {
    const [result = '', ...names] = namesIn(formula)
    const given = (name: string): number => {
      const value = inputs[name]
      if (typeof value !== 'number') throw new Error(`${rule}: ${formula} has no ${name} in ${JSON.stringify(inputs)}`)
      return value
    }
    const exact = workedOut(formula, given)
    const moved = [...new Set(names)].map(name =>
      Math.abs(workedOut(formula, one => given(one) + (one === name ? roundingOf(name) : 0)) - exact),
    )
    // The whole part of a number may be one more or less.
    const step = formula.includes('floor(') ? 1 : 0
    const allowed = moved.reduce((all, one) => all + one, 0) * 1.01 + roundingOf(result) + step + 1e-9
    expect(Math.abs(given(result) - exact), `${rule}: ${formula} ${JSON.stringify(inputs)}`).toBeLessThanOrEqual(
      allowed,
    )
    return formula
  })

const reasonsOf = ({ options, excluded, doubts }: Recommendation): readonly Reason[] => [
  ...options.flatMap(option => [
    ...option.reasons,
    ...Object.values(option.settings).flatMap(setting => (setting.type === 'missing' ? [] : setting.reasons)),
  ]),
  ...excluded.map(row => row.reason),
  ...doubts.map(doubt => doubt.reason),
]

/** The same person otherwise: each brings a rule of its own into play. */
const OTHERWISE: readonly Partial<Person>[] = [
  {},
  { trunkNeed: 'high', axillaHeightMm: 410, shoulderHeightMm: 560 },
  { trunkNeed: 'some', scapulaHeightMm: 380 },
  { trunkNeed: 'free', scapulaHeightMm: 380, ribHeightMm: 270 },
  { propulsion: ['left-hand', 'left-foot'] },
  { propulsion: ['right-foot'], elbowHeightMm: 220 },
  { propulsion: ['pushed'], climate: 'cold' },
  { massKg: 140, massGuessed: true },
  { hipWidthMm: 36.5 },
  { statureMm: 2400, hipWidthMm: 600 },
]
const without = (person: Person, name: keyof Person): Person => {
  const { [name]: _, ...rest } = person
  return rest
}

const allFormulas = new Set<string>()

describe.each(PRACTICE_PEOPLE.map(one => one.key))('%s', key => {
  it('has sums that can be redone by hand, as recommended and otherwise', () => {
    const person = practicePerson(key)
    const people = [
      ...OTHERWISE.map(change => ({ ...person, ...change })),
      without({ ...person, trunkNeed: 'free' }, 'scapulaHeightMm'),
    ]
    for (const [index, one] of people.entries()) {
      const policy: Policy = index % 2 === 0 ? DEFAULT_POLICY : ALLOWANCE_POLICY
      const found = recommend(one, practice, policy, TODAY, { top: 2 })
      for (const reason of reasonsOf(found)) for (const formula of redo(reason)) allFormulas.add(formula)
    }
  })

  it('has them after the centre was measured with two scales, and with an axle that breaks a rule', () => {
    const person = practicePerson(key)
    const { options } = recommend(person, practice, DEFAULT_POLICY, TODAY, { top: 1 })
    for (const { setUp } of options) {
      const model = practice.models.find(one => one.key === setUp.chair)
      const { chair, seatWidthMm, seatDepth, cushion } = setUp
      const chosen = { chair, seatWidthMm, seatDepth, cushion, axle: model?.axlePositions.at(-1)?.key ?? '' }
      const view = { values: { chosenSetUp: chosen, scaleFrontKg: 22, scaleRearKg: 61 } } as CaseView
      const answer = targetOf(view, person, doubtsOf(person, TODAY), practice, DEFAULT_POLICY, TODAY)
      if (answer.type !== 'target' || !answer.target.settings) throw new Error(`no settings for ${key}`)
      for (const setting of Object.values(answer.target.settings))
        for (const reason of setting.type === 'missing' ? [] : setting.reasons) redo(reason)
    }
  })
})

describe('the workshop', () => {
  it('has a sum for every pressure of the practice chairs', () => {
    const sums = practice.models.flatMap(({ tyres }) =>
      (['smooth', 'mixed', 'rough'] as const).flatMap(ground =>
        [tyres.rear, tyres.caster].flatMap(one => {
          const pressure = pressureFor(one, ground)
          return pressure.type === 'solid' ? [] : redo(pressure.reason)
        }),
      ),
    )
    expect(sums.length).toBeGreaterThan(20)
    for (const formula of sums) allFormulas.add(formula)
  })

  it('has a sum for every torque that is an upper bound', () => {
    const fastener = { key: 'axle', at: 'axle', acrossFlatsMm: 19 } as const
    for (const thread of ['M5', 'M6', 'M8', 'M10', 'M12', 'M14', 'M16'])
      for (const propertyClass of ['4.8', '8.8', '10.9', '12.9']) {
        const { torque } = tighteningOf({ ...fastener, thread, propertyClass })
        if (torque.type !== 'upper-bound') throw new Error(`no bound for ${thread} ${propertyClass}`)
        const formulas = redo(torque.reason)
        expect(formulas).toHaveLength(3)
        for (const formula of formulas) allFormulas.add(formula)
      }
  })
})

describe('a tyre that loses air', () => {
  const lost = (foundKPa: number, leftKPa: number) =>
    theDue(
      duesOf(
        [
          ADULT,
          { set: { builtChair: 'example-folding' } },
          handover('2026-01-05', { serialNumber: 'LK-0001' }),
          tyre('2026-01-05', { leftKPa: 400 }),
          tyre('2026-03-02', { foundKPa, leftKPa }),
        ],
        '2026-03-02',
      ),
      'tyre',
    )

  it('has the sum of its days', () => {
    const reason = workedReasonOf(lost(350, 400))
    if (!reason) throw new Error('a tyre due without its sum')
    const formulas = redo(reason)
    expect(formulas).toHaveLength(2)
    for (const formula of formulas) allFormulas.add(formula)
  })
})

describe('all of them together', () => {
  it('met every formula of the fitting rules, and the doubts of adults and children', () => {
    // By what stands left of the sign; several rules share a name, so the count says that none was missed.
    const results = new Set([...allFormulas].map(formula => formula.slice(0, formula.indexOf(' '))))
    expect([...results].sort()).toEqual(
      [
        'expected',
        'gapMm',
        'lastsDays',
        'leastKPa',
        'leastMm',
        'lossPerDay',
        'lowestFrontMm',
        'misfitPoints',
        'mostKPa',
        'mostMm',
        'preloadKN',
        'rearwardAfterErrorDeg',
        'rearwardDeg',
        'shortByKg',
        'slackMm',
        'targetKPa',
        'torqueNm',
        'twist',
        'usualLeastKPa',
        'usualMostKPa',
        'wantedFrontMm',
        'wantedMm',
      ].sort(),
    )
  })
})
