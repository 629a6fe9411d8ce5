import { describe, expect, it } from 'vitest'
import { crewOf } from '../../../src/crew/crew.ts'
import { tripsOf } from '../../../src/crew/trips.ts'
import type { EntryId } from '../../../src/ids.ts'
import { added, device, founded, teamSaid } from '../../support/team-entries.ts'

type Said = ReturnType<typeof teamSaid>

const TRIP = Buffer.alloc(16, 7).toString('base64url')
const OTHER = Buffer.alloc(16, 9).toString('base64url')
const titled = (title: string | null, over: readonly EntryId[] = [], by = 'ana') =>
  teamSaid(by, { trip: { trip: TRIP, title } }, over)
const day = (hours: number, crew: readonly string[], over: readonly EntryId[] = [], place = 'Ambrel', by = 'ana') =>
  teamSaid(by, { tripDay: { trip: TRIP, on: '2026-12-02', place, hours, crew: crew.map(device) } }, over)

const tripsFrom = (...said: readonly Said[]) => {
  const entries = [founded('ana'), added('ana', 'ben'), added('ana', 'guest', 'visitor'), ...said]
  return tripsOf(crewOf(entries), entries)
}

describe('trips', () => {
  it('are what the crew says of them: a title, and days each with a place, hours and who works', () => {
    const { trips, differences } = tripsFrom(
      titled('Rains'),
      day(6, ['ana', 'ben', 'ana'], [], 'Sarn'),
      day(4, ['ana']),
    )
    expect(differences).toEqual([])
    expect(trips).toEqual([
      {
        trip: TRIP,
        title: 'Rains',
        days: [
          { on: '2026-12-02', place: 'Ambrel', hours: 4, crew: [device('ana')] },
          { on: '2026-12-02', place: 'Sarn', hours: 6, crew: [device('ana'), device('ben')].sort() },
        ],
      },
    ])
  })

  it('a day said anew replaces the day it was said over; no hours take it out; a trip called off is gone', () => {
    const first = day(6, ['ana'])
    const second = day(5, ['ana'], [first.id])
    const none = day(0, [], [second.id])
    expect(tripsFrom(titled('Rains'), first, second).trips[0]?.days.map(one => one.hours)).toEqual([5])
    expect(tripsFrom(titled('Rains'), first, second, none).trips[0]?.days).toEqual([])
    const rains = titled('Rains')
    expect(tripsFrom(rains, titled(null, [rains.id]), first).trips).toEqual([])
  })

  it('of days planned apart the one with fewest hours of crew stands, and that is named', () => {
    const [large, small] = [day(6, ['ana', 'ben']), day(8, ['ben'], [], 'Ambrel', 'ben')]
    const { trips, differences } = tripsFrom(titled('Rains'), large, small)
    expect(trips[0]?.days.map(one => one.hours)).toEqual([8])
    expect(differences).toEqual([{ type: 'trip-day-differs', trip: TRIP, entries: [large.id, small.id].sort() }])
    const settled = day(7, ['ana'], [large.id, small.id])
    expect(tripsFrom(titled('Rains'), large, small, settled).differences).toEqual([])
  })

  it('called off by one while another renames it: it stands, and that is named', () => {
    const rains = titled('Rains')
    const { trips, differences } = tripsFrom(rains, titled(null, [rains.id]), titled('Late rains', [rains.id], 'ben'))
    expect(trips.map(one => one.title)).toEqual(['Late rains'])
    expect(differences.map(one => one.type)).toEqual(['trip-differs'])
  })

  it('days of a trip that nobody titled yet are kept, and what a visitor says counts nowhere', () => {
    const guest = teamSaid('guest', { trip: { trip: OTHER, title: 'By a guest' } })
    const { trips } = tripsFrom(day(6, ['ana']), guest)
    expect(trips.map(one => [one.title, one.days.length])).toEqual([[null, 1]])
  })

  it('give the same in any order of the entries', () => {
    const entries = [
      titled('Rains'),
      titled('Dry', [], 'ben'),
      day(6, ['ana', 'ben']),
      day(6, ['ben'], [], 'Ambrel', 'ben'),
    ]
    expect(tripsFrom(...entries.toReversed())).toEqual(tripsFrom(...entries))
  })
})
