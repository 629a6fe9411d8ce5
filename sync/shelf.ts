import type { Counted } from '../src/case/entry.ts'
import { compareText, type DeviceId, type EntryId } from '../src/ids.ts'
import { success } from '../src/result.ts'
import { equalBytes, fromBase64Url, toBase64Url } from './bytes.ts'
import { CaseDocument, type OpenedDocument, openDocument } from './case-document.ts'
import type { DocumentKey } from './exchange/replica.ts'
import type { CasebookStorage, Stored, StoredRows } from './storage/storage.ts'
import { authorsOf, type Derived, hashOfIds, readSummary, type Summary, writeSummary } from './summaries.ts'

/** Measured: merging costs little at this many rows, and opening stays quick. */
const COMPACT_AT_ROWS = 32
export const LOADED_LIMIT = 50

/** What could not be read of a document: kept, counted, to be shown. */
export interface DocumentProblem {
  readonly document: DocumentKey
  readonly unreadableRows: number
}

/**
 * The documents of a casebook between store and memory: opens them from rows, keeps some open, stores each change with
 * the summary in one strict write, merges rows. Used by one piece of work at a time.
 */
export class Shelf {
  readonly #storage: CasebookStorage
  readonly #device: DeviceId
  readonly #loadedLimit: number
  /** In the order of last use. Team and catalogue are always open. */
  readonly #loaded = new Map<DocumentKey, CaseDocument>()
  readonly #summaries = new Map<DocumentKey, Summary>()
  readonly #hashes = new Map<DocumentKey, Uint8Array>()
  readonly #unreadable = new Map<DocumentKey, number>()

  /** `device`: whose own entries are followed until another device is known to hold them. */
  constructor(storage: CasebookStorage, device: DeviceId, loadedLimit: number) {
    this.#storage = storage
    this.#device = device
    this.#loadedLimit = loadedLimit
  }

