import type { CaseView } from '../../src/case/case-view.ts'
import type { EntryKind } from '../../src/case/entry.ts'
import { type FieldName, isFieldName } from '../../src/case/fields.ts'
import type { CaseId, EntryId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { PracticePerson } from '../people/practice-person.ts'
import { accepted, type TripCalendar, type TripDevice } from './devices.ts'
import type { Notebook } from './notebook.ts'

/** Everything that the chapters of the story share. */
export interface Trip {
  readonly notebook: Notebook
  readonly calendar: TripCalendar
  readonly coordinator: TripDevice
  readonly therapist: TripDevice
  readonly technician: TripDevice
  /** The fourth phone: lost on the way. */
  readonly trainee: TripDevice
  /** Cases by the key of the practice person. */
  readonly cases: Map<string, CaseId>
  readonly people: readonly PracticePerson[]
}

export const personOfKey = (trip: Trip, key: string): PracticePerson => {
  const person = trip.people.find(one => one.key === key)
  if (!person) throw new Error(`no practice person "${key}"`)
  return person
}

export const caseOf = (trip: Trip, key: string): CaseId => {
  const caseId = trip.cases.get(key)
  if (!caseId) throw new Error(`"${key}" was not registered`)
  return caseId
}

/** A case as it stands on one device, on the day of the story. */
export interface Look {
  readonly view: CaseView
  readonly outcome: Outcome
}

export const lookAt = async (trip: Trip, device: TripDevice, key: string): Promise<Look> => {
  const caseId = caseOf(trip, key)
  const view = await device.casebook.view(caseId)
  const outcome = await device.casebook.outcome(caseId, trip.calendar.today())
  if (!view || !outcome) throw new Error(`the case of "${key}" is not on ${device.name}`)
  return { view, outcome }
}

export interface Manner {
  /** `repeat`: done without looking at what stands there, so it stands beside it. */
  readonly over?: 'shown' | 'repeat'
  readonly kind?: EntryKind
  readonly why?: string
}

/** What stood on the screen for these fields: the statement is made over it (B4). Events never end one another. */
const shownIn = (view: CaseView, names: readonly string[]): readonly EntryId[] => [
  ...new Set(
    names
      .filter((name): name is FieldName => isFieldName(name) && !Object.hasOwn(view.events, name))
      .flatMap(name => (view.heads[name] ?? []).map(head => head.id)),
  ),
]

/** Somebody states something about a person on a device. */
export const state = async (
  trip: Trip,
  device: TripDevice,
  key: string,
  set: Readonly<Record<string, unknown>>,
  { over = 'shown', kind = 'save', why }: Manner = {},
): Promise<EntryId> => {
  const { view } = await lookAt(trip, device, key)
  const statement = { kind, set, over: over === 'shown' ? shownIn(view, Object.keys(set)) : [] }
  const saved = await device.casebook.save(caseOf(trip, key), why === undefined ? statement : { ...statement, why })
  return accepted(saved).id
}

/** Opens a case for a person. */
export const register = async (
  trip: Trip,
  device: TripDevice,
  key: string,
  set: Readonly<Record<string, unknown>>,
): Promise<void> => {
  trip.cases.set(key, accepted(await device.casebook.addCase({ kind: 'save', set })).caseId)
}
