import { fetchUpdates, IndexeddbPersistence, storeState } from 'y-indexeddb'
import { failure, success } from '../../src/result.ts'
import { CaseDocument, openDocument, updateFromFirstFormat } from '../case-document.ts'
import { storageFailureOf } from './database.ts'
import { StorageUnreadable, type Stored } from './storage.ts'

/** The two stores of y-indexeddb: its rows, and one for small values of others. */
const ROWS = 'updates'
const VALUES = 'custom'
/** y-indexeddb tells nobody when it fails to open; longer than this nothing opens. */
const WATCHDOG_MS = 5_000

interface Kept {
  readonly document: CaseDocument
  readonly persistence: IndexeddbPersistence
}

/** Undefined when it takes longer, or fails. What fails late is heard and comes to nothing. */
const within = async <Value>(limitMs: number, work: Promise<Value>): Promise<Value | undefined> => {
  let timer: ReturnType<typeof setTimeout> | undefined
  const limit = new Promise<undefined>(resolve => {
    timer = setTimeout(() => resolve(undefined), limitMs)
  })
  try {
    return await Promise.race([work.catch(() => undefined), limit])
  } finally {
    clearTimeout(timer)
  }
}

const answerOf = <Value>(request: IDBRequest<Value>): Promise<Value> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error)
  })

/**
 * The catalogue document in y-indexeddb, in clear: nothing in it is secret, and any of the crew can send it again. Two
 * things are added to what that library does: a write is told as done only when it is on the disk, and a store that does
 * not open within five seconds (one bad row is enough) is deleted and made anew from the rows that can still be read.
 */
export class CatalogueStore {
  readonly #indexedDB: IDBFactory
  readonly #name: string
  readonly #limitMs: number
  #kept: Promise<Kept> | null = null
  #lostRows = 0

  /** `indexedDB` is the platform's own: y-indexeddb takes no other. */
  constructor(indexedDB: IDBFactory, name: string, limitMs = WATCHDOG_MS) {
    this.#indexedDB = indexedDB
    this.#name = name
    this.#limitMs = limitMs
  }

  /** How many rows could not be read and were given up when the store was made anew. */
  get lostRows(): number {
    return this.#lostRows
  }

  /** The document with everything that is stored now, by other tabs too. */
  async read(): Promise<CaseDocument> {
    const { document, persistence } = await this.#open()
    try {
      await fetchUpdates(persistence)
      return document
    } catch {
      // Another tab has made the store anew, or a row is bad: open it as if for the first time.
      await this.close()
      return (await this.#open()).document
    }
  }

  /** Comes when the disk has it. After a failure the document is read anew from what is stored. */
  async keep(updates: readonly Uint8Array[]): Promise<Stored> {
    try {
      const document = await this.read()
      const { persistence } = await this.#open()
      const before = await this.#lastKey(persistence)
      const changes = updates.map(update => document.apply(update.slice(), []))
      if (changes.every(change => change === null)) return success(undefined)
      // Behind the write of y-indexeddb, on the same rows: when this one is on the disk, so is that.
      const after = await this.#lastKey(persistence)
      if (after > before) return success(undefined)
      await this.close()
      return failure(storageFailureOf(undefined))
    } catch (error) {
      await this.close()
      return failure(storageFailureOf(error))
    }
  }

  /** The document as this tab knows it, without another look at the disk. */
  async snapshot(): Promise<Uint8Array> {
    return (await this.#open()).document.snapshot()
  }

  /** Merges the rows into one. */
  async merge(): Promise<void> {
    await storeState((await this.#open()).persistence)
  }

  /** Deletes what is stored and keeps this instead. */
  async replace(document: CaseDocument | null): Promise<Stored> {
    await this.close()
    if (!(await this.#delete())) return failure(storageFailureOf(undefined))
    return document && document.entryCount > 0 ? this.keep([document.snapshot()]) : success(undefined)
  }

  async close(): Promise<void> {
    const kept = this.#kept
    this.#kept = null
    if (kept)
      await within(
        this.#limitMs,
        kept.then(({ persistence }) => persistence.destroy()),
      )
  }

  #open(): Promise<Kept> {
    if (!this.#kept) {
      const opening = this.#openWatched()
      this.#kept = opening
      opening.catch(() => {
        if (this.#kept === opening) this.#kept = null
      })
    }
    return this.#kept
  }

  async #openWatched(): Promise<Kept> {
    const first = await this.#attempt()
    if (first) return first
    const { rescued, lostRows } = (await within(this.#limitMs, this.#rescue())) ?? { rescued: null, lostRows: 1 }
    await this.#delete()
    this.#lostRows += lostRows
    const second = await this.#attempt()
    if (!second)
      throw new StorageUnreadable('The catalogue cannot be read on this device. Cases are safe. Open the app anew.')
    if (rescued) second.document.apply(rescued, [])
    await this.#lastKey(second.persistence)
    return second
  }

  async #attempt(): Promise<Kept | undefined> {
    const document = new CaseDocument()
    const persistence = document.keptBy(doc => new IndexeddbPersistence(this.#name, doc))
    if (await within(this.#limitMs, persistence.whenSynced)) return { document, persistence }
    void within(this.#limitMs, persistence.destroy())
    return undefined
  }

  /** The rows as they lie there, each read for itself. */
  async #rescue(): Promise<{ readonly rescued: Uint8Array; readonly lostRows: number }> {
    const database = await answerOf(this.#indexedDB.open(this.#name))
    try {
      const stored: readonly unknown[] = await answerOf(database.transaction(ROWS).objectStore(ROWS).getAll())
      const read = stored.map(row => (row instanceof Uint8Array ? updateFromFirstFormat(row) : undefined))
      const rows = read.filter(row => row !== undefined)
      const { document, unreadable } = openDocument(rows)
      return { rescued: document.snapshot(), lostRows: stored.length - rows.length + unreadable.length }
    } finally {
      database.close()
    }
  }

  async #delete(): Promise<boolean> {
    const deleting = answerOf(this.#indexedDB.deleteDatabase(this.#name)).then(() => true)
    return (await within(this.#limitMs, deleting)) ?? false
  }

  /**
   * The key of the last row, and a note of it written strictly: a browser puts its writes on the disk in order, so what
   * y-indexeddb wrote before, without waiting, is there when this is. A write of nothing would not do.
   */
  async #lastKey(persistence: IndexeddbPersistence): Promise<number> {
    if (!persistence.db) throw new StorageUnreadable('The catalogue store is closed.')
    const transaction = persistence.db.transaction([ROWS, VALUES], 'readwrite', { durability: 'strict' })
    const walk = transaction.objectStore(ROWS).openKeyCursor(null, 'prev')
    let lastKey = 0
    walk.onsuccess = () => {
      lastKey = Number(walk.result?.key ?? 0)
      transaction.objectStore(VALUES).put(lastKey, 'last row on the disk')
    }
    return new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(lastKey)
      transaction.onabort = () => reject(transaction.error)
    })
  }
}
