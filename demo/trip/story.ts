import { PRACTICE_PEOPLE } from '../practice-people.ts'
import { apart } from './chapters/apart.ts'
import { badNews } from './chapters/bad-news.ts'
import { crewMatters } from './chapters/crew.ts'
import { evening } from './chapters/evening.ts'
import { office } from './chapters/office.ts'
import { comingBack } from './chapters/return.ts'
import { settling } from './chapters/settling.ts'
import { together } from './chapters/together.ts'
import { createCalendar, foundOn, invite } from './devices.ts'
import type { Notebook } from './notebook.ts'
import type { Proof } from './proof.ts'
import type { Trip } from './trip.ts'

/** Sets out with four devices. */
const setOut = async (notebook: Notebook): Promise<Trip> => {
  const calendar = createCalendar('2026-05-11')
  const coordinator = await foundOn(
    { device: "the coordinator's laptop", person: 'Wenna Dalmor', role: 'coordinator' },
    calendar,
  )
  const inviteOne = (device: string, person: string, role: 'therapist' | 'technician') =>
    invite(coordinator, { device, person, role }, calendar)
  return {
    notebook,
    calendar,
    coordinator,
    therapist: await inviteOne("the therapist's phone", 'Sira Vellanke', 'therapist'),
    technician: await inviteOne("the technician's phone", 'Joss Karrovin', 'technician'),
    trainee: await inviteOne("the trainee's phone", 'Tamo Brisk', 'technician'),
    cases: new Map(),
    people: PRACTICE_PEOPLE,
  }
}

export interface PlayedTrip {
  readonly trip: Trip
  readonly proof: Proof
}

/** Plays the whole practice trip. Whether it went as it must stands in the notebook's turns; the proof is one of them. */
export const playTrip = async (notebook: Notebook): Promise<PlayedTrip> => {
  const trip = await setOut(notebook)
  await office(trip)
  trip.calendar.turnTo('2026-05-12')
  await apart(trip)
  const oldFile = await evening(trip)
  trip.calendar.turnTo('2026-05-13')
  await badNews(trip)
  trip.calendar.turnTo('2026-05-14')
  await settling(trip)
  trip.calendar.turnTo('2026-05-15')
  await crewMatters(trip, oldFile)
  trip.calendar.turnTo('2026-06-24')
  await comingBack(trip)
  return { trip, proof: await together(trip) }
}
