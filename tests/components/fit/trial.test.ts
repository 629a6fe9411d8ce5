import { describe, expect, it } from 'vitest'
import { builtBeside } from '../../../components/fit/built-set-up.ts'
import { brokenWords, numberRows } from '../../../components/fit/number-rows.ts'
import { reasonWords, sayInput, sayInputName } from '../../../components/fit/reason-words.ts'
import { FOLLOWING, MOVABLE, settingRow } from '../../../components/fit/setting-rows.ts'
import { type Trial, type TrialFacts, trialOf } from '../../../components/fit/trial.ts'
import { en } from '../../../components/text/en/index.ts'
import { PRACTICE_PEOPLE } from '../../../demo/practice-people.ts'
import { doubtsOf } from '../../../src/body/plausibility.ts'
import type { CaseView } from '../../../src/case/case-view.ts'
import { toSetUp } from '../../../src/chair/set-up.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { HARD_RULES } from '../../../src/fitting/rules.ts'
import { targetOf } from '../../../src/outcome/target.ts'
import { isSumInput } from '../../../src/sum.ts'
import { practice, practiceFacts, TODAY } from '../../browser/fit/practice-fit.ts'

const ready = (facts: TrialFacts | undefined): Trial => {
  const answer = facts && trialOf(facts)
  if (answer?.type !== 'ready') throw new Error(`no trial: ${JSON.stringify(answer)}`)
  return answer.trial
}

const SERVED = PRACTICE_PEOPLE.flatMap(one => {
  const facts = practiceFacts(one.key)
  return facts ? [{ key: one.key, facts }] : []
})

/** What the case itself says of a chosen set-up: the rule that every device follows. */
const caseSays = (facts: TrialFacts, chosen: TrialFacts['chosen']) => {
  const view = { values: { chosenSetUp: chosen } } as CaseView
  const answer = targetOf(view, facts.person, doubtsOf(facts.person, TODAY), practice, DEFAULT_POLICY, TODAY)
  if (answer.type !== 'target') throw new Error(answer.type)
  return answer.target
}

it('serves most practice people, or the rest of this file proves little', () => {
  expect(SERVED.length).toBeGreaterThan(20)
})

