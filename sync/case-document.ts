import * as Y from 'yjs'
import type { Counted } from '../src/case/entry.ts'
import { type EntryId, entryIdSchema } from '../src/ids.ts'
import { entryIdOf, readSigned, type SignedEntry, textOf } from './signed-entry.ts'
import { readUpdateParts, type UpdatePart, type UpdateParts } from './update-reader.ts'

/** The only root of every document: entry id -> signature and text. Encodings are Yjs' second format throughout. */
const ROOT = 'entries'

/** Left to itself Yjs draws a guid by 31 calls for random numbers, which cost as much as reading a case. Nobody asks for it. */
const newDocument = (): Y.Doc => new Y.Doc({ guid: ROOT })

/** y-webrtc hangs its connections on a document. This one stays empty: nothing of a casebook goes through that library. */
export const emptyDocument = (): Y.Doc => newDocument()

const isEntryId = (key: string): key is EntryId => entryIdSchema.safeParse(key).success

/** What a copy of the document would look like after an update: looked at before the document itself is touched. */
export interface Preview {
  readonly entries: ReadonlyMap<EntryId, Uint8Array>
  /** The update builds on parts that are not here. */
  readonly pending: boolean
  /** Keys whose last value was deleted. */
  readonly deleted: readonly EntryId[]
  /** Something that is no entry: another root, a list, a value that is not bytes, a key that is no id. */
  readonly foreign: boolean
  /** Every value the update brings, those too that would lie hidden under another value or wait for a missing part. */
  readonly brought: readonly { readonly key: string | null; readonly signed: Uint8Array }[]
}

/**
 * One document of signed entries: the team's, the catalogue's or a case's. A set that only grows. Never sets a client id:
 * Yjs draws one at random each time, and what two equal ones would break is healed by exchanging entries.
 */
export class CaseDocument {
  readonly #doc = newDocument()
  readonly #entries: Y.Map<Uint8Array> = this.#doc.getMap(ROOT)
  /** Parsed entries by id. An id is the hash of its text, so a parsed entry never goes stale. */
  readonly #read = new Map<EntryId, Counted>()
  #allRead = false

  get entryCount(): number {
    return this.#entries.size
  }

  has(id: EntryId): boolean {
    return this.#entries.has(id)
  }

