import { compareText, type EntryId } from '../ids.ts'
import type { Head } from './case-view.ts'
import type { Counted, Entry } from './entry.ts'

/** What a field has to say about its own values. */
export interface FieldRule {
  isValid(value: unknown): boolean
  /** True where `to` would lower the guard that `from` keeps up (B6): a risk cleared, a failed check passed. */
  lowers?(from: unknown, to: unknown): boolean
}

export interface FieldHeads {
  /** What still stands, by entry id. Empty only for a field that was never validly set. */
  readonly heads: readonly Head[]
  /** A later version wrote a value that this one cannot read, and nothing readable has answered it (B7). */
  readonly newer: boolean
}

/** One valid statement of one field. */
interface Statement {
  readonly id: EntryId
  readonly entry: Entry
  readonly value: unknown
}

/** The entries under each field name that they set, in one pass: what `headsOf` needs, for a whole case at once. */
export const entriesByField = (entries: readonly Counted[]): ReadonlyMap<string, readonly Counted[]> => {
  const byField = new Map<string, Counted[]>()
  for (const counted of entries)
    for (const field of Object.keys(counted.entry.set)) {
      const setters = byField.get(field)
      if (setters) setters.push(counted)
      else byField.set(field, [counted])
    }
  return byField
}

/**
 * Whether this statement's `over` may end that one. Lowering takes a decision with a reason: kind settle or retest, and
 * what was seen or done (B6). Without it both stand.
 */
const mayOverride = (by: Statement, target: Statement, rule: FieldRule): boolean =>
  !rule.lowers?.(target.value, by.value) || (by.entry.kind !== 'save' && by.entry.why !== undefined)

const toHead = ({ id, entry, value }: Statement): Head => ({
  id,
  by: entry.by,
  at: entry.at,
  kind: entry.kind,
  value,
  ...(entry.why === undefined ? {} : { why: entry.why }),
})

const readField = (
  entries: readonly Counted[],
  field: string,
  rule: FieldRule,
): { readonly statements: ReadonlyMap<EntryId, Statement>; readonly unread: ReadonlySet<EntryId> } => {
  const statements = new Map<EntryId, Statement>()
  const unread = new Set<EntryId>()
  for (const { id, readable, entry } of entries) {
    if (!Object.hasOwn(entry.set, field)) continue
    const value = entry.set[field]
    if (readable && rule.isValid(value)) statements.set(id, { id, entry, value })
    else unread.add(id)
  }
  return { statements, unread }
}

const inOrder = (statements: readonly Statement[]): readonly Head[] =>
  statements.toSorted((a, b) => compareText(a.id, b.id)).map(toHead)

/** Every valid statement ever made of a field, ended ones too, by entry id: for histories. */
export const statementsOf = (entries: readonly Counted[], field: string, rule: FieldRule): readonly Head[] =>
  inOrder([...readField(entries, field, rule).statements.values()])

/**
 * The statements of a field that nobody who held them has ended (B2-B7): a pure function of the set of entries, whatever
 * their order or repetition. Entries may be those of the whole document or only those that set the field.
 */
export const headsOf = (entries: readonly Counted[], field: string, rule: FieldRule): FieldHeads => {
  const { statements, unread } = readField(entries, field, rule)
  const ended = new Set<EntryId>()
  const answered = new Set<EntryId>()
  for (const statement of statements.values())
    for (const id of statement.entry.over) {
      answered.add(id)
      const target = statements.get(id)
      if (target && target !== statement && mayOverride(statement, target, rule)) ended.add(id)
    }

  // Ids are hashes, so no ring of `over` can be built. Should one ever be handed in, all stand: a field never vanishes.
  const all = [...statements.values()]
  const standing = ended.size === all.length ? all : all.filter(statement => !ended.has(statement.id))
  return {
    heads: inOrder(standing),
    newer: [...unread].some(id => !answered.has(id)),
  }
}
