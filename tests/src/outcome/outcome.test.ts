import { describe, expect, it } from 'vitest'
import { addDays, toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { type ChairModel, catalogueSchema } from '../../../src/chair/chair-model.ts'
import { settingTexts } from '../../../src/chair/set-up.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { FitMemory } from '../../../src/outcome/fit-memory.ts'
import { type Outcome, outcome } from '../../../src/outcome/outcome.ts'
import { checkAgainst } from '../../../src/preparation/checks.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { EXAMPLE_FOLDING } from '../../support/example-chairs.ts'

const TODAY = toCalendarDate('2026-11-25')
const MODEL: ChairModel = { ...EXAMPLE_FOLDING, checks: ['brakesHold', 'testRide', 'backTensionEven'] }
const context = {
  catalogue: catalogueSchema.parse({ catalogue: 1, title: 'one', models: [MODEL] }),
  policy: DEFAULT_POLICY,
}
const outcomeOf = (entries: readonly Counted[], today = TODAY, memory?: FitMemory): Outcome =>
  outcome(viewOfCase(testCase, entries), context, today, memory)
const keys = (one: Outcome): string[] => one.holds.map(hold => hold.key)

const mm = (typed: number) => ({ typed, unit: 'mm', how: 'tape' })
const MEASURED = said({
  set: {
    personName: 'Tavo Lind',
    sex: 'male',
    dateOfBirth: '1986-03-01',
    statureMm: mm(1755),
    massKg: { typed: 84, unit: 'kg', how: 'scale' },
    hipWidthMm: mm(380),
    thighDepthLeftMm: mm(500),
    thighDepthRightMm: mm(495),
    calfLengthLeftMm: mm(445),
    calfLengthRightMm: mm(445),
    ribHeightMm: mm(285),
    scapulaHeightMm: mm(430),
    shoulderHeightMm: mm(600),
    elbowHeightMm: mm(245),
    propulsion: ['hands'],
    posture: 'sits-well',
    trunkNeed: 'free',
  },
})
const SKILL = said({ set: { skill: 'practised', ground: 'mixed' } })
const CHOSEN = said({
  set: { chosenSetUp: { chair: MODEL.key, seatWidthMm: 390, seatDepth: 'd440', cushion: 'foam' } },
})

/** Built as the target says, ticked for nothing, checks made for it. */
const builtAndChecked = (entries: readonly Counted[]): Counted => {
  const { target } = outcomeOf(entries)
  if (!target) throw new Error('no target to build')
  const { setUp } = target
  const check = (key: 'brakesHold' | 'testRide' | 'backTensionEven') => ({
    result: 'pass',
    on: '2026-11-20',
    against: checkAgainst(MODEL, key, setUp),
  })
  return said({
    set: {
      builtAxle: setUp.axle,
      checkBrakesHold: check('brakesHold'),
      checkTestRide: check('testRide'),
      checkBackTensionEven: check('backTensionEven'),
    },
  })
}
const stateOf = (one: Outcome, key: string) => one.checks.find(check => check.check === key)?.state

describe('late facts', () => {
  it('move the target axle, make the brake check stale and leave the others, and say what to redo', () => {
    const before = [MEASURED, SKILL, CHOSEN]
    const built = builtAndChecked(before)
    const first = outcomeOf([...before, built])
    expect(first.target?.setUp.axle).toBe('r3')
    expect([stateOf(first, 'brakesHold'), stateOf(first, 'backTensionEven')]).toEqual(['passed', 'passed'])

    const rough = said({ set: { ground: 'rough' }, over: [SKILL], by: 'b' })
    const after = outcomeOf([...before, built, rough])
    expect(after.target?.setUp.axle).not.toBe('r3')
    expect([stateOf(after, 'brakesHold'), stateOf(after, 'backTensionEven')]).toEqual(['stale', 'passed'])
    expect(keys(after)).toContain('checks-stale')
    const axle = after.build?.steps.find(step => step.changes.some(change => change.setting === 'axle'))
    expect(axle?.changes).toContainEqual({ setting: 'axle', from: 'r3', to: after.target?.setUp.axle })
    expect(axle?.tools.length).toBeGreaterThan(0)
  })

  it('never turn a person’s pinned setting; what it breaks is a hold', () => {
    const pinned = said({
      set: { chosenSetUp: { chair: MODEL.key, seatWidthMm: 390, seatDepth: 'd440', cushion: 'foam', axle: 'r4' } },
    })
    const one = outcomeOf([MEASURED, SKILL, pinned])
    expect(one.target?.setUp.axle).toBe('r4')
    expect(one.target?.broken?.rule).toBe('rearward')
    expect(keys(one)).toContain('chosen-breaks-rule')
  })
})

describe('differences', () => {
  it('that change a seat hold the handover and say what changes; one that changes nothing is only shown', () => {
    const hips = said({ set: { hipWidthMm: mm(404) }, by: 'b' })
    const mass = said({ set: { massKg: { typed: 86, unit: 'kg' } }, by: 'b' })
    const one = outcomeOf([MEASURED, SKILL, hips, mass])
    expect(one.differences.map(({ field, effect }) => [field, effect])).toEqual(
      expect.arrayContaining([
        ['hipWidthMm', 'changes'],
        ['massKg', 'none'],
      ]),
    )
    const held = one.holds.filter(hold => hold.key === 'difference').map(hold => hold.reason.inputs)
    expect(held).toMatchObject([
      { field: 'hipWidthMm', options: '380 404', changes: expect.stringContaining('recommended.seatWidthMm') },
    ])
  })

  it('end when a person settles them', () => {
    const hips = said({ set: { hipWidthMm: mm(404) }, by: 'b' })
    const settled = said({
      set: { hipWidthMm: mm(382) },
      over: [MEASURED, hips],
      kind: 'settle',
      why: 'measured again, coat off',
    })
    expect(outcomeOf([MEASURED, SKILL, hips, settled]).differences).toEqual([])
  })
})

describe('holds', () => {
  it('of a risk stay through a plain save and go with a reason', () => {
    const sore = said({ set: { presentSore: true } })
    const unticked = said({ set: { presentSore: false }, over: [sore] })
    expect(keys(outcomeOf([MEASURED, sore, unticked]))).toContain('present-sore')
    const healed = said({
      set: { presentSore: false },
      over: [sore, unticked],
      kind: 'settle',
      why: 'closed, looked at with the nurse',
    })
    expect(keys(outcomeOf([MEASURED, sore, unticked, healed]))).not.toContain('present-sore')
  })

  it('refer red flags to health services', () => {
    const one = outcomeOf([MEASURED, said({ set: { swallowingTrouble: true, pregnancy: true } })])
    expect(one.holds.filter(hold => hold.key.startsWith('risk-'))).toMatchObject([
      { key: 'risk-swallowing-trouble', refer: 'health' },
      { key: 'risk-pregnancy' },
    ])
  })

  it('stand for a safety field that a later version wrote', () => {
    const later = said({ set: { posture: 'leans-in-a-way-unknown-here' } })
    expect(keys(outcomeOf([MEASURED, later]))).toContain('written-by-later-version')
  })

  it('name a chosen chair that the catalogue no longer has', () => {
    const gone = said({
      set: { chosenSetUp: { chair: 'retired', seatWidthMm: 390, seatDepth: 'd440', cushion: 'foam' } },
    })
    expect(keys(outcomeOf([MEASURED, SKILL, gone]))).toContain('chosen-not-in-catalogue')
  })

  it('do not ask for a choice where a chair was handed over before, or the person has left', () => {
    const waiting = [MEASURED, SKILL]
    const given = said({ set: { handover: { handedOverOn: '2026-05-20' } } })
    const left = said({ set: { exit: { on: '2026-11-20', why: 'moved' } } })
    const returned = said({ set: { chairReturned: { on: '2026-10-01' } } })
    expect(keys(outcomeOf(waiting))).toEqual(['not-chosen'])
    expect(keys(outcomeOf([...waiting, given]))).toEqual([])
    expect(keys(outcomeOf([...waiting, left]))).toEqual([])
    expect(keys(outcomeOf([...waiting, given, returned]))).toEqual(['not-chosen'])
  })

  it('wait for an implausible measure to be taken again', () => {
    const slip = said({ set: { hipWidthMm: mm(38) }, over: [MEASURED], kind: 'settle', why: 'typed' })
    const one = outcomeOf([MEASURED, SKILL, slip])
    expect(keys(one)).toContain('measure-again')
    expect(one.recommendation.options).toEqual([])
  })
})

describe('two scales under the wheels', () => {
  const scales = (rear: number, front: number) =>
    said({
      set: {
        scaleRearKg: { typed: rear, unit: 'kg', how: 'two-scales' },
        scaleFrontKg: { typed: front, unit: 'kg', how: 'two-scales' },
      },
    })
  it('replace the modelled centre: wheelbase 380, 62 and 38 kg put it 144.4 mm ahead', () => {
    const one = outcomeOf([MEASURED, SKILL, CHOSEN, scales(62, 38)])
    // 380 x 38 / 100 by moments about the axle.
    expect(one.target?.setUp.axle).toBe('r3')
    expect(one.target?.measuredComAheadMm).toBe(144.4)
    expect(one.target?.predicted?.standardErrors.rearTyrePivotDeg).toBeLessThan(0.6)
    expect(one.doubts).toEqual([])
  })
  it('that disagree with the model by more than two errors are a doubt, and a hold when the chair would tip', () => {
    const one = outcomeOf([MEASURED, SKILL, CHOSEN, scales(80, 20)])
    expect(one.doubts.map(doubt => doubt.likely)).toContain('centre-differs-from-model')
    expect(keys(one)).toContain('chosen-breaks-rule')
  })
})

describe('the same facts', () => {
  const entries = [
    MEASURED,
    SKILL,
    CHOSEN,
    said({ set: { hipWidthMm: mm(404) }, by: 'b' }),
    said({ set: { handover: { handedOverOn: '2026-11-20' } } }),
  ]
  it('give the same text in any order, remembered or not', () => {
    const memory = new FitMemory()
    const text = JSON.stringify(outcomeOf(entries))
    expect(JSON.stringify(outcomeOf(entries.toReversed(), TODAY, memory))).toBe(text)
    expect(JSON.stringify(outcomeOf(entries, TODAY, memory))).toBe(text)
  })

  it('give the same answer on every day before changesOn, for an adult and for a child', () => {
    const child = said({
      set: { dateOfBirth: '2018-05-05' },
      over: [MEASURED],
      kind: 'settle',
      why: 'read from the card',
    })
    const withoutDay = ({ today: _today, ...rest }: Outcome): string => JSON.stringify(rest)
    for (const facts of [entries, [...entries, child]]) {
      const now = outcomeOf(facts)
      expect(now.changesOn).not.toBeNull()
      for (let day = addDays(TODAY, 1); now.changesOn !== null && day < now.changesOn; day = addDays(day, 1))
        expect(withoutDay(outcomeOf(facts, day))).toBe(withoutDay(now))
    }
  })
})

describe('settings as text', () => {
  it('tell sizes, holes and parts taken off apart', () => {
    const setUp = {
      chair: 'a',
      seatWidthMm: 390,
      seatDepth: 'd440',
      seatHeight: 'h',
      axle: 'r3',
      backHeight: 'b',
      cushion: 'c',
      footrestLeftMm: null,
      footrestRightMm: 400,
      armrestMm: 280,
    }
    expect(settingTexts(setUp)).toMatchObject({ axle: 'r3', footrestLeft: 'off', footrestRight: '400' })
  })
})
