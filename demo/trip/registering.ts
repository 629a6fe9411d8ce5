import { FIELD_NAMES, type FieldName, fieldOf } from '../../src/case/fields.ts'
import type { PracticePerson } from '../people/practice-person.ts'
import type { TripDevice } from './devices.ts'
import { register, state, type Trip } from './trip.ts'

/** What is asked about everybody: a "no" is written down too, so that it is known to have been asked. */
const ASKED: readonly FieldName[] = FIELD_NAMES.filter(
  name => fieldOf(name).kind === 'risk' && fieldOf(name).section === 'assessment',
)

const isReferral = (name: string): boolean =>
  fieldOf(name as FieldName).section === 'referral' && name !== 'toldAndAgreed'

const factsWhere = (person: PracticePerson, wanted: (name: string) => boolean) =>
  Object.fromEntries(Object.entries(person.facts).filter(([name]) => wanted(name)))

/** The line of the referral list that came before the trip. */
export const registerReferral = (trip: Trip, device: TripDevice, person: PracticePerson): Promise<void> =>
  register(trip, device, person.key, factsWhere(person, isReferral))

/** One form at the person's home: told and agreed, assessed, asked about every risk, measured; then what is known of before. */
export const see = async (trip: Trip, device: TripDevice, person: PracticePerson): Promise<void> => {
  const asked = Object.fromEntries(ASKED.map(name => [name, false]))
  await state(trip, device, person.key, { ...asked, ...factsWhere(person, name => !isReferral(name)) })
  for (const [name, values] of Object.entries(person.events ?? {}))
    for (const value of values) await state(trip, device, person.key, { [name]: value })
}
