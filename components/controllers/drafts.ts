import type { CaseId } from '../../src/ids.ts'
import type { DraftStore, KeptDrafts } from '../../sync/storage/drafts.ts'
import type { AppCasebook } from '../app/context.ts'
import { Draft } from './draft.ts'

/** What is typed about one case begins so. */
const caseKey = (caseId: CaseId): string => `${caseId} `

/**
 * Everything that is typed in one open casebook and not saved. It goes into the sealed store with each change, one write
 * after the other, so that closing a form, the lock, a reload and a dead battery lose nothing; it goes with its case.
 */
export class Drafts {
  readonly #kept = new Map<string, unknown>()
  readonly #forms = new Map<string, Draft>()
  /** Changed here and not by another tab: what that one stores does not take its place. */
  readonly #own = new Set<string>()
  readonly #dirty = new Set<string>()
  readonly #listeners = new Set<() => void>()
  #store: DraftStore | undefined
  #writing: Promise<void> | undefined
  /** The store takes nothing: what is typed is in this page alone. */
  isRefused = false
  /** What was typed before could not be read: told until the next start. */
  isUnreadable = false

  /** Told when something begins or ceases to be typed and not saved, and when the store refuses it or takes it again. */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** Goes on in this store, with what it holds. */
  async openIn(store: DraftStore): Promise<void> {
    this.#store = store
    await this.takeStored()
    this.#write()
  }

  /** Takes in what another tab has typed or saved meanwhile. */
  async takeStored(): Promise<void> {
    const stored = await this.#store?.read().catch(() => undefined)
    if (!stored) {
      if (this.#store) this.isUnreadable = true
      return
    }
    for (const key of this.#kept.keys()) if (!this.#own.has(key) && !stored.has(key)) this.#become(key, undefined)
    for (const [key, value] of stored) if (!this.#own.has(key)) this.#become(key, value)
  }

  /** The draft of one form of one case, the same one each time it is opened. */
  form(caseId: CaseId, form: string): Draft {
    const key = `${caseKey(caseId)}${form}`
    const known = this.#forms.get(key)
    if (known) return known
    const draft = new Draft(edits => this.keep(key, edits))
    draft.become(this.#kept.get(key))
    this.#forms.set(key, draft)
    return draft
  }

  /** As it was last kept; undefined where nothing was. */
  kept(key: string): unknown {
    return this.#kept.get(key)
  }

  /** Undefined forgets. */
  keep(key: string, value: unknown): void {
    const isNew = !this.#kept.has(key)
    if (value === undefined && isNew) return
    if (value === undefined) this.#kept.delete(key)
    else this.#kept.set(key, value)
    if (isNew || value === undefined) this.#tell()
    this.#own.add(key)
    this.#dirty.add(key)
    this.#write()
  }

  /** Keys under which something is typed and not saved. */
  get keys(): readonly string[] {
    return [...this.#kept.keys()]
  }

  /** A case was erased: what was typed about it goes too. */
  forget(caseId: CaseId): void {
    for (const key of this.keys)
      if (key.startsWith(caseKey(caseId))) {
        this.#forms.get(key)?.become(undefined)
        this.keep(key, undefined)
      }
  }

  /** True once the store has everything. */
  async written(): Promise<boolean> {
    while (this.#writing) await this.#writing
    return this.#dirty.size === 0
  }

  #tell(): void {
    for (const listener of this.#listeners) listener()
  }

  #refused(isRefused: boolean): void {
    if (isRefused === this.isRefused) return
    this.isRefused = isRefused
    this.#tell()
  }

  #become(key: string, value: unknown): void {
    if (value === undefined) this.#kept.delete(key)
    else this.#kept.set(key, value)
    this.#forms.get(key)?.become(value)
  }

  #write(): void {
    if (this.#writing || this.#dirty.size === 0 || !this.#store) return
    const store = this.#store
    this.#writing = this.#writeTo(store).finally(() => {
      this.#writing = undefined
    })
  }

  async #writeTo(store: DraftStore): Promise<void> {
    while (this.#dirty.size > 0) {
      const changed: KeptDrafts = new Map([...this.#dirty].map(key => [key, this.#kept.get(key)]))
      this.#dirty.clear()
      const stored = await store.change(changed).catch(() => undefined)
      if (!stored?.ok) {
        // Kept in memory, and tried again with the next change.
        for (const key of changed.keys()) this.#dirty.add(key)
        this.#refused(true)
        return
      }
      this.#refused(false)
      for (const [key, value] of changed) if (value === undefined && !this.#dirty.has(key)) this.#own.delete(key)
    }
  }
}

const open = new WeakMap<AppCasebook, Drafts>()

/** Of a casebook that no session opened, in memory alone. */
export const draftsOf = (casebook: AppCasebook): Drafts => {
  const known = open.get(casebook)
  if (known) return known
  const drafts = new Drafts()
  open.set(casebook, drafts)
  return drafts
}

/**
 * What was typed in this casebook before, from its store. `unwritten`: what a lock could not store any more. What belongs
 * to an erased case goes.
 */
export const openDrafts = async (
  casebook: AppCasebook,
  store: DraftStore,
  unwritten: Drafts | undefined,
): Promise<Drafts> => {
  const drafts = unwritten ?? new Drafts()
  open.set(casebook, drafts)
  await drafts.openIn(store)
  for (const [caseId, { state }] of casebook.erasures()) if (state === 'erased') drafts.forget(caseId)
  casebook.subscribe(change => {
    if (change.type === 'removed') drafts.forget(change.caseId)
  })
  return drafts
}

export const draftOf = (casebook: AppCasebook, caseId: CaseId, form: string): Draft =>
  draftsOf(casebook).form(caseId, form)

/** How many answers are typed and not saved in forms of a case whose name begins so. */
export const unsavedCount = (casebook: AppCasebook, caseId: CaseId, form = ''): number => {
  const drafts = draftsOf(casebook)
  return drafts.keys
    .filter(key => key.startsWith(`${caseKey(caseId)}${form}`))
    .reduce((count, key) => count + editsIn(drafts.kept(key)), 0)
}

const editsIn = (kept: unknown): number => (Array.isArray(kept) ? kept.length : 0)

/** Where something is typed and not saved: a case, a new referral, the crew's name. */
export type Unsaved = CaseId | 'referral' | 'crew'

/** Every place of a casebook where something is typed and not saved; what cannot be shown any more is none. */
export const unsavedPlaces = (casebook: AppCasebook): readonly Unsaved[] => {
  const { keys } = draftsOf(casebook)
  if (keys.length === 0) return []
  const hidden: ReadonlyMap<string, unknown> = casebook.erasures()
  const places = keys.map(key => key.split(' ')[0] as Unsaved)
  return [...new Set(places)].filter(place => !hidden.has(place))
}
