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

const toHead = ({ id, entry, value }: Statement): Head => {
  const { by, at, kind, why } = entry
  return why === undefined ? { id, by, at, kind, value } : { id, by, at, kind, value, why }
}

const inOrder = (statements: readonly Statement[]): readonly Head[] =>
  statements.toSorted((a, b) => compareText(a.id, b.id)).map(toHead)

/** Undefined: the field is set, and what it says cannot be read here. */
const readStatement = ({ id, readable, entry }: Counted, field: string, rule: FieldRule): Statement | undefined => {
  if (!readable) return undefined
  const value = entry.set[field]
  return rule.isValid(value) ? { id, entry, value } : undefined
}

/** What a field stands at, and how it came to that. */
export interface FieldHistory extends FieldHeads {
  /** Every valid statement ever made of it, ended ones too, by entry id. */
  readonly statements: readonly Head[]
}

const NEVER_READ: FieldHistory = { heads: [], newer: true, statements: [] }

/** Most fields of a case are set once: then nothing can end or answer anything. */
const historyOfOne = (only: Counted, field: string, rule: FieldRule): FieldHistory => {
  const statement = readStatement(only, field, rule)
  if (!statement) return NEVER_READ
  const heads = [toHead(statement)]
  return { heads, newer: false, statements: heads }
}

/**
 * The statements of a field that nobody who held them has ended (B2-B7), and all that were made: a pure function of the
 * set of entries, whatever their order or repetition. Entries may be those of the whole document or only those that set
 * the field.
 */
export const historyOf = (entries: readonly Counted[], field: string, rule: FieldRule): FieldHistory => {
  const setters = entries.filter(({ entry }) => Object.hasOwn(entry.set, field))
  const [only] = setters
  if (only && setters.length === 1) return historyOfOne(only, field, rule)

  const statements = new Map<EntryId, Statement>()
  const unread = new Set<EntryId>()
  for (const counted of setters) {
    const statement = readStatement(counted, field, rule)
    if (statement) statements.set(counted.id, statement)
    else unread.add(counted.id)
  }
  const ended = new Set<EntryId>()
  const answered = new Set<EntryId>()
  for (const statement of statements.values())
    for (const id of statement.entry.over) {
      answered.add(id)
      const target = statements.get(id)
      if (target && target !== statement && mayOverride(statement, target, rule)) ended.add(id)
    }

  // Ids are hashes, so no ring of `over` can be built. Should one ever be handed in, all stand: a field never vanishes.
  const all = inOrder([...statements.values()])
  return {
    heads: ended.size === 0 || ended.size === all.length ? all : all.filter(head => !ended.has(head.id)),
    newer: [...unread].some(id => !answered.has(id)),
    statements: all,
  }
}

/** What of a field still stands; see `historyOf`. */
export const headsOf = (entries: readonly Counted[], field: string, rule: FieldRule): FieldHeads => {
  const { heads, newer } = historyOf(entries, field, rule)
  return { heads, newer }
}
