import type { TripDevice } from '../devices.ts'
import { see } from '../registering.ts'
import { lookAt, personOfKey, register, state, type Trip } from '../trip.ts'
import { chairWords, counted, holdName, holdWords, listed, type Referral, referralsOf } from '../words.ts'
import { DOUBLE } from './office.ts'

/** Measured by both, 8 mm apart, each without knowing of the other. */
export const MATTERS = 'hanneth'
export const DOES_NOT_MATTER = 'ossian'
/** His hips were read in centimetres and typed as millimetres. */
export const WRONG_UNIT = 'tolm'
const MEANT = { typed: 37.5, unit: 'cm' } as const
/** Seen by the trainee. */
export const BY_TRAINEE = 'abdeen'

const THERAPIST_PLACES = ['Dorrow', 'Ambrel', 'Sarn Ostre']

/** Each sees the people of some villages; neither knows what the other one does. */
export const apart = async (trip: Trip): Promise<void> => {
  const { notebook, therapist, technician, trainee, people } = trip
  notebook.heading(`${trip.calendar.today()}, apart: three phones, no network`)
  const own = new Map<TripDevice, string[]>([
    [therapist, []],
    [technician, []],
    [trainee, []],
  ])
  const deviceFor = (key: string, place: string | undefined): TripDevice => {
    if (key === BY_TRAINEE) return trainee
    return THERAPIST_PLACES.includes(place ?? '') ? therapist : technician
  }
  for (const person of people) {
    const device = deviceFor(person.key, person.facts.place)
    if (person.key === DOUBLE.second)
      await register(trip, device, person.key, { personName: person.name, ...person.facts })
    else await see(trip, device, person)
    own.get(device)?.push(person.key)
  }

  const referred: Record<Referral, string[]> = { health: [], 'specialist-seating': [] }
  for (const [device, keys] of own)
    for (const key of keys) {
      const { outcome } = await lookAt(trip, device, key)
      for (const [to, found] of referralsOf(outcome.holds))
        referred[to].push(`${personOfKey(trip, key).name} (${found.map(holdName).join(', ')})`)
    }
  const counts = [...own].map(([{ name }, keys]) => `${counted(keys.length, 'person', 'people')} on ${name}`)
  notebook.turn(
    'people who need more than a chair are held and referred',
    referred.health.length > 0 && referred['specialist-seating'].length > 0 && referred,
    found =>
      `By noon there are ${listed(counts)}. Some must not be fitted by this crew alone, and the record says so at once. To a health worker: ${listed(found.health)}. To a specialist in seating: ${listed(found['specialist-seating'])}.`,
  )
  await wrongUnit(trip)
  await measuredTwice(trip)
}

const wrongUnit = async (trip: Trip): Promise<void> => {
  const { notebook, technician } = trip
  const before = await lookAt(trip, technician, WRONG_UNIT)
  const doubt = before.outcome.doubts.find(one => one.field === 'hipWidthMm' && one.setAside)
  const { name } = personOfKey(trip, WRONG_UNIT)
  const typed = before.view.readings.hipWidthMm?.[0]?.value
  notebook.turn(
    'a hip width typed in the wrong unit is set aside',
    before.outcome.recommendation.options.length === 0 && doubt,
    ({ value, likely, wouldBe }) =>
      `The technician types ${typed?.typed} ${typed?.unit} for the hips of ${name}. It is kept as typed and not computed with (read as ${value} mm; likely ${likely.replaceAll('-', ' ')}, then about ${wouldBe} mm). No chair is recommended meanwhile; in the way: ${holdWords(before.outcome.holds)}.`,
  )
  await state(trip, technician, WRONG_UNIT, {
    hipWidthMm: { ...MEANT, how: 'callipers', on: trip.calendar.today() },
  })
  const { outcome } = await lookAt(trip, technician, WRONG_UNIT)
  notebook.turn(
    'the right unit brings a set-up',
    outcome.doubts.every(one => one.field !== 'hipWidthMm') && outcome.recommendation.options[0],
    option =>
      `He looks at the callipers again and types ${MEANT.typed} ${MEANT.unit} over it. The doubt is gone, and out of ${outcome.recommendation.considered.setUps.toLocaleString('en')} set-ups comes ${chairWords(option)}.`,
  )
}

/** The same hips, taken again in the other's village without a look at the first reading. */
const measuredTwice = async (trip: Trip): Promise<void> => {
  const { therapist, technician } = trip
  const taken = (typed: number) => ({ hipWidthMm: { typed, unit: 'mm', how: 'callipers', on: trip.calendar.today() } })
  await state(trip, technician, MATTERS, taken(379), { over: 'repeat' })
  await state(trip, therapist, DOES_NOT_MATTER, taken(352), { over: 'repeat' })
}
