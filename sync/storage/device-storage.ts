import type { CaseId, EntryId, PhotoHash } from '../../src/ids.ts'
import { failure } from '../../src/result.ts'
import { CaseDocument, openDocument } from '../case-document.ts'
import type { DocumentKey } from '../exchange/replica.ts'
import { entryIdOf, readSigned, type SignedEntry, textOf } from '../signed-entry.ts'
import type { CatalogueStore } from './catalogue-store.ts'
import {
  type CasebookStorage,
  type StorageFailure,
  StorageUnreadable,
  type Stored,
  type StoredRows,
} from './storage.ts'

const NOTHING: StoredRows = { rows: [], unreadable: 0 }
/** Shown as rows that do not open; cases can be opened all the same, and a peer gives the catalogue again. */
const UNREADABLE: StoredRows = { rows: [], unreadable: 1 }
const CATALOGUE_UNREADABLE: StorageFailure = {
  type: 'storage-failed',
  message:
    'Not saved: the chair catalogue cannot be opened on this device. Cases are safe and can be saved. Close the app in every tab and open it anew.',
}
/** y-indexeddb names no rows: the catalogue is handed out as one. */
const ONLY_ROW_KEY = 0

/** What lies in the sealed store under `catalogue`: ids of entries that this device took in. */
const writeIds = (ids: readonly EntryId[]): Uint8Array => new TextEncoder().encode(`catalogue\n${ids.join('\n')}`)
const readIds = (bytes: Uint8Array): readonly string[] | undefined => {
  const [head, ...ids] = new TextDecoder().decode(bytes).split('\n')
  return head === 'catalogue' ? ids : undefined
}

/**
 * All a device keeps of a casebook: the catalogue document in y-indexeddb, everything else in sealed rows.
 *
 * The catalogue lies on the disk in clear, and its policy decides how chairs are set: nobody may change it there. So
 * the id of each of its entries, which is the hash of its text, is sealed before the entry is stored, and an entry whose
 * id was never sealed, or whose text is another, is put out of the store.
 */
export class DeviceStorage implements CasebookStorage {
  readonly #sealed: CasebookStorage
  readonly #catalogue: CatalogueStore
  #foreignEntries = 0
  #isLookedAfter = false

  constructor(sealed: CasebookStorage, catalogue: CatalogueStore) {
    this.#sealed = sealed
    this.#catalogue = catalogue
  }

  /** How many catalogue entries were put out because this device never took them in. */
  get foreignEntries(): number {
    return this.#foreignEntries
  }

  async append(document: DocumentKey, rows: readonly Uint8Array[], summary: Uint8Array): Promise<Stored> {
    if (document !== 'catalogue') return this.#sealed.append(document, rows, summary)
    const ids = await this.#idsBroughtBy(rows).catch(noneIfUnreadable)
    if (!ids) return failure(CATALOGUE_UNREADABLE)
    const sealed = await this.#sealed.append(document, [writeIds(ids)], summary)
    if (!sealed.ok) return sealed
    const kept = await this.#catalogue.keep(rows)
    return kept.ok ? this.#sealed.writeValue(CATALOGUE_COPY, await this.#catalogue.snapshot()) : kept
  }

  readRows(document: DocumentKey): Promise<StoredRows> {
    return document === 'catalogue' ? this.#readCatalogue() : this.#sealed.readRows(document)
  }

  async compact(
    document: DocumentKey,
    merged: Uint8Array,
    keysRead: readonly number[],
    summary: Uint8Array,
  ): Promise<Stored> {
    if (document !== 'catalogue') return this.#sealed.compact(document, merged, keysRead, summary)
    const { rows } = await this.#sealed.readRows(document)
    const ids = rows.flatMap(row => readIds(row.bytes) ?? [])
    const keys = rows.map(row => row.key)
    const stored = await this.#sealed.compact(document, writeIds([...new Set(ids)] as EntryId[]), keys, summary)
    if (stored.ok) await this.#catalogue.merge()
    return stored
  }

