import type { CalendarDate } from '../calendar-date.ts'
import type { Counted } from '../case/entry.ts'
import { compareText, type DeviceId, type EntryId } from '../ids.ts'
import { type Crew, countingEntries } from './crew.ts'
import { standingIn, statementsIn } from './team-statements.ts'

/** One day of a trip at one place. */
export interface TripDay {
  readonly on: CalendarDate
  readonly place: string
  readonly hours: number
  readonly crew: readonly DeviceId[]
}

export interface Trip {
  readonly trip: string
  /** Null: nobody gave it a title yet; its days came first. */
  readonly title: string | null
  /** By date, then by place. */
  readonly days: readonly TripDay[]
}

/** Statements made apart about the same trip or day: which one stands is chosen alike on every device, and this named. */
export interface TripDifference {
  readonly type: 'trip-differs' | 'trip-day-differs'
  readonly trip: string
  readonly entries: readonly EntryId[]
}

export interface Trips {
  readonly trips: readonly Trip[]
  readonly differences: readonly TripDifference[]
}

const crewHoursOf = ({ hours, crew }: TripDay): number => hours * new Set(crew).size

/**
 * The trips as the crew's entries say, those called off left out. Of days planned apart the one with the fewest hours of
 * crew stands until somebody settles it, so that no plan counts on people who may be elsewhere; of titles, the first by
 * entry id. Called off by one and renamed by another at the same time: it stands.
 */
export const tripsOf = (crew: Crew, entries: readonly Counted[]): Trips => {
  const counting = countingEntries(crew, entries)
  const titles = standingIn(statementsIn(counting, 'trip'), ({ trip }) => trip)
  const days = standingIn(statementsIn(counting, 'tripDay'), ({ trip, on, place }) => JSON.stringify([trip, on, place]))
  const differences: TripDifference[] = []
  const differ = (
    type: TripDifference['type'],
    trip: string,
    said: readonly { id: EntryId; value: unknown }[],
  ): void => {
    if (new Set(said.map(one => JSON.stringify(one.value))).size > 1)
      differences.push({ type, trip, entries: said.map(one => one.id) })
  }

  const daysByTrip = new Map<string, TripDay[]>()
  for (const said of days.values()) {
    const [first] = said.toSorted((a, b) => crewHoursOf(a.value) - crewHoursOf(b.value) || compareText(a.id, b.id))
    if (!first) continue
    const { trip, on, place, hours, crew: members } = first.value
    differ('trip-day-differs', trip, said)
    const known = daysByTrip.get(trip) ?? []
    daysByTrip.set(trip, known)
    if (hours > 0) known.push({ on, place, hours, crew: [...new Set(members)].sort(compareText) })
  }
  const trips: Trip[] = []
  for (const trip of [...new Set([...titles.keys(), ...daysByTrip.keys()])].sort(compareText)) {
    const said = titles.get(trip) ?? []
    differ('trip-differs', trip, said)
    const title = said.find(one => one.value.title !== null)?.value.title ?? null
    if (said.length > 0 && title === null) continue
    const ofTrip = daysByTrip.get(trip) ?? []
    ofTrip.sort((a, b) => compareText(a.on, b.on) || compareText(a.place, b.place))
    trips.push({ trip, title, days: ofTrip })
  }
  return { trips, differences: differences.sort((a, b) => compareText(a.entries[0] ?? '', b.entries[0] ?? '')) }
}
