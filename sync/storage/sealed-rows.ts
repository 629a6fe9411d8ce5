import type { CaseId, PhotoHash } from '../../src/ids.ts'
import type { DocumentKey } from '../exchange/replica.ts'
import type { DataKeys } from '../trust/data-keys.ts'
import type { LocalStore } from './database.ts'
import type { CasebookStorage, Stored, StoredRow, StoredRows } from './storage.ts'

/** As it lies on the disk. `c` is the keyed hash of the document's id; `sealed` is iv and sealed bytes. */
interface SealedRow {
  readonly c: string
  readonly sealed: Uint8Array
}

/** What a value that does not open is given as: not the same as none, or a damaged casebook would be founded over. */
const UNREADABLE_VALUE = new Uint8Array()

const isSealedRow = (row: unknown): row is SealedRow =>
  typeof row === 'object' && row !== null && 'sealed' in row && row.sealed instanceof Uint8Array

/** Keys of photos are pairs, and any list sorts after any text (Indexed Database API 3.0, 2.4): all pairs that begin with `c`. */
const photosOfDocument = (c: string): IDBKeyRange => IDBKeyRange.bound([c], [c, []])

/**
 * A store of casebooks on the disk of this device, every byte of it sealed, in one IndexedDB database. Sealing comes first,
 * because a transaction ends while one waits; then everything of one save goes into one strict transaction. Two tabs may
 * write and merge rows of the same document: what is deleted is exactly what was read, so neither loses anything.
 */
export class SealedRows implements CasebookStorage {
  readonly #database: LocalStore
  readonly #keys: DataKeys

  constructor(database: LocalStore, keys: DataKeys) {
    this.#database = database
    this.#keys = keys
  }

