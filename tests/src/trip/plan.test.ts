import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { TripDay } from '../../../src/crew/trips.ts'
import { planTrip } from '../../../src/trip/plan.ts'
import type { VisitNeeds, VisitRisk } from '../../../src/trip/visit-needs.ts'
import { aCase, device } from '../../support/team-entries.ts'

const needs = (
  name: string,
  minutes: number,
  risk: VisitRisk = 'due',
  place: string | null = 'Ambrel',
): VisitNeeds => ({
  case: aCase(name),
  place,
  risk,
  tasks: [],
  homeVisit: null,
  minutes,
})
const day = (on: string, hours: number, crew: readonly string[], place = 'Ambrel'): TripDay => ({
  on: toCalendarDate(on),
  place,
  hours,
  crew: crew.map(device),
})
const names = (visits: readonly VisitNeeds[], known: readonly string[]): string[] =>
  visits.flatMap(visit => known.filter(name => aCase(name) === visit.case))

describe('a trip plan', () => {
  it('comes out even: each person goes to the shift with most time left', () => {
    // By hand: 90, 80, 60, 50 over two shifts of three hours: 90 + 50 and 80 + 60.
    const plan = planTrip(
      [needs('a', 90), needs('b', 80), needs('c', 60), needs('d', 50)],
      [day('2026-12-01', 3, ['ana']), day('2026-12-02', 3, ['ana'])],
    )
    expect(plan.shifts.map(shift => [shift.on, shift.usedMinutes, names(shift.visits, ['a', 'b', 'c', 'd'])])).toEqual([
      ['2026-12-01', 140, ['a', 'd']],
      ['2026-12-02', 140, ['b', 'c']],
    ])
    expect(plan.left).toEqual([])
  })

  it('the riskier goes first though shorter work would fit more people in, and who is left is listed by risk', () => {
    const plan = planTrip(
      [
        needs('short', 60, 'due'),
        needs('other', 60, 'due'),
        needs('sore', 100, 'unsafe'),
        needs('long', 90, 'overdue'),
      ],
      [day('2026-12-01', 2, ['ana'])],
    )
    expect(names(plan.shifts[0]?.visits ?? [], ['short', 'sore'])).toEqual(['sore'])
    expect(plan.left.map(one => [one.needs.risk, one.why])).toEqual([
      ['overdue', 'no-time-left'],
      ['due', 'no-time-left'],
      ['due', 'no-time-left'],
    ])
  })

  it('says who lives where nobody goes, whose place nobody noted, and whose work no shift can hold', () => {
    const plan = planTrip(
      [needs('away', 10, 'unsafe', 'Sarn'), needs('nowhere', 10, 'due', null), needs('long', 121, 'waits')],
      [day('2026-12-01', 2, ['ana', 'ben'])],
    )
    expect(plan.left.map(one => one.why)).toEqual(['place-not-on-trip', 'longer-than-a-shift', 'place-unknown'])
  })

  it('two people of two hours are not one of four', () => {
    const plan = planTrip([needs('a', 80), needs('b', 80), needs('c', 80)], [day('2026-12-01', 2, ['ana', 'ben'])])
    expect(plan.shifts.map(shift => shift.usedMinutes)).toEqual([80, 80])
    expect(plan.left).toHaveLength(1)
  })

  it('one place is one place however it was typed, and a member in two places on one day is named', () => {
    const plan = planTrip(
      [needs('a', 30, 'due', ' ambrel ')],
      [day('2026-12-01', 2, ['ana']), day('2026-12-01', 2, ['ana'], 'Sarn')],
    )
    expect(plan.left).toEqual([])
    expect(plan.inTwoPlaces).toEqual([{ on: '2026-12-01', member: device('ana') }])
  })
})
