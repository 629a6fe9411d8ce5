import type { CalendarDate } from '../calendar-date.ts'
import type { FieldValue, NamesOfKind } from './fields.ts'

export type EventName = NamesOfKind<'event'>

/** Which part of an event says on what day it happened. Typed by a person; a device's `at` never counts. */
const EVENT_DATES = {
  stepDone: 'on',
  handover: 'handedOverOn',
  cushionIssued: 'on',
  review: 'visitedOn',
  notFound: 'on',
  skinLook: 'on',
  problem: 'reportedOn',
  repair: 'repairedOn',
  tyreReading: 'on',
  stature: 'on',
  chairReturned: 'on',
  photo: 'on',
  photoRemoved: 'on',
} as const satisfies { readonly [Name in EventName]: keyof FieldValue<Name> }

/** The day on which an event happened, as typed. */
export const eventDate = <Name extends EventName>(name: Name, event: FieldValue<Name>): CalendarDate =>
  (event as Readonly<Record<string, unknown>>)[EVENT_DATES[name]] as CalendarDate
