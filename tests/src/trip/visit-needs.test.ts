import { describe, expect, it } from 'vitest'
import practiceCatalogue from '../../../demo/practice-catalogue.json' with { type: 'json' }
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { outcome } from '../../../src/outcome/outcome.ts'
import { type VisitNeeds, visitNeedsOf } from '../../../src/trip/visit-needs.ts'
import { waitingPersonOf } from '../../../src/trip/waiting.ts'
import { said, testCase } from '../../support/case-entries.ts'

const TODAY = toCalendarDate('2026-11-25')
const DATES = { from: toCalendarDate('2026-12-01'), to: toCalendarDate('2026-12-05') }
const context = { catalogue: catalogueSchema.parse(practiceCatalogue), policy: DEFAULT_POLICY }

const needsFrom = (entries: readonly Counted[], hasChair = false, dates = DATES): VisitNeeds | null => {
  const view = viewOfCase(testCase, entries)
  const made = outcome(view, context, TODAY)
  const waiting = waitingPersonOf(view, made, context, TODAY)
  return visitNeedsOf(made, { case: testCase, place: view.values.place ?? null }, waiting, hasChair, dates)
}
const tasksOf = (needs: VisitNeeds | null): string[] =>
  (needs?.tasks ?? []).map(task => (task.type === 'section' ? task.section : task.kind))

const REFERRED = said({ set: { personName: 'Tavo Lind', place: 'Dorrow', dateOfBirth: '1986-03-01' } })
const mm = (typed: number) => ({ typed, unit: 'mm', how: 'tape' })
const MEASURED = said({
  set: {
    sex: 'male',
    massKg: { typed: 74, unit: 'kg', how: 'scale' },
    hipWidthMm: mm(380),
    thighDepthLeftMm: mm(480),
    thighDepthRightMm: mm(482),
    calfLengthLeftMm: mm(445),
    calfLengthRightMm: mm(445),
    ribHeightMm: mm(285),
    scapulaHeightMm: mm(430),
  },
})
const handedOver = (on: string) => said({ set: { handover: { handedOverOn: on } } })

describe('what a person needs of a trip', () => {
  it('somebody without a chair: the work up to choosing, and the rest once a chair is put aside', () => {
    const without = needsFrom([REFERRED])
    expect(tasksOf(without)).toEqual(['referral', 'assessment', 'measuring', 'choosing'])
    // 10 + 40 + 20 + 10 minutes, common practice.
    expect(without).toMatchObject({ place: 'Dorrow', risk: 'waits', homeVisit: null, minutes: 80 })
    expect(tasksOf(needsFrom([REFERRED, MEASURED], true)).slice(-5)).toEqual([
      'preparing',
      'checks',
      'fitting',
      'training',
      'handover',
    ])
    // A chair that nobody may have yet brings no work of its own.
    expect(tasksOf(needsFrom([REFERRED], true))).toEqual(tasksOf(without))
  })

  it('counts what falls due by the last day of the trip, overdue as it is on the first', () => {
    // WHO 2008, 3.3.9: first review after six months; from 2 June that is 2 December, opening thirty days before (project value).
    const review = needsFrom([REFERRED, handedOver('2026-06-02')])
    expect(tasksOf(review)).toContain('review')
    expect(review?.risk).toBe('due')
    const late = { from: toCalendarDate('2026-12-10'), to: toCalendarDate('2026-12-12') }
    expect(needsFrom([REFERRED, handedOver('2026-06-02')], false, late)?.risk).toBe('overdue')
    expect(needsFrom([REFERRED, handedOver('2026-11-20')])).toBeNull()
  })

  it('an open sore comes first of all and is looked at where the person lives', () => {
    const sore = said({ set: { skinLook: { on: '2026-11-24', found: 'sore' } } })
    const needs = needsFrom([REFERRED, handedOver('2026-11-20'), sore])
    // Seven days after the look: 1 December. Fifteen minutes and thirty for the way, common practice.
    expect(needs).toMatchObject({ risk: 'unsafe', homeVisit: 'sore', minutes: 45 })
    expect(tasksOf(needs)).toEqual(['skin-look'])
  })

  it('an unsafe chair, and somebody not found last time, are visited at home', () => {
    const problem = said({
      set: { problem: { reportedOn: '2026-11-24', key: 'brake', unsafe: true, what: 'left brake slips' } },
    })
    expect(needsFrom([REFERRED, handedOver('2026-11-20'), problem])).toMatchObject({
      risk: 'unsafe',
      homeVisit: 'unsafe-chair',
    })
    const away = said({ set: { notFound: { on: '2026-11-22', why: 'house closed' } } })
    expect(needsFrom([REFERRED, handedOver('2026-06-02'), away])?.homeVisit).toBe('not-found')
  })

  it('somebody to be referred is seen though no other work waits; after an exit there is nothing', () => {
    const spasms = said({ set: { uncontrolledSpasms: true } })
    expect(needsFrom([REFERRED, MEASURED, spasms])?.risk).toBe('refer')
    const gone = said({ set: { exit: { on: '2026-11-23', why: 'moved' } } })
    expect(needsFrom([REFERRED, handedOver('2026-06-02'), gone])).toBeNull()
  })
})
