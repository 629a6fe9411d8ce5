import type { CaseView } from '../../src/case/case-view.ts'
import type { EntryKind } from '../../src/case/entry.ts'
import { type FieldName, type FieldValue, fieldOf, isFieldName } from '../../src/case/fields.ts'
import type { CaseId, EntryId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'

interface Edit {
  readonly value: unknown
  /** The standing entries that were on screen when the person began to change the field (B4). */
  readonly seen: readonly EntryId[]
}

export type DraftResult =
  | { readonly ok: true }
  | { readonly ok: false; readonly message: string; readonly field: FieldName | null }

/**
 * What a person is typing into one form. A merge never touches it: each field remembers what stood on screen when it was
 * first changed, and the save overrides that and nothing else, so what arrived meanwhile stands beside it as a difference.
 */
export class Draft {
  readonly #edits = new Map<FieldName, Edit>()

  get isEmpty(): boolean {
    return this.#edits.size === 0
  }

  has(field: FieldName): boolean {
    return this.#edits.has(field)
  }

  /** The value being typed; undefined when the field was not touched. */
  value<Name extends FieldName>(field: Name): FieldValue<Name> | undefined {
    return this.#edits.get(field)?.value as FieldValue<Name> | undefined
  }

  set<Name extends FieldName>(field: Name, value: FieldValue<Name>, view: CaseView): void {
    const known = this.#edits.get(field)
    this.#edits.set(field, { value, seen: known?.seen ?? seenOf(field, view) })
  }

  /** A reading taken again stands beside the others: it overrides none (B4). */
  setRepeat<Name extends FieldName>(field: Name, value: FieldValue<Name>): void {
    this.#edits.set(field, { value, seen: [] })
  }

  drop(field: FieldName): void {
    this.#edits.delete(field)
  }

  clear(): void {
    this.#edits.clear()
  }

  /**
   * Writes one entry for each set of entries seen; fields stay in the draft until the store has committed theirs. `kind`
   * settle or retest with `why` where a risk is lowered, a check turned or a difference ended.
   */
  async save(casebook: AppCasebook, caseId: CaseId, kind: EntryKind = 'save', why?: string): Promise<DraftResult> {
    const groups = new Map<string, { seen: readonly EntryId[]; edits: (readonly [FieldName, Edit])[] }>()
    for (const [field, edit] of this.#edits) {
      const key = edit.seen.join(' ')
      const group = groups.get(key) ?? { seen: edit.seen, edits: [] }
      group.edits.push([field, edit])
      groups.set(key, group)
    }
    for (const { seen, edits } of groups.values()) {
      const set = Object.fromEntries(edits.map(([field, { value }]) => [field, value]))
      const saved = await casebook.save(caseId, { kind, set, over: seen, ...(why ? { why } : {}) })
      if (!saved.ok) {
        const { message, where } = saved.failure
        return { ok: false, message, field: where !== undefined && isFieldName(where) ? where : null }
      }
      // What was typed again while the store was writing stays.
      for (const [field, edit] of edits) if (this.#edits.get(field) === edit) this.#edits.delete(field)
    }
    return { ok: true }
  }
}

/** Events stand each for itself: a new one overrides none. */
const seenOf = (field: FieldName, view: CaseView): readonly EntryId[] =>
  fieldOf(field).kind === 'event' ? [] : (view.heads[field] ?? []).map(head => head.id)
