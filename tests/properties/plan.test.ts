import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import type { TripDay } from '../../src/crew/trips.ts'
import { planTrip } from '../../src/trip/plan.ts'
import { VISIT_RISKS, type VisitNeeds } from '../../src/trip/visit-needs.ts'
import { runs } from '../support/seed.ts'
import { aCase, device } from '../support/team-entries.ts'

const PLACES = ['Ambrel', 'Dorrow', 'Sarn'] as const

const people: fc.Arbitrary<readonly VisitNeeds[]> = fc
  .array(
    fc.record({
      place: fc.constantFrom(...PLACES, null),
      risk: fc.constantFrom(...VISIT_RISKS),
      minutes: fc.integer({ min: 1, max: 200 }),
    }),
    { maxLength: 30 },
  )
  .map(rows => rows.map((row, index) => ({ ...row, case: aCase(`${index}`), tasks: [], homeVisit: null })))

const days: fc.Arbitrary<readonly TripDay[]> = fc.uniqueArray(
  fc.record({
    on: fc.constantFrom('2026-12-01', '2026-12-02', '2026-12-03').map(toCalendarDate),
    place: fc.constantFrom('Ambrel', 'Dorrow'),
    hours: fc.constantFrom(0.5, 1, 3, 7.25),
    crew: fc.subarray(['ana', 'ben', 'cai']).map(crew => crew.map(device)),
  }),
  { selector: ({ on, place }) => `${on} ${place}`, maxLength: 5 },
)

it('plans or lists everybody once, and no shift is longer than its hours', () => {
  fc.assert(
    fc.property(people, days, (needs, trip) => {
      const { shifts, left } = planTrip(needs, trip)
      const seen = [...shifts.flatMap(shift => shift.visits), ...left.map(one => one.needs)].map(one => one.case)
      expect(seen.toSorted()).toEqual(needs.map(one => one.case).toSorted())
      for (const shift of shifts) {
        const used = shift.visits.reduce((sum, visit) => sum + visit.minutes, 0)
        const day = trip.find(one => one.on === shift.on && one.place === shift.place)
        expect(used).toBe(shift.usedMinutes)
        expect(used).toBeLessThanOrEqual((day?.hours ?? 0) * 60)
        for (const visit of shift.visits) expect(visit.place).toBe(shift.place)
      }
    }),
    runs(200),
  )
})

it('leaves nobody out who would have fitted beside all of the same or higher risk', () => {
  fc.assert(
    fc.property(people, days, (needs, trip) => {
      const { shifts, left } = planTrip(needs, trip)
      const rank = ({ risk }: VisitNeeds): number => VISIT_RISKS.indexOf(risk)
      for (const { needs: out, why } of left) {
        const there = shifts.filter(shift => shift.place === out.place)
        if (why === 'place-not-on-trip' || why === 'place-unknown') expect(there).toEqual([])
        for (const shift of there) {
          const before = shift.visits.filter(visit => rank(visit) <= rank(out))
          const taken = before.reduce((sum, visit) => sum + visit.minutes, 0)
          expect(taken + out.minutes).toBeGreaterThan(shift.minutes)
        }
      }
    }),
    runs(200),
  )
})

it('gives the same text whatever the order of people and days', () => {
  fc.assert(
    fc.property(people, days, (needs, trip) => {
      const turned = trip.toReversed().map(day => ({ ...day, crew: day.crew.toReversed() }))
      expect(JSON.stringify(planTrip(needs.toReversed(), turned))).toBe(JSON.stringify(planTrip(needs, trip)))
    }),
    runs(100),
  )
})
