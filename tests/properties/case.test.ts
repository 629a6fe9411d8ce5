import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Person, personSchema } from '../../src/body/person.ts'
import { doubtsOf, withoutSetAside } from '../../src/body/plausibility.ts'
import { MEASURES_OF_PERSON } from '../../src/body/possible-ranges.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import { type FlatOutcome, MOST_COMBINATIONS, weighDifferences } from '../../src/case/differences.ts'
import type { Counted } from '../../src/case/entry.ts'
import { personOf } from '../../src/case/person-of.ts'
import { photosOf } from '../../src/case/photos.ts'
import { stageOf } from '../../src/case/stage.ts'
import { said, testCase } from '../support/case-entries.ts'
import { runs } from '../support/seed.ts'

// Properties are the rules B2-B10 of the shared record, and that every answer is total. No published source.

const today = toCalendarDate('2026-11-25')
const on = fc.constantFrom('2026-05-01', '2026-05-02', '2026-06-01')
const reading = (typed: fc.Arbitrary<number>, ...units: readonly string[]) =>
  fc.record(
    { typed, unit: fc.constantFrom(...units), how: fc.constantFrom('tape', 'guessed'), on },
    { requiredKeys: ['typed', 'unit'] },
  )
const check = fc.record({
  result: fc.constantFrom('pass', 'fail', 'not-applicable'),
  on,
  against: fc.constant({ axle: 'r3' }),
})

/** Three photos and what is no hash. */
const photoHash = fc.constantFrom('A'.repeat(43), 'B'.repeat(42).concat('E'), 'C'.repeat(42).concat('I'), 'short')

/** One form: some fields, some of them invalid, some of a later version. */
const form = fc.record(
  {
    hipWidthMm: reading(fc.integer({ min: 370, max: 390 }), 'mm'),
    massKg: reading(fc.constantFrom(60, 60.4, 61, 150), 'kg', 'lb'),
    calfLengthLeftMm: reading(fc.double({ min: 0, max: 1e6, noNaN: true }), 'mm', 'cm', 'in'),
    presentSore: fc.boolean(),
    posture: fc.constantFrom('sits-well', 'some-support', 'twisted'),
    propulsion: fc.subarray(['hands', 'left-foot', 'right-foot'], { minLength: 0 }),
    personName: fc.constantFrom('Tavi', ' Tavi', 'Tavi O'),
    birthYear: fc.integer({ min: 1899, max: 2201 }),
    limbLossLeft: fc.constantFrom(null, { level: 'transfemoral' }, { level: 'tail' }),
    checkBrakesHold: check,
    handover: fc.record({ handedOverOn: on }),
    chairReturned: fc.record({ on }),
    photoAgreed: fc.boolean(),
    photo: fc.record({ hash: photoHash, shows: fc.constantFrom('skin', 'part', 'tail'), on }),
    photoRemoved: fc.record({ hashes: fc.array(photoHash, { maxLength: 2 }), on, why: fc.constant('asked') }),
    exit: fc.constantFrom(null, { on: '2026-06-01', why: 'moved' }),
    seatTiltDeg: fc.integer(),
    constructor: fc.boolean(),
  },
  { requiredKeys: [] },
)
const step = fc.record({
  set: form,
  kind: fc.constantFrom('save', 'save', 'settle', 'retest', 'amend'),
  why: fc.option(fc.constant('seen')),
  by: fc.constantFrom('x', 'y', 'z'),
  v: fc.constantFrom(1, 1, 1, 2),
  over: fc.array(fc.nat({ max: 20 }), { maxLength: 3 }),
})
const history = fc.array(step, { maxLength: 12 }).map(steps => {
  const entries: Counted[] = []
  for (const [at, { over, why, ...rest }] of steps.entries()) {
    const named = [...new Set(over.flatMap(index => entries[index] ?? []))]
    entries.push(said({ ...rest, at, over: named, ...(why === null ? {} : { why }) }))
  }
  return entries
})
const viewOf = (entries: readonly Counted[]): CaseView => viewOfCase(testCase, entries)

