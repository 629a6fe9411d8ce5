import { failure, type Result, success } from '../../src/result.ts'
import { askFor, type Change, type StoreName, storesOf } from './change.ts'
import { STORAGE_FULL, type StorageFailure, StorageUnreadable, type Stored } from './storage.ts'

/** Raised only together with a step in `upgrade` that carries every older version forward. */
const DATABASE_VERSION = 1

export interface DatabaseFailure {
  readonly type: 'newer-store' | 'storage-unavailable' | StorageFailure['type']
  readonly message: string
}

const NEWER: DatabaseFailure = {
  type: 'newer-store',
  message:
    'A later version of the app has stored here. Nothing was changed or deleted. Close the app, open it again while there is a network, and it will be up to date.',
}
const UNAVAILABLE: DatabaseFailure = {
  type: 'storage-unavailable',
  message:
    'This browser does not let the app store anything here. Nothing was changed. Leave private browsing, or allow this page to keep data, and open the app again.',
}
const FAILED: StorageFailure = {
  type: 'storage-failed',
  message:
    'Not saved: the store of this device did not take it. Everything saved before is safe. Try again; if it fails again, close the app and open it anew.',
}
const CLOSED: StorageFailure = {
  type: 'storage-failed',
  message: 'The casebook is locked on this device. Everything saved before is safe. Unlock it, then go on.',
}

const isNamed = (error: unknown, name: string): boolean => error instanceof Error && error.name === name

/** What a browser's refusal means for whoever was saving. Only the browser's own error name is ever passed on. */
export const storageFailureOf = (error: unknown): StorageFailure => {
  if (isNamed(error, 'QuotaExceededError')) return STORAGE_FULL
  return error instanceof Error && error.name !== 'Error'
    ? { ...FAILED, message: `${FAILED.message} (${error.name})` }
    : FAILED
}

const unreadable = (error: unknown): string =>
  `The store of this device cannot be read${error instanceof Error ? ` (${error.name})` : ''}. Nothing was changed. Close the app and open it anew.`

const databaseFailureOf = (error: unknown): DatabaseFailure => {
  if (isNamed(error, 'VersionError')) return NEWER
  if (isNamed(error, 'QuotaExceededError')) return STORAGE_FULL
  return UNAVAILABLE
}

const upgrade = (database: IDBDatabase, from: number): void => {
  if (from >= 1) return
  database.createObjectStore('rows', { autoIncrement: true }).createIndex('c', 'c')
  for (const store of ['summaries', 'values', 'photos', 'keys'] as const) database.createObjectStore(store)
}

const connect = (indexedDB: IDBFactory, name: string): Promise<Result<IDBDatabase, DatabaseFailure>> =>
  new Promise(resolve => {
    let request: IDBOpenDBRequest
    try {
      request = indexedDB.open(name, DATABASE_VERSION)
    } catch (error) {
      resolve(failure(databaseFailureOf(error)))
      return
    }
    request.onupgradeneeded = event => upgrade(request.result, event.oldVersion)
    request.onerror = () => resolve(failure(databaseFailureOf(request.error)))
    request.onsuccess = () => resolve(success(request.result))
  })

/** What the rooms above write to and read from. */
export interface LocalStore {
  write(changes: readonly Change[]): Promise<Stored>
  read<Value>(stores: readonly StoreName[], work: (transaction: IDBTransaction) => () => Value): Promise<Value>
  close(): void
}

/**
 * One IndexedDB database. A write is one strict transaction: its promise comes when the browser has committed it to the
 * disk, or says why nothing of it was. A connection that the browser drops is made anew for the next piece of work.
 */
export class Database implements LocalStore {
  readonly #indexedDB: IDBFactory
  readonly #name: string
  #connection: IDBDatabase | null = null
  #closed = false

  private constructor(indexedDB: IDBFactory, name: string) {
    this.#indexedDB = indexedDB
    this.#name = name
  }

