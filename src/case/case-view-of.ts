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
import { entriesByField, type FieldRule, headsOf, statementsOf } from './heads.ts'
import { type MeasureName, resolve, type SingleName } from './resolve.ts'

const lowersCheck = (from: unknown, to: unknown): boolean =>
  (from as Check).result === 'fail' && (to as Check).result !== 'fail'

/** B6. A handover once recorded is opened again only by a decision with a reason, whatever the new statement says. */
const lowersOf = (name: FieldName, field: Field): FieldRule['lowers'] => {
  if (name === 'handover') return () => true
  if (field.kind === 'risk') return (from, to) => from === true && to !== true
  if (field.kind === 'check') return lowersCheck
  return undefined
}

const ruleOf = (name: FieldName): FieldRule => {
  const field = fieldOf(name)
  const lowers = lowersOf(name, field)
  // Entries are frozen when read, and a merge recomputes a whole case: an object is judged once.
  const known = new WeakSet<object>()
  const isValid = (value: unknown): boolean => {
    if (typeof value !== 'object' || value === null) return field.schema.safeParse(value).success
    if (known.has(value)) return true
    const valid = field.schema.safeParse(value).success
    if (valid && Object.isFrozen(value)) known.add(value)
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

const byDayTaken = (readings: readonly Head[]): readonly Head<Reading>[] =>
  (readings as readonly Head<Reading>[]).toSorted(
    (a, b) => compareText(a.value.on ?? '', b.value.on ?? '') || compareText(a.id, b.id),
  )

const isGuessed = (heads: readonly Head[]): boolean => heads.some(head => (head.value as Reading).how === 'guessed')

/**
 * The case as its counting entries say it is: a pure function of the set of entries, whatever their order and however
 * often each comes. Nothing is left out: what cannot be resolved is an open difference, what cannot be read is named.
 */
export const viewOfCase = (caseId: CaseId, entries: readonly Counted[]): CaseView => {
  const stranger = entries.find(counted => counted.entry.case !== caseId)
  if (stranger) throw new Error(`entry ${stranger.id} of case ${stranger.entry.case} handed in for case ${caseId}`)

  const byField = entriesByField(entries)
  const values: Partial<Record<SingleName, unknown>> = {}
  const events = Object.fromEntries(EVENT_NAMES.map(name => [name, []])) as Record<EventName, unknown>
  const headsByField: Partial<Record<FieldName, readonly Head[]>> = {}
  const readings: Partial<Record<MeasureName, readonly Head<Reading>[]>> = {}
  const differences: Difference[] = []
  const newerFields: FieldName[] = []

  for (const name of FIELD_NAMES) {
    const setters = byField.get(name)
    if (!setters) continue
    const { heads, newer } = headsOf(setters, name, FIELD_RULES[name])
    if (newer) newerFields.push(name)
    if (heads.length === 0) continue
    headsByField[name] = heads
    if (isMeasure(name)) readings[name] = byDayTaken(statementsOf(setters, name, FIELD_RULES[name]))
    if (isEvent(name)) {
      events[name] = eventsOf(name, heads)
      continue
    }
    const resolution = resolve(name, heads)
    if (resolution.type === 'open') differences.push({ field: name, options: resolution.options })
    else values[name] = resolution.value
  }

  return {
    caseId,
    // Each value passed its own field's schema above; the types of the table cannot follow a loop over its names.
    values: values as ResolvedValues,
    events: events as CaseEvents,
    differences,
    heads: headsByField,
    massGuessed: isGuessed(headsByField.massKg ?? []),
    readings,
    newer: newerFields,
    unknownFields: [...byField.keys()].filter(name => !isFieldName(name)).sort(compareText),
    entryCount: new Set(entries.map(counted => counted.id)).size,
  }
}