describe.each(SERVED)('$key', ({ facts }) => {
  const trial = ready(facts)

  it('is drawn in the set-up that the case says', () => {
    const target = caseSays(facts, facts.chosen)
    expect(toSetUp(trial.start.setUp)).toEqual(target.setUp)
    expect(trial.start.evaluation.broken ?? null).toEqual(target.broken)
  })

  it('is told the same after moving as the case would tell once it is kept', () => {
    const { model, cushion } = trial.start.setUp
    for (const hole of model.axlePositions)
      for (const other of model.cushions) {
        const tried = trial.with({ pins: { axle: hole.key }, cushion: other.key })
        const target = caseSays(facts, { ...facts.chosen, axle: hole.key, cushion: other.key })
        expect(toSetUp(tried.setUp)).toEqual(target.setUp)
        expect(tried.evaluation.broken ?? null).toEqual(target.broken)
        expect(tried.settings).toEqual(target.settings)
      }
    expect(trial.with({ pins: {} }).setUp.cushion).toBe(cushion)
  })

  it('says each angle of the rules as a sum that a hand can redo: worst load, less the errors, is what is left', () => {
    const noteOf = (key: string): string =>
      numberRows(trial.start, trial.needs, trial.policy).find(row => row.key === key)?.note ?? ''
    for (const key of ['rearward', 'forward', 'sideways']) {
      const note = noteOf(key).replaceAll('\u00a0', ' ')
      const sum = /worst load ([\d.]+)°, less ([\d.]+) × ([\d.]+)°, leaves ([\d.]+)°; [\d.]+° needed$/.exec(note)
      if (!sum) throw new Error(`${key} says no sum: ${note}`)
      const [lowest = 0, times = 0, error = 0, left = 0] = sum.slice(1).map(Number)
      // Each of the figures is rounded to a tenth.
      expect(Math.abs(lowest - times * error - left), note).toBeLessThanOrEqual(0.05 * (2 + times) + 1e-9)
    }
    const hasAntiTip = trial.start.setUp.model.antiTip !== undefined
    expect(noteOf('rearward').startsWith('anti-tip wheels')).toBe(hasAntiTip)
  })

  it('finds words for every number, setting and input', () => {
    const { settings } = trial.start
    for (const row of numberRows(trial.start, trial.needs, trial.policy)) {
      expect(`${row.value} ${row.note}`, row.key).not.toMatch(/NaN|undefined|\{/)
      expect(row.value.length).toBeGreaterThan(0)
    }
    for (const name of [...MOVABLE, ...FOLLOWING]) {
      const row = settingRow(name, trial.start)
      expect(`${row.value} ${row.why}`, name).not.toMatch(/NaN|undefined|\{/)
      const setting = settings[name]
      for (const reason of setting.type === 'missing' ? [] : setting.reasons) {
        expect(reasonWords(reason), reason.rule).toBeDefined()
        for (const [input, value] of Object.entries(reason.inputs)) {
          if (!isSumInput(input)) throw new Error(`${reason.rule} has an input without a name: ${input}`)
          expect(sayInputName(input)).not.toBe('')
          expect(sayInput(input, value)).not.toMatch(/NaN|undefined/)
        }
      }
    }
  })
})

describe('a broken rule', () => {
  it('has words for each that there is', () => {
    expect(HARD_RULES.filter(rule => !Object.hasOwn(en.fit, `broken-${rule}`))).toEqual([])
  })

  it('is said with what is needed: the foremost hole for a new user on mixed ground', () => {
    // Team policy: slope 5 and push margin 6 make 11 degrees.
    const facts = practiceFacts('nemala')
    const trial = ready(facts)
    const foremost = trial.start.setUp.model.axlePositions.at(-1)
    const tried = trial.with({ pins: { axle: foremost?.key ?? '' } })
    expect(tried.evaluation.broken?.rule).toBe('rearward')
    expect(brokenWords(tried, trial.needs)).toMatch(
      /tips back too easily: \d+(\.\d)?° left after the error, 11° needed on mixed ground/,
    )
    expect(brokenWords(trial.start, trial.needs)).toBeUndefined()
  })

  it('is said of a plate that hangs too low', () => {
    const trial = ready(practiceFacts('gorran'))
    // Nothing is offered that long, but a real chair is what it is.
    const tried = trial.with({ pins: { footrestLeftMm: 640 } })
    expect(tried.evaluation.broken?.rule).toBe('ground-clearance')
    expect(brokenWords(tried, trial.needs)).toContain('50\u00a0mm needed')
  })
})

describe('two scales under the wheels', () => {
  it('move the mass centre of the set-up they were read on, and go along to another hole', () => {
    const facts = practiceFacts('davor')
    if (!facts) throw new Error('no chair for davor')
    const model = ready(facts).start.evaluation.wheels.comAheadMm
    const trial = ready({ ...facts, measuredComAheadMm: model + 20 })
    const { chair, massCentre } = trial.start.drawing.side
    expect(massCentre.xMm - chair.axle.xMm).toBeCloseTo(model + 20, 6)
    const other = trial.with({ pins: { axle: 'hole-1' } })
    expect(other.drawing.side.massCentre.xMm - other.drawing.side.chair.axle.xMm).toBeCloseTo(
      other.evaluation.wheels.comAheadMm + 20,
      6,
    )
  })
})

describe('the chair as built', () => {
  const { setUp } = ready(practiceFacts('davor')).start

  it('lies over what was recommended where it was read otherwise', () => {
    const built = builtBeside(setUp, { axle: 'hole-1', footrestLeftMm: 380, backHeightMm: setUp.back.valueMm + 2 })
    expect([...(built?.differs ?? [])].sort()).toEqual(['axle', 'footrestLeft'])
    expect(built?.setUp.axle.key).toBe('hole-1')
    expect(built?.setUp.footrestLeftMm).toBe(380)
    expect(built?.setUp.footrestRightMm).toBe(setUp.footrestRightMm)
  })

  it('keeps a plate that was read as taken off', () => {
    const built = builtBeside(setUp, { footrestRightMm: null })
    expect(built?.setUp.footrestRightMm).toBeNull()
    expect([...(built?.differs ?? [])]).toEqual(['footrestRight'])
  })

  it('is not drawn when nothing was read, or another model', () => {
    expect(builtBeside(setUp, undefined)).toBeUndefined()
    expect(builtBeside(setUp, {})).toBeUndefined()
    expect(builtBeside(setUp, { chair: 'another' })).toBeUndefined()
  })
})

describe('what cannot be drawn', () => {
  it('names the measures that are missing, and a chair that is not offered', () => {
    const facts = practiceFacts('davor')
    if (!facts) throw new Error('no chair for davor')
    const { hipWidthMm: _hips, massKg: _mass, ...person } = facts.person
    expect(trialOf({ ...facts, person })).toEqual({ type: 'missing', needs: ['massKg', 'hipWidthMm'] })
    expect(trialOf({ ...facts, chosen: { ...facts.chosen, cushion: 'gone' } })).toEqual({
      type: 'not-in-catalogue',
      chair: facts.chosen.chair,
    })
  })
})
