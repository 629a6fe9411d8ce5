import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { crewOf } from '../../../src/crew/crew.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { type CasebookContext, outcome } from '../../../src/outcome/outcome.ts'
import { factsOfOnePerson, reportFacts } from '../../../src/report/report-facts.ts'
import { ReportFold } from '../../../src/report/report-fold.ts'
import { stockUseOf } from '../../../src/report/stock-use.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { aCase, founded, teamSaid } from '../../support/team-entries.ts'

const context: CasebookContext = { catalogue: { catalogue: 1, title: 'none', models: [] }, policy: DEFAULT_POLICY }
const factsOf = (day: string, ...entries: readonly Counted[]) => {
  const view = viewOfCase(testCase, entries)
  return reportFacts(view, outcome(view, context, toCalendarDate(day)), context)
}
const person = said({
  set: { personName: 'Karuni Castellow', sex: 'male', birthYear: 1980, place: ' Dorrow ', referredOn: '2025-01-10' },
})
const handover = (on: string, serialNumber = 'S1') => said({ set: { handover: { handedOverOn: on, serialNumber } } })
const review = (visitedOn: string, more: Readonly<Record<string, unknown>> = {}) =>
  said({ set: { review: { visitedOn, fit: 'ok', skin: 'ok', chair: 'ok', skills: 'ok', ...more } } })
const repair = (repairedOn: string, part: string) =>
  said({ set: { repair: { repairedOn, part, fault: 'worn', chairUsable: true } } })

describe('what a case adds to a report', () => {
  it('somebody who waits is registered, referred and waiting, since the referral', () => {
    const facts = factsOf('2025-03-11', person)
    expect(facts.measures.toSorted()).toEqual(['referred', 'registered', 'waiting'])
    expect(facts.groups).toEqual({ sex: 'male', age: '18-59', place: 'Dorrow', provision: null })
    // 21 days of January, 28 of February, 11 of March.
    expect(facts.waits).toEqual([{ wait: 'waiting-now', days: 60 }])
  })

  it('carries neither name nor any other words', () => {
    expect(JSON.stringify(factsOf('2025-03-11', person))).not.toMatch(/Karuni|Castellow/)
  })

  // WHO 2008, 3.3.9: a first review within six months of the handover.
  it.each([
    ['2025-07-01', [], 'review-not-due'],
    ['2025-09-20', [], 'review-missing'],
    ['2025-12-01', ['2025-08-20'], 'review-on-time'],
    ['2025-12-01', ['2025-10-20'], 'review-late'],
  ] as const)('on %s, with reviews on %j after a handover on 20 February 2025: %s', (day, reviews, expected) => {
    const facts = factsOf(day, person, handover('2025-02-20'), ...reviews.map(on => review(on)))
    expect(facts.measures.filter(measure => measure.startsWith('review-'))).toEqual([expected])
    expect(facts.measures).toContain('handed-over')
    // 21 days of January and 20 of February.
    expect(facts.waits[0]).toEqual({ wait: 'referral-to-handover', days: 41 })
  })

  it('a visit that left something out is no review', () => {
    const facts = factsOf('2025-12-01', person, handover('2025-02-20'), review('2025-08-01', { skin: 'not-done' }))
    expect(facts.measures).toContain('review-missing')
  })

  it('takes use and ratings from the last visit that asked', () => {
    const facts = factsOf(
      '2025-12-01',
      person,
      handover('2025-02-20'),
      review('2025-06-01', { inUse: 'no', satisfactionChair: 2 }),
      review('2025-08-01', { inUse: 'daily', satisfactionService: 4 }),
    )
    expect(facts.measures).toEqual(expect.arrayContaining(['used-daily', 'chair-rated-2', 'service-rated-4']))
    expect(facts.measures).not.toContain('not-used')
  })

  it('says why somebody left, and that without a chair they waited for nothing', () => {
    const facts = factsOf('2025-12-01', person, said({ set: { exit: { on: '2025-05-01', why: 'moved' } } }))
    expect(facts.measures).toEqual(expect.arrayContaining(['left', 'left-moved', 'left-without-chair']))
    expect(facts.measures).not.toContain('waiting')
    expect(facts.waits).toEqual([])
  })

  it('events of later days do not count yet', () => {
    expect(factsOf('2025-02-01', person, handover('2025-02-20')).measures).toContain('waiting')
  })

  it('a chair lives from its handover to the last day on which it was seen; the next one begins anew', () => {
    const facts = factsOf(
      '2025-12-01',
      person,
      handover('2025-02-01'),
      repair('2025-02-11', 'tyre'),
      repair('2025-03-03', 'tyre'),
      review('2025-04-02'),
      handover('2025-06-01', 'S2'),
      repair('2025-06-02', 'brake'),
    )
    expect(facts.chairs).toEqual([
      {
        days: 60,
        faults: [
          { part: 'tyre', days: 10 },
          { part: 'tyre', days: 30 },
        ],
      },
      { days: 1, faults: [{ part: 'brake', days: 1 }] },
    ])
    expect(facts.groups.provision).toBe('replacement')
  })

  it('counts what two measured of one body on one occasion, once each, and no guess', () => {
    const hip = (by: string, typed: number, on: string, how = 'tape') =>
      said({ by, set: { hipWidthMm: { typed, unit: 'mm', on, how } } })
    const facts = factsOf(
      '2025-12-01',
      person,
      hip('a', 410, '2025-02-01'),
      hip('a', 412, '2025-02-02'),
      hip('b', 416, '2025-02-03'),
      hip('c', 450, '2025-02-03', 'guessed'),
      hip('c', 430, '2025-09-01'),
    )
    expect(facts.measured).toEqual([{ field: 'hipWidthMm', values: [410, 416] }])
    const fold = new ReportFold()
    fold.add(facts)
    // Two values that differ by 6: the root of 36 / 2.
    expect(fold.report().agreement[0]?.error).toBeCloseTo(Math.sqrt(18), 9)
  })

  it('two cases of one person are one person with all their chairs', () => {
    const one = factsOf('2025-12-01', person, handover('2025-02-01'), review('2025-04-02'))
    const fold = new ReportFold()
    fold.add(factsOfOnePerson([factsOf('2025-12-01', person), one]))
    const counts = fold.report().counts.filter(({ people }) => people > 0)
    expect(counts.find(({ measure }) => measure === 'registered')?.people).toBe(1)
    expect(counts.find(({ measure }) => measure === 'handed-over')?.people).toBe(1)
    expect(counts.find(({ measure }) => measure === 'waiting')).toBeUndefined()
  })
})

describe('stock used and left', () => {
  it('is what went out for cases, and what is there over all places; a move between places is neither', () => {
    const moved = (place: string, amount: number, to?: string) =>
      teamSaid('ines', { movement: { line: 'tyre', place, amount, ...(to ? { case: aCase(to) } : {}) } })
    const entries = [
      founded('ines'),
      moved('store', 10),
      moved('store', -4),
      moved('van', 4),
      moved('van', -2, 'x'),
      moved('van', -1, 'y'),
      moved('van', 1, 'y'),
    ]
    expect(stockUseOf(crewOf(entries), entries)).toEqual([{ line: 'tyre', used: 2, left: 8 }])
  })
})
