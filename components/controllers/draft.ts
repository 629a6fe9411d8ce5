import type { CaseView } from '../../src/case/case-view.ts'
import type { EntryKind } from '../../src/case/entry.ts'
import { type FieldName, type FieldValue, fieldOf, isFieldName } from '../../src/case/fields.ts'
import type { CaseId, EntryId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'
import { sayFailure } from '../text/say-failure.ts'
import { whileWriting } from './writing.ts'

export interface Edit {
  readonly value: unknown
  /** The standing entries that the save ends: those on screen when the person began to change the field (B4), or none. */
  readonly over: readonly EntryId[]
  /** What stood when the person began, so that what came in meanwhile can be shown beside it. */
  readonly stood: readonly EntryId[]
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
  readonly #changed: (kept: unknown) => void

  /** `changed` is told, after each change, what to keep of this draft: undefined where nothing is typed. */
  constructor(changed: (kept: unknown) => void = () => undefined) {
    this.#changed = changed
  }

  /** Becomes what was kept; what this version cannot read of it is left out. */
  become(kept: unknown): void {
    this.#edits.clear()
    for (const one of Array.isArray(kept) ? kept : []) {
      const edit = readEdit(one)
      if (edit) this.#edits.set(...edit)
    }
  }

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

  edit(field: FieldName): Edit | undefined {
    return this.#edits.get(field)
  }

  /** Names of the fields that were touched, in the order of touching. */
  get fields(): readonly FieldName[] {
    return [...this.#edits.keys()]
  }

  set<Name extends FieldName>(field: Name, value: FieldValue<Name>, view: CaseView): void {
    const stood = this.#edits.get(field)?.stood ?? idsOf(field, view)
    // Events stand each for itself: a new one ends none.
    this.#edits.set(field, { value, stood, over: fieldOf(field).kind === 'event' ? [] : stood })
    this.#tell()
  }

  /**
   * The last word on a field at the moment of saving it. A reading taken again stands beside the others: it ends none (B4).
   * Not told: what was typed is kept already, and the save that follows must not wait for it to be kept twice.
   */
  decide<Name extends FieldName>(field: Name, value: FieldValue<Name>, how: 'repeat' | 'correction'): void {
    const edit = this.#edits.get(field)
    if (!edit) throw new Error(`${field} was decided before it was typed`)
    this.#edits.set(field, { ...edit, value, over: how === 'repeat' ? [] : edit.stood })
  }

  drop(field: FieldName): void {
    if (this.#edits.delete(field)) this.#tell()
  }

  clear(): void {
    this.#edits.clear()
    this.#tell()
  }

  /**
   * Writes one entry for each set of entries ended; fields stay in the draft until the store has committed theirs. `kind`
   * settle or retest with `why` where a risk is lowered, a check turned or a difference ended.
   */
  save(casebook: AppCasebook, caseId: CaseId, kind: EntryKind = 'save', why?: string): Promise<DraftResult> {
    return whileWriting(() => this.#save(casebook, caseId, kind, why))
  }

  async #save(casebook: AppCasebook, caseId: CaseId, kind: EntryKind, why?: string): Promise<DraftResult> {
    const groups = new Map<string, { over: readonly EntryId[]; edits: (readonly [FieldName, Edit])[] }>()
    for (const [field, edit] of this.#edits) {
      const key = edit.over.join(' ')
      const group = groups.get(key) ?? { over: edit.over, edits: [] }
      group.edits.push([field, edit])
      groups.set(key, group)
    }
    for (const { over, edits } of groups.values()) {
      const set = Object.fromEntries(edits.map(([field, { value }]) => [field, value]))
      const saved = await casebook.save(caseId, { kind, set, over, ...(why ? { why } : {}) })
      if (!saved.ok) {
        // What is wrong within a value is told beside its field.
        const [where = ''] = (saved.failure.where ?? '').split('.')
        return { ok: false, message: sayFailure(saved.failure), field: isFieldName(where) ? where : null }
      }
      // What was typed again while the store was writing stays.
      for (const [field, edit] of edits) if (this.#edits.get(field) === edit) this.#edits.delete(field)
      this.#tell()
    }
    return { ok: true }
  }

  #tell(): void {
    this.#changed(this.isEmpty ? undefined : [...this.#edits].map(([field, edit]) => ({ field, ...edit })))
  }
}

const isIds = (value: unknown): value is readonly EntryId[] =>
  Array.isArray(value) && value.every(id => typeof id === 'string')

const readEdit = (kept: unknown): [FieldName, Edit] | undefined => {
  const { field, value, over, stood } = Object(kept) as Readonly<Record<string, unknown>>
  return typeof field === 'string' && isFieldName(field) && value !== undefined && isIds(over) && isIds(stood)
    ? [field, { value, over, stood }]
    : undefined
}

const idsOf = (field: FieldName, view: CaseView): readonly EntryId[] => (view.heads[field] ?? []).map(head => head.id)