  entryIds(): readonly EntryId[] {
    // Nothing else gets in: each key was found to be the hash of its text.
    return [...this.#entries.keys()] as EntryId[]
  }

  /** A copy of signature and text: what is in the document cannot be reached from outside. */
  signed(id: EntryId): Uint8Array | undefined {
    return this.#entries.get(id)?.slice()
  }

  /** Every entry, parsed once. */
  counted(): readonly Counted[] {
    if (!this.#allRead) {
      this.#entries.forEach((signed, id) => {
        if (!isEntryId(id) || this.#read.has(id)) return
        const read = readSigned(id, signed)
        if (read.ok) this.#read.set(id, read.value)
      })
      this.#allRead = true
    }
    return [...this.#read.values()]
  }

  stateVector(): Uint8Array {
    return Y.encodeStateVector(this.#doc)
  }

  /** What a peer with that state vector lacks; everything when the vector cannot be read. */
  updateSince(stateVector: Uint8Array): Uint8Array {
    try {
      return Y.encodeStateAsUpdateV2(this.#doc, stateVector)
    } catch {
      return this.snapshot()
    }
  }

  snapshot(): Uint8Array {
    return Y.encodeStateAsUpdateV2(this.#doc)
  }

  /** Writes entries that were checked and are not here yet. Gives what changed, null when nothing did. */
  put(entries: readonly SignedEntry[]): Uint8Array | null {
    return this.#changeOf(() => {
      for (const { id, signed } of entries) {
        if (this.#entries.has(id)) throw new Error(`entry ${id} is here already; nothing is ever written over`)
        this.#entries.set(id, signed.slice())
      }
      this.remember(entries)
    })
  }

  /** Takes in an update that was found clean; `added` are its new entries. Gives what changed, null when nothing did. */
  apply(update: Uint8Array, added: readonly SignedEntry[]): Uint8Array | null {
    const change = this.#changeOf(() => Y.applyUpdateV2(this.#doc, update))
    this.remember(added)
    return change
  }

  /** Takes in a stored row: nobody asks what it changed. */
  load(row: Uint8Array): void {
    Y.applyUpdateV2(this.#doc, row)
  }

  /**
   * The new entries of an update that does nothing but add some: only whole new items under the root, with bytes in
   * them, no deletion, no gap, nothing twice. Undefined for every other update: those are looked at in a preview.
   * Entries themselves are not checked here.
   */
  plainAdditions(update: Uint8Array): ReadonlyMap<EntryId, Uint8Array> | undefined {
    const read = partsOf(update)
    if (!read?.deletesNothing) return undefined
    const additions = new Map<EntryId, Uint8Array>()
    const clients = new Set<number>()
    let client: number | undefined
    let known = 0
    let next = 0
    for (const part of read.parts) {
      if (part.client !== client) {
        client = part.client
        if (clients.has(client)) return undefined
        clients.add(client)
        known = Y.getState(this.#doc.store, client)
        next = part.clock
        if (next > known) return undefined
      }
      if (part.clock !== next || part.length !== 1) return undefined
      next += 1
      // Even of parts that are here already Yjs makes every root they name.
      if (namesOtherRoot(part)) return undefined
      if (part.clock < known) continue
      const { key, signed } = part
      if (part.kind !== 'value' || signed === null || part.root !== ROOT || key === null || !isEntryId(key))
        return undefined
      if (additions.has(key) || this.#entries._map.has(key)) return undefined
      additions.set(key, signed)
    }
    return additions
  }

  /**
   * The document after an update, on a copy. Undefined when the update cannot be read. One with foreign content is not
   * even tried on the copy: of it only the values are told.
   */
  preview(update: Uint8Array): Preview | undefined {
    const read = partsOf(update)
    if (!read) return undefined
    const fresh = read.parts.filter(part => part.clock + part.length > Y.getState(this.#doc.store, part.client))
    const brought = fresh.flatMap(({ key, signed }) => (signed === null ? [] : [{ key, signed }]))
    if (fresh.some(isForeign) || read.parts.some(namesOtherRoot))
      return { entries: this.#signedById(), deleted: [], foreign: true, brought, pending: false }

    const copy = newDocument()
    const root: Y.Map<unknown> = copy.getMap(ROOT)
    Y.applyUpdateV2(copy, this.snapshot())
    try {
      Y.applyUpdateV2(copy, update)
    } catch {
      return undefined
    }
    const entries = new Map<EntryId, Uint8Array>()
    const deleted: EntryId[] = []
    let foreign = copy.share.size > 1 || root._start !== null
    for (const [key, item] of root._map) {
      const value = item.content instanceof Y.ContentBinary ? item.content.content : undefined
      if (!isEntryId(key)) foreign = true
      else if (item.deleted) deleted.push(key)
      else if (value) entries.set(key, value)
      else foreign = true
    }
    return { entries, deleted, foreign, brought, pending: isPending(copy) }
  }

  #signedById(): ReadonlyMap<EntryId, Uint8Array> {
    const signed = new Map<EntryId, Uint8Array>()
    for (const id of this.entryIds()) {
      const value = this.signed(id)
      if (value) signed.set(id, value)
    }
    return signed
  }

  /** True when an update that was taken in left parts waiting. They are dropped: nothing waits in a live document. */
  dropPending(): boolean {
    const pending = isPending(this.#doc)
    this.#doc.store.pendingStructs = null
    this.#doc.store.pendingDs = null
    return pending
  }

  /** Keeps what was parsed while checking, so that nothing is parsed twice. */
  remember(entries: readonly SignedEntry[]): void {
    for (const { id, counted } of entries) this.#read.set(id, counted)
  }

  /** Lends the Yjs document to the adapter that keeps it on a disk (y-indexeddb); nothing else ever sees it. */
  keptBy<Keeper>(keep: (doc: Y.Doc) => Keeper): Keeper {
    return keep(this.#doc)
  }

  #changeOf(work: () => void): Uint8Array | null {
    let change: Uint8Array | null = null
    const keep = (update: Uint8Array): void => {
      change = update
    }
    this.#doc.on('updateV2', keep)
    try {
      this.#doc.transact(work)
    } finally {
      this.#doc.off('updateV2', keep)
    }
    return change
  }
}

const partsOf = (update: Uint8Array): UpdateParts | undefined =>
  readUpdateParts(() => new Y.UpdateDecoderV2({ arr: update as Uint8Array<ArrayBuffer>, pos: 0 }))

const isPending = (doc: Y.Doc): boolean => doc.store.pendingStructs !== null || doc.store.pendingDs !== null

const namesOtherRoot = (part: UpdatePart): boolean => part.root !== null && part.root !== ROOT

/** A part that no document of ours ever holds: other content, a place in a list or inside another value, a key that is no id. */
const isForeign = (part: UpdatePart): boolean =>
  part.kind === 'foreign' || (part.isFirst && (part.key === null || !isEntryId(part.key)))

/** A row as y-indexeddb writes it, in Yjs' first format. Undefined when it cannot be read. */
export const updateFromFirstFormat = (row: Uint8Array): Uint8Array | undefined => {
  try {
    return Y.convertUpdateFormatV1ToV2(row)
  } catch {
    // Yjs throws errors of many kinds at bytes that are no update: all mean the same here.
    return undefined
  }
}

/** What became of stored rows. */
export interface OpenedDocument {
  readonly document: CaseDocument
  /** Which rows (by position) cannot be read: kept where they are, never merged away. */
  readonly unreadable: readonly number[]
  /** Entries rescued from rows that build on an unreadable one: a row to be stored. Null when there was nothing to rescue. */
  readonly rescued: Uint8Array | null
}

/**
 * Opens a document from its stored rows, in order. A row that cannot be read takes no neighbour with it: a later row that
 * builds on it would wait for ever inside Yjs, so its entries are taken out of it and written anew.
 */
export const openDocument = (rows: readonly Uint8Array[]): OpenedDocument => {
  const document = new CaseDocument()
  try {
    for (const row of rows) document.load(row.slice())
    if (!document.dropPending()) return { document, unreadable: [], rescued: null }
  } catch {
    // A row threw, and may have changed the document halfway: start again, row by row.
  }
  return openDamaged(rows)
}

const openDamaged = (rows: readonly Uint8Array[]): OpenedDocument => {
  const document = new CaseDocument()
  const unreadable: number[] = []
  const inside: SignedEntry[] = []
  for (const [index, stored] of rows.entries()) {
    const row = stored.slice()
    if (!document.preview(row)) {
      unreadable.push(index)
      continue
    }
    document.load(row)
    if (document.dropPending()) inside.push(...entriesInside(row))
  }
  const lost = new Map(inside.filter(({ id }) => !document.has(id)).map(entry => [entry.id, entry]))
  return { document, unreadable, rescued: document.put([...lost.values()]) }
}

const entriesInside = (row: Uint8Array): readonly SignedEntry[] => {
  const found: SignedEntry[] = []
  for (const { signed } of partsOf(row)?.parts ?? []) {
    if (signed === null) continue
    const id = entryIdOf(textOf(signed))
    const read = readSigned(id, signed)
    if (read.ok) found.push({ id, signed, counted: read.value })
  }
  return found
}
