import { type CaseId, compareText } from '../ids.ts'
import type { CaseEvents, CaseView, Difference, Head, ResolvedValues } from './case-view.ts'
import type { Counted } from './entry.ts'
import { type EventName, eventDate } from './event-date.ts'
import {
  type Check,
  FIELD_NAMES,
  type Field,
  type FieldName,
  type FieldValue,
  fieldOf,
  isFieldName,
  type Reading,
} from './fields.ts'
import { entriesByField, type FieldHeads, type FieldRule, historyOf } from './heads.ts'
import { type MeasureName, type Resolution, resolve, type SingleName } from './resolve.ts'
import { ViewMemory } from './view-memory.ts'

const lowersCheck = (from: unknown, to: unknown): boolean =>
  (from as Check).result === 'fail' && (to as Check).result !== 'fail'

/** B6. A handover once recorded is opened again only by a decision with a reason, whatever the new statement says. */
const lowersOf = (name: FieldName, field: Field): FieldRule['lowers'] => {
  if (name === 'handover') return () => true
  if (field.kind === 'risk') return (from, to) => from === true && to !== true
  if (field.kind === 'check') return lowersCheck
  return undefined
}

/** The most answers that a field of choices has, with room to spare; of a field of numbers the first ones met. */
const CHOICES_KEPT = 100

const ruleOf = (name: FieldName): FieldRule => {
  const field = fieldOf(name)
  const lowers = lowersOf(name, field)
  // Of plain values those that come again and again are judged once, never what was typed in words. (Objects are not
  // remembered one by one: large weak sets cost the collector of memory more than the schemas cost.)
  const choices = new Set<unknown>()
  const isValid = (value: unknown): boolean => {
    if (choices.has(value)) return true
    const valid = field.schema.safeParse(value).success
    const isPlain = typeof value !== 'object' || value === null
    if (valid && isPlain && field.kind !== 'text' && choices.size < CHOICES_KEPT) choices.add(value)
    return valid
  }
  return lowers ? { isValid, lowers } : { isValid }
}

/** What each field of a case has to say about its own values. */
export const FIELD_RULES = Object.fromEntries(FIELD_NAMES.map(name => [name, ruleOf(name)])) as Readonly<
  Record<FieldName, FieldRule>
>

const EVENT_NAMES = FIELD_NAMES.filter(name => fieldOf(name).kind === 'event') as readonly EventName[]
const isEvent = (name: FieldName): name is EventName => fieldOf(name).kind === 'event'
const isMeasure = (name: FieldName): name is MeasureName => fieldOf(name).kind === 'measure'

/** Events by their own day, then by id. */
const eventsOf = (name: EventName, heads: readonly Head[]) =>
  heads
    .map(({ id, by, value }) => ({ id, by, value: value as FieldValue<typeof name> }))
    .sort((a, b) => compareText(eventDate(name, a.value), eventDate(name, b.value)) || compareText(a.id, b.id))

const withoutRemovedPhotos = (events: CaseEvents): CaseEvents => {
  if (events.photoRemoved.length === 0) return events
  const removed = new Set(events.photoRemoved.flatMap(({ value }) => value.hashes))
  return { ...events, photo: events.photo.filter(({ value }) => !removed.has(value.hash)) }
}

const byDayTaken = (readings: readonly Head[]): readonly Head<Reading>[] =>
  (readings as readonly Head<Reading>[]).toSorted(
    (a, b) => compareText(a.value.on ?? '', b.value.on ?? '') || compareText(a.id, b.id),
  )

const isGuessed = (heads: readonly Head[]): boolean => heads.some(head => (head.value as Reading).how === 'guessed')

/** All that a view says of one field. */
interface FieldView extends FieldHeads {
  readonly readings: readonly Head<Reading>[] | null
  /** Null for fields that come to one value; those have a resolution. */
  readonly events: readonly unknown[] | null
  readonly resolution: Resolution | null
}

const fieldViewOf = (name: FieldName, setters: readonly Counted[]): FieldView => {
  const { heads, newer, statements } = historyOf(setters, name, FIELD_RULES[name])
  if (heads.length === 0) return { heads, newer, readings: null, events: null, resolution: null }
  // A photo taken back never comes back, whatever is said over the removal.
  if (isEvent(name))
    return {
      heads,
      newer,
      readings: null,
      events: eventsOf(name, name === 'photoRemoved' ? statements : heads),
      resolution: null,
    }
  const readings = isMeasure(name) ? byDayTaken(statements) : null
  return { heads, newer, readings, events: null, resolution: resolve(name, heads) }
}

/** Fields as they were made out before, to be handed in again with the same case. */
export type CaseMemory = ViewMemory<FieldView>
export const caseMemory = (): CaseMemory => new ViewMemory<FieldView>()

/**
 * The case as its counting entries say it is: a pure function of the set of entries, whatever their order and however
 * often each comes. Nothing is left out: what cannot be resolved is an open difference, what cannot be read is named.
 * `memory` only saves time.
 */
export const viewOfCase = (
  caseId: CaseId,
  entries: readonly Counted[],
  memory: CaseMemory = caseMemory(),
): CaseView => {
  const stranger = entries.find(counted => counted.entry.case !== caseId)
  if (stranger) throw new Error(`entry ${stranger.id} of case ${stranger.entry.case} handed in for case ${caseId}`)

  const byField = entriesByField(entries)
  const values: Partial<Record<SingleName, unknown>> = {}
  const events = Object.fromEntries(EVENT_NAMES.map(name => [name, []])) as Record<EventName, unknown>
  const headsByField: Partial<Record<FieldName, readonly Head[]>> = {}
  const readingsByField: Partial<Record<MeasureName, readonly Head<Reading>[]>> = {}
  const differences: Difference[] = []
  const newerFields: FieldName[] = []

  for (const name of FIELD_NAMES) {
    const setters = byField.get(name)
    if (!setters) continue
    const {
      heads,
      newer,
      readings,
      events: happened,
      resolution,
    } = memory.remember(name, setters, () => fieldViewOf(name, setters))
    if (newer) newerFields.push(name)
    if (heads.length === 0) continue
    headsByField[name] = heads
    if (readings) readingsByField[name as MeasureName] = readings
    if (happened) events[name as EventName] = happened
    else if (resolution?.type === 'open') differences.push({ field: name as SingleName, options: resolution.options })
    else values[name as SingleName] = resolution?.value
  }

  return {
    caseId,
    // Each value passed its own field's schema above; the types of the table cannot follow a loop over its names.
    values: values as ResolvedValues,
    events: withoutRemovedPhotos(events as CaseEvents),
    differences,
    heads: headsByField,
    massGuessed: isGuessed(headsByField.massKg ?? []),
    readings: readingsByField,
    newer: newerFields,
    unknownFields: [...byField.keys()].filter(name => !isFieldName(name)).sort(compareText),
    entryCount: new Set(entries.map(counted => counted.id)).size,
  }
}
