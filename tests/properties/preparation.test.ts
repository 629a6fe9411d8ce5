import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import { checkFieldName } from '../../src/case/fields.ts'
import type { AsBuilt } from '../../src/chair/as-built.ts'
import {
  CHECK_KEYS,
  type ChairModel,
  type CheckKey,
  catalogueSchema,
  SETTING_KEYS,
  type SettingKey,
  STANDARD_STEP_KEYS,
  stepValues,
} from '../../src/chair/chair-model.ts'
import type { SetUp } from '../../src/chair/set-up.ts'
import { buildSheet } from '../../src/preparation/build-sheet.ts'
import { checkAgainst, checkStates } from '../../src/preparation/checks.ts'
import { dayNeeds } from '../../src/preparation/day-needs.ts'
import type { StepTick } from '../../src/preparation/step-state.ts'
import { fillPressure, pressureFor } from '../../src/preparation/tyres.ts'
import { said, testCase } from '../support/case-entries.ts'
import { practice, practiceModel, resolvedIn } from '../support/practice-set-ups.ts'
import { runs } from '../support/seed.ts'

const oneOf = <Item>(items: readonly Item[]) => fc.constantFrom(...items)
const keyIn = (rows: readonly { readonly key: string }[]) => oneOf(rows.map(row => row.key))
const mmOrOff = (values: readonly number[]) => oneOf<number | null>([...values, null])

const setUpOf = (model: ChairModel): fc.Arbitrary<SetUp> =>
  fc.record({
    chair: fc.constant(model.key),
    seatWidthMm: oneOf(model.seatWidthsMm),
    seatDepth: keyIn(model.seatDepths),
    seatHeight: keyIn(model.seatHeights),
    axle: keyIn(model.axlePositions),
    backHeight: keyIn(model.backHeights),
    cushion: keyIn(model.cushions),
    footrestLeftMm: mmOrOff(stepValues(model.footrest)),
    footrestRightMm: mmOrOff(stepValues(model.footrest)),
    armrestMm: model.armrest ? mmOrOff(stepValues(model.armrest)) : fc.constant(null),
  })
const anyModel = oneOf(practice.models)
const modelWithTwo = anyModel.chain(model => fc.tuple(fc.constant(model), setUpOf(model), setUpOf(model)))

const anyText = fc.oneof(fc.string(), oneOf(['', 'hole-1', 'hole-99', '__proto__', 'constructor']))
const anyNumber = fc.oneof(fc.double(), fc.integer(), oneOf([Number.NaN, Number.POSITIVE_INFINITY, -0, -40]))
const oddAsBuilt = fc.record<AsBuilt>(
  {
    chair: fc.oneof(keyIn(practice.models), anyText),
    seatWidthMm: anyNumber,
    seatDepth: anyText,
    seatDepthMm: anyNumber,
    seatHeight: anyText,
    axle: anyText,
    backHeight: anyText,
    backHeightMm: anyNumber,
    cushion: anyText,
    footrestLeftMm: fc.oneof(anyNumber, fc.constant(null)),
    footrestRightMm: fc.oneof(anyNumber, fc.constant(null)),
    armrestMm: fc.oneof(anyNumber, fc.constant(null)),
    rearTyreKPa: anyNumber,
  },
  { requiredKeys: [] },
)
const day = fc.integer({ min: 1, max: 28 }).map(number => `2026-03-${String(number).padStart(2, '0')}`)
const anyTicks = (model: ChairModel): fc.Arbitrary<readonly StepTick[]> =>
  fc.array(
    fc.record({
      step: oneOf<string>([...STANDARD_STEP_KEYS, ...model.steps.map(step => step.key), 'no such step']),
      on: day as fc.Arbitrary<StepTick['on']>,
      against: fc.dictionary(oneOf(SETTING_KEYS), anyText),
      secondName: fc.option(fc.string(), { nil: undefined }),
    }),
    { maxLength: 30 },
  )

