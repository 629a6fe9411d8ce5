import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, addMonths, type CalendarDate, latest, toCalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import type { Counted } from '../../src/case/entry.ts'
import { type Dues, dues } from '../../src/follow-up/dues.ts'
import { CONTEXT } from '../src/follow-up/dues-of.ts'
import { type Said, said, testCase } from '../support/case-entries.ts'
import { runs } from '../support/seed.ts'

const FIRST_DAY = toCalendarDate('2025-01-01')
const DAYS = 900
const day = fc.nat(DAYS).map(days => addDays(FIRST_DAY, days))
const maybe = <Value>(arbitrary: fc.Arbitrary<Value>) => fc.option(arbitrary, { nil: undefined })
const serialNumber = maybe(fc.constantFrom('A1', 'B2'))
const grade = fc.constantFrom('ok', 'problem', 'not-done')
const kPa = maybe(fc.integer({ min: 0, max: 500 }))

/** Leaves out what is undefined: JSON has no such thing. */
const event = (name: string, parts: Record<string, fc.Arbitrary<unknown>>): fc.Arbitrary<Said> =>
  fc.record(parts).map(value => ({
    set: { [name]: Object.fromEntries(Object.entries(value).filter(([, part]) => part !== undefined)) },
  }))

const anyEvent: fc.Arbitrary<Said> = fc.oneof(
  { weight: 3, arbitrary: event('handover', { handedOverOn: day, serialNumber, temporaryUntil: maybe(day) }) },
  event('chairReturned', { on: day, serialNumber }),
  event('cushionIssued', { on: day, cushion: fc.constantFrom('foam', 'unknown') }),
  {
    weight: 3,
    arbitrary: event('review', {
      visitedOn: day,
      fit: grade,
      skin: grade,
      chair: grade,
      skills: grade,
      skinHealedWhy: maybe(fc.constant('closed')),
    }),
  },
  event('review', {
    visitedOn: day,
    fit: fc.constant('ok'),
    skin: fc.constant('ok'),
    chair: fc.constant('ok'),
    skills: fc.constant('ok'),
  }),
  event('notFound', { on: day, why: fc.constant('away') }),
  event('skinLook', { on: day, found: fc.constantFrom('clear', 'red', 'sore') }),
  event('problem', {
    reportedOn: day,
    key: fc.constantFrom('brake', 'caster'),
    unsafe: fc.boolean(),
    what: fc.constant('loose'),
  }),
  event('repair', {
    repairedOn: day,
    problem: maybe(fc.constantFrom('brake', 'caster')),
    part: fc.constant('bolt'),
    fault: fc.constant('loose'),
    chairUsable: fc.boolean(),
  }),
  {
    weight: 2,
    arbitrary: event('tyreReading', {
      on: day,
      tyre: fc.constantFrom('rear-left', 'rear-right', 'caster-left'),
      foundKPa: kPa,
      leftKPa: kPa,
      celsius: fc.integer({ min: -10, max: 45 }),
      altitudeM: fc.integer({ min: 0, max: 3000 }),
      puncture: maybe(fc.boolean()),
    }),
  },
  event('stature', { on: day, mm: fc.integer({ min: 300, max: 2400 }) }),
)

const RISKS = [
  'presentSore',
  'pastSore',
  'reducedSensation',
  'cannotReposition',
  'moisture',
  'progressive',
  'trainingTrouble',
] as const
/** A form that ticks a risk, with or without a dated fact beside it. */
const riskForm = fc.record({ risk: fc.constantFrom(...RISKS), on: maybe(day) }).map(
  ({ risk, on }): Said => ({
    set: { [risk]: true, ...(on ? { stepDone: { step: 'washed', on, against: {} } } : {}) },
  }),
)
const mm = (least: number, most: number) =>
  fc.record({ typed: fc.integer({ min: least, max: most }), on: maybe(day) }).map(({ typed, on }) => ({
    typed,
    unit: 'mm',
    ...(on ? { on } : {}),
  }))
const personForm = fc
  .record({
    sex: maybe(fc.constantFrom('male', 'female')),
    dateOfBirth: maybe(fc.constantFrom('1980-05-04', '2007-06-01', '2012-02-29', '2019-03-03', '2024-12-01')),
    birthYear: maybe(fc.constantFrom(1975, 2008, 2015)),
    statureMm: maybe(mm(300, 2200)),
    thighDepthLeftMm: maybe(mm(150, 500)),
    thighDepthRightMm: maybe(mm(150, 500)),
    hipWidthMm: maybe(mm(150, 450)),
    calfLengthLeftMm: maybe(mm(120, 500)),
    builtChair: maybe(fc.constantFrom('example-child', 'example-folding', 'gone')),
    builtSeatDepthMm: maybe(fc.constantFrom(290, 330, 440)),
    builtSeatWidthMm: maybe(fc.constantFrom(220, 280, 390)),
    builtSeatHeight: maybe(fc.constant('standard')),
    builtCushion: maybe(fc.constant('foam')),
    referredOn: maybe(day),
    cannotIssue: maybe(
      fc.record({ what: fc.constantFrom('wait', 'refer', 'temporary-chair'), until: day, why: fc.constant('x') }),
    ),
    exit: maybe(fc.record({ on: day, why: fc.constantFrom('died', 'moved', 'returned') })),
  })
  .map((form): Said => ({ set: Object.fromEntries(Object.entries(form).filter(([, value]) => value !== undefined)) }))
  // An exit ends everything: keep it rare, so that most cases have something to say.
  .chain(form => fc.nat(5).map(roll => (roll === 0 ? form : { set: { ...form.set, exit: null } })))