describe('the view of any case', () => {
  it('is the same JSON text for any order and repetition of its entries', () => {
    const mixed = history.chain(entries =>
      fc.tuple(fc.constant(entries), fc.shuffledSubarray([...entries, ...entries], { minLength: entries.length * 2 })),
    )
    fc.assert(
      fc.property(mixed, ([entries, shuffled]) => {
        expect(JSON.stringify(viewOf(shuffled))).toBe(JSON.stringify(viewOf(entries)))
      }),
      runs(300),
    )
  })

  it('gives every field with a head a value, a list of events, or a difference: never nothing, never two of them', () => {
    fc.assert(
      fc.property(history, entries => {
        const view = viewOf(entries)
        for (const [name, heads] of Object.entries(view.heads)) {
          expect(heads.length).toBeGreaterThan(0)
          const answers = [
            Object.hasOwn(view.values, name),
            Object.hasOwn(view.events, name),
            view.differences.some(difference => difference.field === name),
          ]
          expect(answers.filter(Boolean)).toHaveLength(1)
        }
      }),
      runs(300),
    )
  })

  it('shows every head of a difference in exactly one option', () => {
    fc.assert(
      fc.property(history, entries => {
        const view = viewOf(entries)
        for (const { field, options } of view.differences) {
          expect(options.length).toBeGreaterThan(1)
          const shown = options.flatMap(option => option.heads.map(head => head.id as string)).sort()
          expect(shown).toEqual(view.heads[field]?.map(head => head.id))
        }
      }),
      runs(300),
    )
  })

  it('names every field name that was ever written: as a head, as newer, or as unknown', () => {
    fc.assert(
      fc.property(history, entries => {
        const view = viewOf(entries)
        const told = new Set<string>([...Object.keys(view.heads), ...view.newer, ...view.unknownFields])
        for (const { entry } of entries) for (const name of Object.keys(entry.set)) expect(told).toContain(name)
      }),
      runs(200),
    )
  })

  it('holds a risk for as long as a standing head says true, and a check for as long as one says fail', () => {
    fc.assert(
      fc.property(history, entries => {
        const { heads, values } = viewOf(entries)
        const risky = (heads.presentSore ?? []).some(head => head.value === true)
        expect(values.presentSore ?? false).toBe(risky)
        const fails = (heads.checkBrakesHold ?? []).some(head => (head.value as { result: string }).result === 'fail')
        expect(values.checkBrakesHold?.result === 'fail').toBe(fails)
      }),
      runs(300),
    )
  })

  it('lists no photo that was ever taken back, and every other one that stands, once', () => {
    fc.assert(
      fc.property(history, entries => {
        const view = viewOf(entries)
        const back = new Set<string>()
        for (const { readable, entry } of entries) {
          const said = readable ? (entry.set.photoRemoved as { hashes: readonly string[] } | undefined) : undefined
          const isValid = said !== undefined && said.hashes.length > 0 && !said.hashes.includes('short')
          if (isValid) for (const hash of said.hashes) back.add(hash)
        }
        const stand = (view.heads.photo ?? []).map(head => (head.value as { hash: string }).hash)
        expect(
          photosOf(view)
            .map(({ hash }) => hash as string)
            .sort(),
        ).toEqual([...new Set(stand)].filter(hash => !back.has(hash)).sort())
      }),
      runs(300),
    )
  })

  it('gives a stage, finite doubts, and a person that fitting accepts, whatever was typed', () => {
    fc.assert(
      fc.property(history, entries => {
        const view = viewOf(entries)
        expect(stageOf(view).stage).toBeTypeOf('string')
        const person = personOf(view, today)
        const doubts = doubtsOf(person, today)
        for (const doubt of doubts) expect(JSON.stringify(doubt)).not.toContain(':null')
        expect(personSchema.safeParse(withoutSetAside(person, doubts)).error).toBeUndefined()
      }),
      runs(300),
    )
  })
})