  async readSummaries(take: (summary: Uint8Array) => boolean): Promise<readonly StoredRows[]> {
    const found = await this.#sealed.readSummaries(take)
    const isCatalogue = ({ rows }: StoredRows): boolean => rows.some(row => readIds(row.bytes) !== undefined)
    return Promise.all(found.map(stored => (isCatalogue(stored) ? this.#readCatalogue() : stored)))
  }

  writeSummaries(summaries: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored> {
    return this.#sealed.writeSummaries(summaries)
  }

  async remove(document: DocumentKey): Promise<Stored> {
    const removed = await this.#sealed.remove(document)
    return removed.ok && document === 'catalogue' ? this.#catalogue.replace(null) : removed
  }

  readValue(name: string): Promise<Uint8Array | undefined> {
    return this.#sealed.readValue(name)
  }

  writeValue(name: string, bytes: Uint8Array): Promise<Stored> {
    return this.#sealed.writeValue(name, bytes)
  }

  keepPhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Stored> {
    return this.#sealed.keepPhoto(caseId, hash, bytes)
  }

  readPhoto(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined> {
    return this.#sealed.readPhoto(caseId, hash)
  }

  removePhotos(caseId: CaseId, hashes: readonly PhotoHash[]): Promise<Stored> {
    return this.#sealed.removePhotos(caseId, hashes)
  }

  async #idsBroughtBy(rows: readonly Uint8Array[]): Promise<readonly EntryId[]> {
    const scratch = new CaseDocument()
    scratch.apply((await this.#catalogue.read()).snapshot(), [])
    const before = new Set(scratch.entryIds())
    for (const row of rows) scratch.apply(row.slice(), [])
    return scratch.entryIds().filter(id => !before.has(id))
  }

  async #readCatalogue(): Promise<StoredRows> {
    // Entries first, their ids after: what another tab is storing right now has its id sealed by then.
    const stored = await this.#catalogue.read().catch(noneIfUnreadable)
    if (!stored) return UNREADABLE
    const { rows } = await this.#sealed.readRows('catalogue')
    const sealedIds = new Set(rows.flatMap(row => readIds(row.bytes) ?? []))
    const document = this.#isLookedAfter ? stored : await this.#withWhatIsMissing(stored, sealedIds)
    const foreign = new Set(document.entryIds().filter(id => !isOwn(document, id, sealedIds)))
    if (foreign.size === 0) return rowsOf(document)

    this.#foreignEntries += foreign.size
    const cleaned = new CaseDocument()
    cleaned.put(entriesOf(document).filter(({ id }) => !foreign.has(id)))
    await this.#catalogue.replace(cleaned)
    return rowsOf(cleaned)
  }

  /**
   * Entries that this device took in and y-indexeddb has no more come back from the sealed copy. At the first reading
   * alone: later, an id without its entry is one that another tab is storing right now.
   */
  async #withWhatIsMissing(stored: CaseDocument, sealedIds: ReadonlySet<string>): Promise<CaseDocument> {
    this.#isLookedAfter = true
    const there = new Set<string>(stored.entryIds())
    if ([...sealedIds].every(id => there.has(id))) return stored
    const copy = await this.#sealed.readValue(CATALOGUE_COPY)
    if (!copy || copy.length === 0) return stored
    const { document } = openDocument([copy])
    const kept = await this.#catalogue.keep([document.snapshot()])
    return kept.ok ? this.#catalogue.read() : stored
  }
}

/** The browser may have deleted the store of y-indexeddb, and never the sealed ones (see kept-twice.ts). */
const CATALOGUE_COPY = 'catalogue-copy'

const noneIfUnreadable = (error: unknown): undefined => {
  if (!(error instanceof StorageUnreadable)) throw error
}

const rowsOf = (document: CaseDocument): StoredRows =>
  document.entryCount === 0 ? NOTHING : { rows: [{ key: ONLY_ROW_KEY, bytes: document.snapshot() }], unreadable: 0 }

const isOwn = (document: CaseDocument, id: EntryId, sealedIds: ReadonlySet<string>): boolean => {
  const signed = document.signed(id)
  return signed !== undefined && sealedIds.has(id) && entryIdOf(textOf(signed)) === id
}

const entriesOf = (document: CaseDocument): readonly SignedEntry[] =>
  document.entryIds().flatMap(id => {
    const signed = document.signed(id)
    if (!signed) return []
    const read = readSigned(id, signed)
    return read.ok ? [{ id, signed, counted: read.value }] : []
  })