const anyCase = fc
  .tuple(
    fc.array(personForm, { maxLength: 2 }),
    fc.array(riskForm, { maxLength: 2 }),
    fc.array(anyEvent, { maxLength: 14 }),
  )
  .map(parts => parts.flat().map(said))
const anyDay = day

const viewOf = (entries: readonly Counted[]): CaseView => viewOfCase(testCase, entries)
const onDay = (view: CaseView, today: CalendarDate): Dues => dues(view, CONTEXT, today)
const contentOf = ({ changesOn: _, ...content }: Dues): string => JSON.stringify(content)

describe('dues', () => {
  it('are an answer for any set of entries: JSON without NaN, each due once, each in one visit, states as the days say', () => {
    fc.assert(
      fc.property(anyCase, anyDay, (entries, today) => {
        const result = onDay(viewOf(entries), today)
        expect(JSON.parse(JSON.stringify(result))).toEqual(result)
        const keys = result.items.map(item => item.key)
        expect(new Set(keys).size).toBe(keys.length)
        expect(result.visits.flatMap(visit => visit.dues)).toEqual(keys)
        for (const { opens, date, overdueFrom, state, window } of result.items) {
          expect(opens <= date && date <= overdueFrom).toBe(true)
          expect(state).toBe(today < opens ? 'later' : today < overdueFrom ? 'due' : 'overdue')
          if (window) expect(window.from <= date && date <= window.to).toBe(true)
        }
      }),
      runs(300),
    )
  })

  it('are the same in whatever order the entries come', () => {
    fc.assert(
      fc.property(
        anyCase.chain(entries =>
          fc.tuple(fc.constant(entries), fc.shuffledSubarray(entries, { minLength: entries.length })),
        ),
        anyDay,
        ([entries, shuffled], today) => {
          expect(onDay(viewOf(shuffled), today)).toEqual(onDay(viewOf(entries), today))
        },
      ),
      runs(200),
    )
  })

  it('differ next exactly on the day they say: not a day before, and then they do', () => {
    const MOST_DAYS = 120
    let reached = 0
    fc.assert(
      fc.property(anyCase, anyDay, (entries, today) => {
        const view = viewOf(entries)
        const now = onDay(view, today)
        for (let days = 1; days <= MOST_DAYS; days++) {
          const date = addDays(today, days)
          const then = onDay(view, date)
          if (date === now.changesOn) {
            expect(contentOf(then)).not.toBe(contentOf(now))
            reached++
            return
          }
          expect(contentOf(then)).toBe(contentOf(now))
          expect(then.changesOn).toBe(now.changesOn)
        }
      }),
      runs(60),
    )
    expect(reached).toBeGreaterThan(10)
  })

  it('are never later for a new risk', () => {
    fc.assert(
      fc.property(
        fc.array(personForm, { maxLength: 1 }),
        fc.array(riskForm, { maxLength: 2 }),
        fc.array(anyEvent, { maxLength: 14 }),
        riskForm,
        anyDay,
        (person, risks, events, risk, today) => {
          const [name = ''] = Object.keys(risk.set)
          const before = [...person, ...events, ...risks.filter(other => !Object.hasOwn(other.set, name))].map(said)
          const without = onDay(viewOf(before), today)
          const withRisk = onDay(viewOf([...before, said(risk)]), today)
          for (const { key, date } of without.items) {
            const same = withRisk.items.find(item => item.key === key)
            expect(same && same.date <= date).toBe(true)
          }
        },
      ),
      runs(300),
    )
  })

  it('are never later than their own rule allows', () => {
    fc.assert(
      fc.property(anyCase, anyDay, (entries, today) => {
        const view = viewOf(entries)
        const counts = <Value extends { on: CalendarDate }>(events: readonly Value[]) =>
          events.filter(one => one.on <= today)
        const handed = counts(view.events.handover.map(({ value }) => ({ ...value, on: value.handedOverOn })))
        const whole = counts(view.events.review.map(({ value }) => ({ ...value, on: value.visitedOn }))).filter(
          review => [review.fit, review.skin, review.chair, review.skills].every(part => part !== 'not-done'),
        )
        const looks = [
          ...counts(view.events.skinLook.map(({ value }) => value)).map(look => look.on),
          ...counts(view.events.review.map(({ value }) => ({ on: value.visitedOn }))).map(review => review.on),
          ...handed.map(handover => handover.on),
          ...entries.flatMap(({ entry }) => (entry.set.stepDone as { on: CalendarDate } | undefined)?.on ?? []),
        ]
        for (const item of onDay(view, today).items) {
          const given = handed.filter(one => (one.serialNumber ?? null) === item.serialNumber).map(one => one.on)
          if (item.kind === 'review') {
            const seen = latest(whole.map(review => review.on).filter(on => on >= (given[0] ?? on)))
            const cap = [...given.map(on => addMonths(on, 6)), ...(seen ? [addMonths(seen, 12)] : [])].sort().at(-1)
            expect(cap !== undefined && item.date <= cap).toBe(true)
          }
          if (item.kind === 'technician-upkeep')
            expect(
              item.date <=
                addMonths(latest([...given, ...view.events.review.map(one => one.value.visitedOn)]) ?? today, 6),
            ).toBe(true)
          if (item.kind === 'skin-look') expect(item.date <= addDays(latest(looks) ?? today, 7)).toBe(true)
          if (item.kind === 'problem' || item.kind === 'found-wrong') expect(item.date <= addDays(today, 30)).toBe(true)
          if (item.kind === 'unusable-chair') expect(item.date <= addDays(today, 7)).toBe(true)
          if (item.kind === 'tyre') {
            const filled = latest(counts(view.events.tyreReading.map(one => one.value)).map(reading => reading.on))
            expect(item.date <= addMonths(filled ?? today, 6)).toBe(true)
          }
        }
      }),
      runs(300),
    )
  })
})