describe('weighing', () => {
  const names = ['posture', 'trunkNeed', 'ground', 'skill'] as const
  const values = {
    posture: ['complex', 'some-support'],
    trunkNeed: ['free', 'some', 'high'],
    ground: ['mixed', 'rough', 'smooth'],
    skill: ['expert', 'new'],
  } as const
  /** A case in which each named field is open, and an outcome that is a random table over what is picked. */
  const openCase = fc.subarray([...names], { minLength: 1 })
  const table = fc.array(fc.boolean(), { minLength: 36, maxLength: 36 })

  const indexOf = (view: CaseView): number =>
    names.reduce((index, name) => {
      const all: readonly string[] = values[name]
      const at = all.indexOf(view.values[name] ?? '')
      return index * all.length + Math.max(at, 0)
    }, 0)

  it('finds a difference to matter exactly when changing it alone, in some company, changes the outcome', () => {
    fc.assert(
      fc.property(openCase, table, (open, cells) => {
        const entries = open.flatMap(name =>
          values[name].map((value, index) => said({ set: { [name]: value }, by: `${name} ${index}` })),
        )
        const view = viewOf(entries)
        let evaluated = 0
        const evaluate = (trial: CaseView): FlatOutcome => {
          evaluated += 1
          return { 'hold.x': cells[indexOf(trial)] ?? false }
        }
        const { differences } = weighDifferences(view, evaluate)
        const count = open.reduce((product, name) => product * values[name].length, 1)
        expect(count).toBeLessThanOrEqual(MOST_COMBINATIONS)
        expect(evaluated).toBe(count)

        // The same question asked literally: every pair of complete answers that differ in this field alone.
        const answers = open.reduce<readonly Readonly<Record<string, string>>[]>(
          (rows, name) => rows.flatMap(row => values[name].map(value => ({ ...row, [name]: value }))),
          [{}],
        )
        const outcomeOf = (answer: Readonly<Record<string, string>>) =>
          cells[indexOf({ ...view, values: { ...answer } as CaseView['values'] })]
        for (const { field, effect } of differences) {
          const matters = answers.some(a =>
            values[field as (typeof names)[number]].some(other => outcomeOf(a) !== outcomeOf({ ...a, [field]: other })),
          )
          expect(effect).toBe(matters ? 'changes' : 'none')
        }
      }),
      runs(200),
    )
  })
})

describe('doubts', () => {
  const numbers = fc.oneof(fc.double({ min: 0, max: 10_000, noNaN: true }), fc.integer({ min: 0, max: 2_200 }))
  const person = fc
    .record(
      {
        sex: fc.constantFrom('male', 'female'),
        ageYears: fc.integer({ min: 0, max: 125 }),
        massGuessed: fc.boolean(),
        ...Object.fromEntries(MEASURES_OF_PERSON.map(name => [name, numbers])),
      },
      { requiredKeys: [] },
    )
    .map(found => found as Person)

  it('answer for any person, each about a value that is there, and set aside only what is named', () => {
    fc.assert(
      fc.property(person, anybody => {
        const doubts = doubtsOf(anybody, today)
        for (const doubt of doubts) {
          expect(doubt.value).toBe(anybody[doubt.field as keyof Person])
          expect(Number.isFinite(doubt.wouldBe ?? 0)).toBe(true)
          expect(doubt.wouldBe).not.toBe(doubt.value)
        }
        expect(new Set(doubts.filter(doubt => doubt.setAside).map(doubt => doubt.field)).size).toBe(
          Object.keys(anybody).length - Object.keys(withoutSetAside(anybody, doubts)).length,
        )
      }),
      runs(400),
    )
  })

  it('once what is impossible is set aside, nothing more is set aside', () => {
    fc.assert(
      fc.property(person, anybody => {
        const used = withoutSetAside(anybody, doubtsOf(anybody, today))
        expect(doubtsOf(used, today).filter(doubt => doubt.setAside)).toEqual([])
      }),
      runs(400),
    )
  })
})