  /** Reads all summaries; one that is missing, damaged or of another version is made anew from its document's rows. */
  async readAll(
    documentOf: (caseOfEntry: string, fields: readonly string[]) => DocumentKey | undefined,
  ): Promise<void> {
    const withoutSummary = await this.#storage.readSummaries(bytes => {
      const summary = readSummary(bytes)
      if (summary) this.#keep(summary)
      return summary !== undefined
    })
    for (const stored of withoutSummary) {
      const opened = openDocument(stored.rows.map(row => row.bytes))
      const entries = opened.document.counted()
      const fields = entries.flatMap(({ entry }) => Object.keys(entry.set))
      const key = documentOf(entries[0]?.entry.case ?? '', fields)
      if (key !== undefined) await this.#takeOpened(key, stored, opened)
    }
  }

  get summaries(): ReadonlyMap<DocumentKey, Summary> {
    return this.#summaries
  }

  /** Content hash of every document with entries. */
  get hashes(): ReadonlyMap<DocumentKey, Uint8Array> {
    return this.#hashes
  }

  problems(): readonly DocumentProblem[] {
    return [...this.#unreadable].map(([document, unreadableRows]) => ({ document, unreadableRows }))
  }

  /** The document; an empty one that nobody keeps when there are no entries of it. */
  async open(key: DocumentKey): Promise<CaseDocument> {
    const loaded = this.#loaded.get(key)
    if (loaded) {
      this.#use(key, loaded)
      return loaded
    }
    if (!this.#summaries.has(key)) return new CaseDocument()
    const stored = await this.#storage.readRows(key)
    return this.#takeOpened(key, stored, openDocument(stored.rows.map(row => row.bytes)))
  }

  /**
   * Stores what changed in a document, `added` being its new entries and `written` those of them that were written here
   * just now, with its summary. When the store refuses, the document is dropped from memory and comes back as it was
   * stored: nothing half-done stays.
   */
  async store(
    key: DocumentKey,
    document: CaseDocument,
    changes: readonly Uint8Array[],
    added: readonly Counted[],
    written: readonly EntryId[],
  ): Promise<Stored> {
    const before = this.#summaries.get(key)
    const rowCount = (before?.rowCount ?? 0) + changes.length
    const onlyHere = before?.onlyHere === null ? this.#ownIn(document) : [...(before?.onlyHere ?? []), ...written]
    const summary = this.#summaryOf(key, document, rowCount, onlyHere, added)
    this.#loaded.delete(key)
    const stored = await this.#storage.append(key, changes, writeSummary(summary))
    if (!stored.ok) return stored
    this.#keep(summary)
    this.#use(key, document)
    return stored
  }

  /** Drops an open document whose state is not what is stored; it is opened anew when needed. */
  drop(key: DocumentKey): void {
    this.#loaded.delete(key)
  }

  /** What is stored now, after another tab wrote: rows may have come, been merged or been removed. Undefined: nothing is. */
  async reread(key: DocumentKey): Promise<CaseDocument | undefined> {
    const before = this.#loaded.get(key)
    this.#loaded.delete(key)
    const stored = await this.#storage.readRows(key)
    if (stored.rows.length + stored.unreadable > 0)
      return this.#takeOpened(key, stored, openDocument(stored.rows.map(row => row.bytes)), before)
    this.#forget(key)
    return undefined
  }

  async storeDerived(derived: ReadonlyMap<DocumentKey, Derived>): Promise<Stored> {
    const written = new Map<DocumentKey, Uint8Array>()
    for (const [key, one] of derived) {
      const summary = this.#summaries.get(key)
      if (!summary) continue
      const changed = { ...summary, derived: one }
      this.#keep(changed)
      written.set(key, writeSummary(changed))
    }
    return this.#storage.writeSummaries(written)
  }

  /**
   * Another device was found to hold just this of these documents. What was written here since is not among it, and the
   * next time will tell.
   */
  async noteHeldElsewhere(hashes: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored> {
    const written = new Map<DocumentKey, Uint8Array>()
    for (const summary of this.#summaries.values()) {
      if (summary.onlyHere?.length === 0) continue
      const [here, there] = [this.#hashes.get(summary.document), hashes.get(summary.document)]
      if (!here || !there || !equalBytes(here, there)) continue
      const changed = { ...summary, onlyHere: [] }
      this.#keep(changed)
      written.set(summary.document, writeSummary(changed))
    }
    return written.size === 0 ? success(undefined) : this.#storage.writeSummaries(written)
  }

  /** Entries of this device in that document that no other one is known to hold. */
  async onlyHere(key: DocumentKey): Promise<readonly EntryId[]> {
    const summary = this.#summaries.get(key)
    if (!summary) return []
    return summary.onlyHere ?? this.#ownIn(await this.open(key))
  }

  /**
   * Merges the rows of a document where there are many: behind a save, which must not wait for it. Through a document,
   * never by merging updates alone, and deleting exactly what was read: safe with two tabs.
   */
  async compactIfDue(key: DocumentKey): Promise<void> {
    const rows = this.#summaries.get(key)?.rowCount ?? 0
    if (rows - (this.#unreadable.get(key) ?? 0) < COMPACT_AT_ROWS) return
    const stored = await this.#storage.readRows(key)
    const opened = openDocument(stored.rows.map(row => row.bytes))
    const keysRead = stored.rows.filter((_, index) => !opened.unreadable.includes(index)).map(row => row.key)
    const rowCount = 1 + stored.unreadable + opened.unreadable.length
    const onlyHere = this.#onlyHereIn(key, opened.document, this.#loaded.get(key))
    const summary = this.#summaryOf(key, opened.document, rowCount, onlyHere)
    const merged = opened.document.snapshot()
    const compacted = await this.#storage.compact(key, merged, keysRead, writeSummary(summary))
    if (!compacted.ok) return
    this.#keep(summary)
    this.#use(key, opened.document)
  }

  /** Document, rows and summary, whole. */
  async remove(key: DocumentKey): Promise<Stored> {
    this.#forget(key)
    return this.#storage.remove(key)
  }

  #forget(key: DocumentKey): void {
    this.#loaded.delete(key)
    this.#summaries.delete(key)
    this.#hashes.delete(key)
    this.#unreadable.delete(key)
  }

  #keep(summary: Summary): void {
    this.#summaries.set(summary.document, summary)
    // A catalogue that was lost is not "the same as nothing" to a peer who has none either.
    if (summary.entryCount > 0) this.#hashes.set(summary.document, fromBase64Url(summary.hash))
    else this.#hashes.delete(summary.document)
  }

  #use(key: DocumentKey, document: CaseDocument): void {
    this.#loaded.delete(key)
    this.#loaded.set(key, document)
    for (const oldest of this.#loaded.keys()) {
      if (this.#loaded.size <= this.#loadedLimit) break
      if (oldest !== 'team' && oldest !== 'catalogue') this.#loaded.delete(oldest)
    }
  }

  #summaryOf(
    key: DocumentKey,
    document: CaseDocument,
    rowCount: number,
    onlyHere: readonly EntryId[],
    added: readonly Counted[] | null = null,
  ): Summary {
    const before = this.#summaries.get(key)
    const hash = toBase64Url(hashOfIds(document.entryIds()))
    return {
      summary: 1,
      document: key,
      hash,
      entryCount: document.entryCount,
      rowCount,
      authors: [...this.#authorsIn(document, hash, before, added)],
      onlyHere: [...onlyHere],
      derived: before?.derived ?? null,
    }
  }

  /** The authors of what was there before are known: of a document just opened not every entry need be read. */
  #authorsIn(
    document: CaseDocument,
    hash: string,
    before: Summary | undefined,
    added: readonly Counted[] | null,
  ): Summary['authors'] {
    if (before?.hash === hash) return before.authors
    if (!added || document.entryCount !== (before?.entryCount ?? 0) + added.length) return authorsOf(document.counted())
    return [...new Set([...(before?.authors ?? []), ...authorsOf(added)])].sort(compareText)
  }

  #ownIn(document: CaseDocument): readonly EntryId[] {
    return document
      .counted()
      .filter(({ entry }) => entry.by === this.#device)
      .map(({ id }) => id)
  }

  /**
   * What is only here of a document read from the rows. Where they hold more than was known, another tab wrote it: of what
   * is not known to have been there before, nobody is taken to hold anything.
   */
  #onlyHereIn(key: DocumentKey, document: CaseDocument, before: CaseDocument | undefined): readonly EntryId[] {
    const known = this.#summaries.get(key)
    if (!known?.onlyHere) return this.#ownIn(document)
    if (known.hash === toBase64Url(hashOfIds(document.entryIds()))) return known.onlyHere
    const onlyHere = new Set(known.onlyHere)
    return this.#ownIn(document).filter(id => onlyHere.has(id) || !before?.has(id))
  }

  /** Keeps a document just opened, with a summary that says what it really holds. */
  async #takeOpened(
    key: DocumentKey,
    stored: StoredRows,
    opened: OpenedDocument,
    before?: CaseDocument,
  ): Promise<CaseDocument> {
    const { document, rescued } = opened
    const unreadable = stored.unreadable + opened.unreadable.length
    if (unreadable > 0) this.#unreadable.set(key, unreadable)
    const rowCount = stored.rows.length + stored.unreadable + (rescued ? 1 : 0)
    const summary = this.#summaryOf(key, document, rowCount, this.#onlyHereIn(key, document, before))
    const known = this.#summaries.get(key)
    if (rescued) await this.#storage.append(key, [rescued], writeSummary(summary))
    else if (known?.hash !== summary.hash || known.rowCount !== rowCount)
      await this.#storage.writeSummaries(new Map([[key, writeSummary(summary)]]))
    this.#keep(summary)
    this.#use(key, document)
    return document
  }
}