  static async open(indexedDB: IDBFactory, name: string): Promise<Result<Database, DatabaseFailure>> {
    const database = new Database(indexedDB, name)
    const connected = await database.#connected()
    return connected.ok ? success(database) : connected
  }

  /** All of these changes, or none. */
  async write(changes: readonly Change[]): Promise<Stored> {
    const committed = await this.commit(changes)
    return committed.ok ? success(undefined) : committed
  }

  /** As `write`; answers with the changes as they were stored. */
  async commit(changes: readonly Change[]): Promise<Result<readonly Change[], StorageFailure>> {
    if (changes.length === 0) return success(changes)
    const begun = await this.#begin(storesOf(changes), 'readwrite')
    if (!begun.ok) return failure(notSaved(begun.failure.type, begun.failure.message))
    const transaction = begun.value
    return new Promise(resolve => {
      transaction.onabort = () => resolve(failure(storageFailureOf(transaction.error)))
      try {
        const stored = askFor(transaction, changes)
        transaction.oncomplete = () => resolve(success(stored()))
      } catch (error) {
        transaction.onabort = () => resolve(failure(storageFailureOf(error)))
        transaction.abort()
      }
    })
  }

  /**
   * One moment of the store: `work` asks, and what it returns is called once all answers are there. Throws
   * `StorageUnreadable`, in words, when the store cannot be read.
   */
  async read<Value>(stores: readonly StoreName[], work: (transaction: IDBTransaction) => () => Value): Promise<Value> {
    const begun = await this.#begin(stores, 'readonly')
    if (!begun.ok) throw new StorageUnreadable(begun.failure.message)
    const transaction = begun.value
    return new Promise((resolve, reject) => {
      const answer = work(transaction)
      transaction.oncomplete = () => resolve(answer())
      transaction.onabort = () => reject(new StorageUnreadable(unreadable(transaction.error)))
    })
  }

  /** What is being written is still finished; nothing more is taken. */
  close(): void {
    this.#closed = true
    this.#connection?.close()
    this.#connection = null
  }

  async #begin(
    stores: readonly StoreName[],
    mode: IDBTransactionMode,
  ): Promise<Result<IDBTransaction, DatabaseFailure>> {
    const known = this.#connection
    const first = await this.#transactionOn(stores, mode)
    // The browser may have closed a connection without a word (a phone that slept): nothing was written, so once more.
    return first.ok || this.#closed || known === null ? first : this.#transactionOn(stores, mode)
  }

  async #transactionOn(
    stores: readonly StoreName[],
    mode: IDBTransactionMode,
  ): Promise<Result<IDBTransaction, DatabaseFailure>> {
    const connected = await this.#connected()
    if (!connected.ok) return connected
    try {
      return success(connected.value.transaction(stores, mode, { durability: 'strict' }))
    } catch (error) {
      if (!isNamed(error, 'InvalidStateError')) throw error
      this.#connection = null
      return failure(FAILED)
    }
  }

  async #connected(): Promise<Result<IDBDatabase, DatabaseFailure>> {
    if (this.#closed) return failure(CLOSED)
    if (this.#connection) return success(this.#connection)
    const connected = await connect(this.#indexedDB, this.#name)
    if (!connected.ok) return connected
    const connection = connected.value
    const forget = (): void => {
      if (this.#connection === connection) this.#connection = null
    }
    connection.onclose = forget
    // A later version of the app wants the database in another tab: make way, or it waits for ever.
    connection.onversionchange = () => {
      connection.close()
      forget()
    }
    if (this.#closed) {
      connection.close()
      return failure(CLOSED)
    }
    this.#connection = connection
    return connected
  }
}

/** A refusal in the words of whoever was saving. */
export const notSaved = (type: DatabaseFailure['type'], message: string): StorageFailure => ({
  type: type === 'storage-full' ? 'storage-full' : 'storage-failed',
  message: message.startsWith('Not saved') ? message : `Not saved. ${message}`,
})