/** The steps that common practice (no source) brings in with one setting, on a folding chair without anti-tip wheels. */
const AFTER_CHANGE: Readonly<Record<Exclude<SettingKey, 'size'>, readonly string[]>> = {
  seatHeight: [
    'seat-height',
    'caster-stems',
    'tyre-pressures',
    'brakes',
    'footrest-clearance',
    'tighten',
    'spin-and-roll',
    'fold-and-open',
    'test-ride',
  ],
  axle: [
    'rear-axle',
    'rear-wheels',
    'tyre-pressures',
    'brakes',
    'tighten',
    'spin-and-roll',
    'fold-and-open',
    'test-ride',
  ],
  backHeight: ['back-height', 'back-tension', 'tighten', 'fold-and-open', 'test-ride'],
  cushion: ['cushion', 'test-ride'],
  footrestLeft: ['footrest-left', 'footrest-clearance', 'tighten', 'fold-and-open', 'test-ride'],
  footrestRight: ['footrest-right', 'footrest-clearance', 'tighten', 'fold-and-open', 'test-ride'],
  armrest: ['armrest', 'tighten', 'fold-and-open', 'test-ride'],
}
const FIELD_OF: Readonly<Record<keyof typeof AFTER_CHANGE, keyof SetUp>> = {
  seatHeight: 'seatHeight',
  axle: 'axle',
  backHeight: 'backHeight',
  cushion: 'cushion',
  footrestLeft: 'footrestLeftMm',
  footrestRight: 'footrestRightMm',
  armrest: 'armrestMm',
}

