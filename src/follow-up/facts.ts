import type { CalendarDate } from '../calendar-date.ts'
import type { CaseEvent, CaseView, Head } from '../case/case-view.ts'
import { type EventName, eventDate } from '../case/event-date.ts'
import type { FieldName, FieldValue } from '../case/fields.ts'
import { compareText, type EntryId } from '../ids.ts'
import type { Doubt } from '../reason.ts'

type FollowUpEvent = Exclude<EventName, 'stepDone' | 'photo' | 'photoRemoved'>
const FOLLOW_UP_EVENTS: readonly FollowUpEvent[] = [
  'handover',
  'cushionIssued',
  'review',
  'notFound',
  'skinLook',
  'problem',
  'repair',
  'tyreReading',
  'stature',
  'chairReturned',
]

/** What happened up to a day, each kind by its own typed day and then by id. */
export type Facts = {
  readonly [Name in FollowUpEvent]: readonly FieldValue<Name>[]
}

const sorted = <Name extends FollowUpEvent>(view: CaseView, name: Name): readonly CaseEvent<FieldValue<Name>>[] => {
  const events: readonly CaseEvent<FieldValue<Name>>[] = view.events[name]
  return events.toSorted(
    (a, b) => compareText(eventDate(name, a.value), eventDate(name, b.value)) || compareText(a.id, b.id),
  )
}

/** Events dated after `today` wait: each is a doubt ("typed for another year?") and counts from its own day. */
export const factsUntil = (
  view: CaseView,
  today: CalendarDate,
): { readonly facts: Facts; readonly later: readonly CalendarDate[]; readonly doubts: readonly Doubt[] } => {
  const later: { readonly name: FollowUpEvent; readonly on: CalendarDate }[] = []
  const until = <Name extends FollowUpEvent>(name: Name): readonly FieldValue<Name>[] =>
    sorted(view, name).flatMap(({ value }) => {
      const on = eventDate(name, value)
      if (on <= today) return [value]
      later.push({ name, on })
      return []
    })
  const facts = Object.fromEntries(FOLLOW_UP_EVENTS.map(name => [name, until(name)])) as Facts
  return { facts, later: later.map(one => one.on), doubts: later.map(({ name, on }) => dateAfterToday(name, on)) }
}

/** A date that lies after today, shown beside what counts only from that day. */
export const dateAfterToday = (field: FieldName, on: CalendarDate): Doubt => ({
  field,
  value: on,
  likely: 'date-after-today',
  reason: { rule: 'counts-from-its-day', inputs: { on }, source: 'project-value' },
  setAside: true,
})

/** `{ on: '2026-03-01', ... }` of a reading, check or training; the dates that stand beside a statement in the same form. */
const dateOfValue = (value: unknown): CalendarDate | undefined =>
  typeof value === 'object' && value !== null && 'on' in value && typeof value.on === 'string'
    ? (value.on as CalendarDate)
    : undefined

/**
 * The days that forms name, by entry, of the entries asked for: one form saved is one entry, so a risk ticked on the form
 * of a visit was seen on the day of that visit. (A device's `at` never counts.) Least first.
 */
export const daysByEntry = (
  view: CaseView,
  asked: Iterable<EntryId>,
): ReadonlyMap<EntryId, readonly CalendarDate[]> => {
  const days = new Map<EntryId, CalendarDate[]>()
  for (const id of asked) days.set(id, [])
  const add = (id: EntryId, on: CalendarDate | undefined): void => {
    if (on !== undefined) days.get(id)?.push(on)
  }
  for (const name of FOLLOW_UP_EVENTS)
    for (const event of view.events[name]) add(event.id, eventDate(name, event.value as FieldValue<typeof name>))
  for (const heads of Object.values(view.readings)) for (const head of heads) add(head.id, head.value.on)
  for (const heads of Object.values(view.heads) as readonly (readonly Head[])[])
    for (const head of heads) if (days.has(head.id)) add(head.id, dateOfValue(head.value))
  for (const named of days.values()) named.sort(compareText)
  return days
}
