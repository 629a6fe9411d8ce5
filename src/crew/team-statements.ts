import type { Counted, Entry } from '../case/entry.ts'
import { compareText, type DeviceId, type EntryId } from '../ids.ts'
import { TEAM_FIELDS, type TeamFieldName, type TeamValue } from './team-fields.ts'

/** One readable statement of one team field. */
export interface Said<Name extends TeamFieldName> {
  readonly id: EntryId
  readonly by: DeviceId
  readonly over: Entry['over']
  readonly value: TeamValue<Name>
}

const readValue = <Name extends TeamFieldName>(name: Name, value: unknown): TeamValue<Name> | undefined => {
  const read = TEAM_FIELDS[name].safeParse(value)
  // The schema is the one of this name; the table's types do not follow a name that is a variable.
  return read.success ? (read.data as TeamValue<Name>) : undefined
}

/** Every valid statement of a team field, by entry id, each once. One unreadable field silences no other (B3). */
export const statementsIn = <Name extends TeamFieldName>(
  entries: readonly Counted[],
  name: Name,
): readonly Said<Name>[] => {
  const said = new Map<EntryId, Said<Name>>()
  for (const { id, readable, entry } of entries) {
    if (!readable || !Object.hasOwn(entry.set, name)) continue
    const value = readValue(name, entry.set[name])
    if (value !== undefined) said.set(id, { id, by: entry.by, over: entry.over, value })
  }
  return [...said.values()].sort((a, b) => compareText(a.id, b.id))
}

/** What still stands about each thing that statements name by `keyOf`: those that no other about the same thing names in `over`. */
export const standingIn = <Name extends TeamFieldName>(
  said: readonly Said<Name>[],
  keyOf: (value: TeamValue<Name>) => string,
): ReadonlyMap<string, readonly Said<Name>[]> => {
  const byKey = new Map<string, Said<Name>[]>()
  for (const one of said) {
    const key = keyOf(one.value)
    byKey.set(key, [...(byKey.get(key) ?? []), one])
  }
  const standing = new Map<string, readonly Said<Name>[]>()
  for (const [key, about] of byKey) {
    const over = new Set(about.flatMap(one => one.over))
    standing.set(
      key,
      about.filter(one => !over.has(one.id)),
    )
  }
  return standing
}