describe('a build sheet', () => {
  test('against its own target as built is empty', () => {
    fc.assert(
      fc.property(anyModel.chain(setUpOf), setUp => {
        const sheet = buildSheet(resolvedIn(practice, setUp), setUp)
        expect(sheet.steps).toEqual([])
        expect(sheet.makesStale).toEqual([])
      }),
      runs(300),
    )
  })

  test('after one setting changed holds exactly the steps that depend on it', () => {
    const trail = practiceModel('trail-folding')
    fc.assert(
      fc.property(
        setUpOf(trail),
        setUpOf(trail),
        oneOf(Object.keys(FIELD_OF) as (keyof typeof FIELD_OF)[]),
        (a, b, setting) => {
          const field = FIELD_OF[setting]
          const target: SetUp = { ...a, [field]: b[field] }
          const keys = buildSheet(resolvedIn(practice, target), a).steps.map(step => step.key)
          expect(keys).toEqual(a[field] === b[field] ? [] : AFTER_CHANGE[setting])
        },
      ),
      runs(300),
    )
  })

  test('puts every step after what it waits for, from any chair as read and any ticks', () => {
    fc.assert(
      fc.property(
        modelWithTwo.chain(([model, a, b]) =>
          fc.tuple(
            fc.constant(a),
            fc.oneof(fc.constant(b), oddAsBuilt),
            fc.option(anyTicks(model), { nil: undefined }),
          ),
        ),
        ([target, built, ticks]) => {
          const { steps } = buildSheet(resolvedIn(practice, target), built, ticks)
          const place = new Map(steps.map((step, index) => [step.key, index]))
          for (const [index, step] of steps.entries()) {
            for (const before of step.after) expect(place.get(before)).toBeLessThan(index)
            for (const later of step.neededBy) expect(place.get(later)).toBeGreaterThan(index)
          }
          // Common practice, no source: axle before brakes, cushion before footrests, test ride last.
          const comesFirst = (first: string, second: string): void => {
            if (place.has(first) && place.has(second))
              expect(place.get(first)).toBeLessThan(place.get(second) ?? Number.NaN)
          }
          comesFirst('rear-axle', 'brakes')
          comesFirst('cushion', 'footrest-left')
          comesFirst('back-height', 'back-tension')
          if (place.has('test-ride')) expect(place.get('test-ride')).toBe(steps.length - 1)
        },
      ),
      runs(300),
    )
  })

  test('is total and loses no step whatever the model says its steps wait for', () => {
    const names = ['own-a', 'own-b', 'own-c', 'own-d'] as const
    const anyStep = (key: string) =>
      fc.record({
        key: fc.constant(key),
        title: fc.constant(key),
        settings: fc.subarray([...SETTING_KEYS]),
        after: fc.uniqueArray(oneOf<string>([...names, ...STANDARD_STEP_KEYS]), { maxLength: 4 }),
        makesStale: fc.subarray([...CHECK_KEYS]),
        cannotBeUndone: fc.boolean(),
      })
    const trail = practiceModel('trail-folding')
    fc.assert(
      fc.property(
        fc.tuple(...[...names, 'brakes', 'cushion'].map(anyStep)),
        setUpOf(trail),
        fc.option(oddAsBuilt, { nil: undefined }),
        fc.option(anyTicks(trail), { nil: undefined }),
        (steps, setUp, built, ticks) => {
          const catalogue = catalogueSchema.parse({ ...practice, models: [{ ...trail, steps }] })
          const target = resolvedIn(catalogue, setUp)
          const whole = buildSheet(target)
          expect(whole.steps.map(step => step.key)).toEqual(expect.arrayContaining([...names, 'brakes', 'cushion']))
          expect(new Set(whole.steps.map(step => step.key)).size).toBe(whole.steps.length)
          const place = new Map(whole.steps.map((step, index) => [step.key, index]))
          // Without a ring every prerequisite comes first; with one, that is said.
          const wrong = whole.steps.some((step, index) => step.after.some(key => (place.get(key) ?? -1) > index))
          if (wrong) expect(whole.problems.map(problem => problem.type)).toContain('steps-in-a-ring')
          const partial = buildSheet(target, built, ticks)
          for (const step of [...partial.steps, ...partial.done]) expect(place.has(step.key)).toBe(true)
        },
      ),
      runs(300),
    )
  })

  test('never shows a step that cannot be undone as done without a second name', () => {
    const rigid = practiceModel('fixed-rigid')
    fc.assert(
      fc.property(setUpOf(rigid), fc.option(oddAsBuilt, { nil: undefined }), anyTicks(rigid), (setUp, built, ticks) => {
        const named = ticks.some(tick => tick.step === 'cut-hanger-tubes' && (tick.secondName ?? '').trim() !== '')
        const { done } = buildSheet(resolvedIn(practice, setUp), built, ticks)
        if (!named) expect(done.map(step => step.key)).not.toContain('cut-hanger-tubes')
      }),
      runs(300),
    )
  })

  test("merged into a day's needs gives the same whatever the order of cases", () => {
    fc.assert(
      fc.property(fc.array(anyModel.chain(setUpOf), { maxLength: 6 }), setUps => {
        const sheets = setUps.map(setUp => buildSheet(resolvedIn(practice, setUp)))
        expect(dayNeeds(sheets.toReversed())).toEqual(dayNeeds(sheets))
      }),
      runs(60),
    )
  })
})

/** Common practice, no source: what of a chair, once changed, leaves this check worth nothing. */
const SPOILT_BY: Readonly<Partial<Record<CheckKey, readonly (keyof SetUp)[]>>> = {
  brakesHold: ['seatWidthMm', 'seatDepth', 'seatHeight', 'axle'],
  wheelsTurnFreely: ['axle'],
  testRide: ['axle', 'cushion', 'seatHeight', 'backHeight', 'footrestLeftMm', 'footrestRightMm'],
  fitWhileMoving: ['axle', 'cushion', 'seatHeight', 'backHeight', 'footrestLeftMm', 'footrestRightMm', 'armrestMm'],
  handCheckUnderSeatBones: ['cushion', 'footrestLeftMm', 'footrestRightMm'],
  footrestsFirmAndClear: ['footrestLeftMm', 'footrestRightMm', 'seatHeight'],
  backTensionEven: ['backHeight'],
  antiTipSet: ['axle', 'seatHeight'],
}