  async append(document: DocumentKey, rows: readonly Uint8Array[], summary: Uint8Array): Promise<Stored> {
    const c = await this.#nameOf(document)
    const [sealedSummary, ...sealed] = await Promise.all([
      this.#keys.seal('summary', c, summary),
      ...rows.map(row => this.#keys.seal('row', c, row)),
    ])
    return this.#database.write([
      ...sealed.map(row => ({ store: 'rows', add: { c, sealed: row } satisfies SealedRow }) as const),
      { store: 'summaries', put: sealedSummary, key: c },
    ])
  }

  async readRows(document: DocumentKey): Promise<StoredRows> {
    return this.#rowsNamed(await this.#nameOf(document))
  }

  async compact(
    document: DocumentKey,
    merged: Uint8Array,
    keysRead: readonly number[],
    summary: Uint8Array,
  ): Promise<Stored> {
    const c = await this.#nameOf(document)
    const [sealed, sealedSummary] = await Promise.all([
      this.#keys.seal('row', c, merged),
      this.#keys.seal('summary', c, summary),
    ])
    return this.#database.write([
      { store: 'rows', add: { c, sealed } satisfies SealedRow },
      ...keysRead.map(key => ({ store: 'rows', remove: key }) as const),
      { store: 'summaries', put: sealedSummary, key: c },
    ])
  }

  async readSummaries(take: (summary: Uint8Array) => boolean): Promise<readonly StoredRows[]> {
    const [summaries, named] = await Promise.all([this.#openSummaries(), this.#namesOfRows()])
    const known = new Set([...summaries].filter(([, summary]) => take(summary)).map(([c]) => c))
    return Promise.all([...named].filter(c => !known.has(c)).map(c => this.#rowsNamed(c)))
  }

  async writeSummaries(summaries: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored> {
    const sealed = await Promise.all(
      [...summaries].map(async ([document, summary]) => {
        const c = await this.#nameOf(document)
        return { c, summary: await this.#keys.seal('summary', c, summary) }
      }),
    )
    return this.#database.write(sealed.map(({ c, summary }) => ({ store: 'summaries', put: summary, key: c })))
  }

  /** Sealed bytes may stay in the browser's own files for a while: removed, not destroyed. */
  async remove(document: DocumentKey): Promise<Stored> {
    const c = await this.#nameOf(document)
    return this.#database.write([
      { store: 'rows', removeRowsOf: c },
      { store: 'summaries', remove: c },
      { store: 'photos', remove: photosOfDocument(c) },
    ])
  }

  async readValue(name: string): Promise<Uint8Array | undefined> {
    const c = await this.#keys.nameOf('value', name)
    const sealed: unknown = await this.#database.read(['values'], transaction => {
      const found = transaction.objectStore('values').get(c)
      return () => found.result
    })
    if (!(sealed instanceof Uint8Array)) return undefined
    return (await this.#keys.open('value', c, sealed)) ?? UNREADABLE_VALUE
  }

  async writeValue(name: string, bytes: Uint8Array): Promise<Stored> {
    const c = await this.#keys.nameOf('value', name)
    const sealed = await this.#keys.seal('value', c, bytes)
    return this.#database.write([{ store: 'values', put: sealed, key: c }])
  }

  async keepPhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Stored> {
    const [c, name] = await this.#placeOf(caseId, hash)
    const sealed = await this.#keys.seal('photo', name, bytes)
    return this.#database.write([{ store: 'photos', put: sealed, key: [c, name] }])
  }

  async readPhoto(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined> {
    const [c, name] = await this.#placeOf(caseId, hash)
    const sealed: unknown = await this.#database.read(['photos'], transaction => {
      const found = transaction.objectStore('photos').get([c, name])
      return () => found.result
    })
    return sealed instanceof Uint8Array ? this.#keys.open('photo', name, sealed) : undefined
  }

  async removePhotos(caseId: CaseId, hashes: readonly PhotoHash[]): Promise<Stored> {
    const places = await Promise.all(hashes.map(hash => this.#placeOf(caseId, hash)))
    return this.#database.write(places.map(([c, name]) => ({ store: 'photos', remove: [c, name] })))
  }

  /** The name tells apart the same photo in two cases: nobody who reads the disk sees that they share one. */
  async #placeOf(caseId: CaseId, hash: PhotoHash): Promise<readonly [c: string, name: string]> {
    return [await this.#nameOf(caseId), await this.#keys.nameOf('photo', `${caseId} ${hash}`)]
  }

  #nameOf(document: DocumentKey): Promise<string> {
    return this.#keys.nameOf('document', document)
  }

  /** In the order of writing; one that does not open is counted and left where it is. */
  async #rowsNamed(c: string): Promise<StoredRows> {
    const stored = await this.#database.read(['rows'], transaction => {
      const index = transaction.objectStore('rows').index('c')
      const keys = index.getAllKeys(c)
      const rows = index.getAll(c)
      return () => keys.result.map((key, position): [IDBValidKey, unknown] => [key, rows.result[position]])
    })
    const opened = await Promise.all(
      stored.map(async ([key, row]): Promise<StoredRow | undefined> => {
        if (typeof key !== 'number' || !isSealedRow(row)) return undefined
        const bytes = await this.#keys.open('row', c, row.sealed)
        return bytes && { key, bytes }
      }),
    )
    const rows = opened.filter(row => row !== undefined)
    return { rows, unreadable: opened.length - rows.length }
  }

  async #openSummaries(): Promise<ReadonlyMap<string, Uint8Array>> {
    const stored = await this.#database.read(['summaries'], transaction => {
      const store = transaction.objectStore('summaries')
      const names = store.getAllKeys()
      const summaries = store.getAll()
      return () => names.result.map((name, position): [IDBValidKey, unknown] => [name, summaries.result[position]])
    })
    const opened = new Map<string, Uint8Array>()
    await Promise.all(
      stored.map(async ([c, sealed]) => {
        if (typeof c !== 'string' || !(sealed instanceof Uint8Array)) return
        const summary = await this.#keys.open('summary', c, sealed)
        if (summary) opened.set(c, summary)
      }),
    )
    return opened
  }

  #namesOfRows(): Promise<ReadonlySet<string>> {
    return this.#database.read(['rows'], transaction => {
      const names = new Set<string>()
      const walk = transaction.objectStore('rows').index('c').openKeyCursor(null, 'nextunique')
      walk.onsuccess = () => {
        const cursor = walk.result
        if (!cursor) return
        if (typeof cursor.key === 'string') names.add(cursor.key)
        cursor.continue()
      }
      return () => names
    })
  }
}