describe('checks', () => {
  const checksMadeFor = (model: ChairModel, setUp: SetUp, result: string) =>
    said({
      set: Object.fromEntries(
        model.checks.map(check => [
          checkFieldName(check),
          { result, on: '2026-03-02', against: checkAgainst(model, check, setUp) },
        ]),
      ),
    })

  test('made for one set-up are passed for exactly that, and never become passed by a change', () => {
    fc.assert(
      fc.property(modelWithTwo, ([model, made, target]) => {
        const view = viewOfCase(testCase, [checksMadeFor(model, made, 'pass')])
        for (const state of checkStates(view, model, made))
          expect(state.state).toBe(model.checks.includes(state.check) ? 'passed' : 'not-applicable')
        for (const { check, state } of checkStates(view, model, target)) {
          if (state !== 'passed') continue
          for (const part of SPOILT_BY[check] ?? []) expect(target[part]).toBe(made[part])
          expect(target.seatWidthMm).toBe(made.seatWidthMm)
        }
      }),
      runs(300),
    )
  })

  test('that failed are failed for every set-up', () => {
    fc.assert(
      fc.property(modelWithTwo, ([model, made, target]) => {
        const view = viewOfCase(testCase, [checksMadeFor(model, made, 'fail')])
        for (const { check, state } of checkStates(view, model, target))
          expect(state).toBe(model.checks.includes(check) ? 'failed' : 'not-applicable')
      }),
      runs(100),
    )
  })

  test('go stale with whatever the build sheet says it makes stale', () => {
    fc.assert(
      fc.property(modelWithTwo, ([model, built, target]) => {
        const view = viewOfCase(testCase, [checksMadeFor(model, built, 'pass')])
        const sheet = buildSheet(resolvedIn(practice, target), built)
        const stale = checkStates(view, model, target).filter(one => one.state === 'stale')
        expect(stale.map(one => one.check).toSorted()).toEqual(sheet.makesStale.toSorted())
      }),
      runs(300),
    )
  })
})

describe('tyre pressures', () => {
  const sidewall = fc
    .tuple(fc.integer({ min: 100, max: 800 }), fc.integer({ min: 0, max: 300 }))
    .map(([minKPa, span]) => ({ minKPa, maxKPa: minKPa + span }))
  const place = fc.record({ celsius: fc.integer({ min: -20, max: 50 }), altitudeM: fc.integer({ min: 0, max: 5000 }) })

  test('lie within the sidewall on every ground', () => {
    fc.assert(
      fc.property(sidewall, oneOf(['smooth', 'mixed', 'rough'] as const), (range, ground) => {
        const pressure = pressureFor(range, ground)
        if (pressure.type !== 'pneumatic') throw new Error(pressure.type)
        for (const kPa of [pressure.leastKPa, pressure.targetKPa, pressure.mostKPa]) {
          expect(kPa).toBeGreaterThanOrEqual(range.minKPa - 1e-9)
          expect(kPa).toBeLessThanOrEqual(range.maxKPa + 1e-9)
        }
      }),
      runs(200),
    )
  })

  test('to fill to never pass the sidewall, neither here nor where the chair is used', () => {
    fc.assert(
      fc.property(sidewall, fc.integer({ min: 0, max: 1200 }), place, place, (range, targetKPa, here, there) => {
        const fill = fillPressure(range, targetKPa, here, there)
        expect(fill.hereKPa).toBeGreaterThanOrEqual(0)
        expect(fill.hereKPa).toBeLessThanOrEqual(range.maxKPa)
        // A tyre pumped to nothing here may still show a little gauge pressure on a high, hot pass.
        if (fill.hereKPa > 0) expect(fill.thereKPa).toBeLessThanOrEqual(range.maxKPa + 1e-6)
        if (fill.limitedBy === 'nothing') expect(fill.thereKPa).toBeCloseTo(targetKPa, 6)
      }),
      runs(300),
    )
  })
})
