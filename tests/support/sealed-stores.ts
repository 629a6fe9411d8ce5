import type { CaseId } from '../../src/ids.ts'
import { CatalogueStore } from '../../sync/storage/catalogue-store.ts'
import { Database } from '../../sync/storage/database.ts'
import { DeviceStorage } from '../../sync/storage/device-storage.ts'
import { SealedRows } from '../../sync/storage/sealed-rows.ts'
import type { StorageFailure } from '../../sync/storage/storage.ts'
import { DataKeys } from '../../sync/trust/data-keys.ts'
import type { StorageHarness } from '../sync/storage-contract.ts'
import { expectOk } from './casebooks.ts'

let made = 0
/** A database that no other test uses. */
export const freshName = (): string => `test-${globalThis.crypto.randomUUID()}-${made++}`

/** Any 32 bytes: what is tested is not the key. */
export const testKeys = (filled = 7): Promise<DataKeys> => DataKeys.from(new Uint8Array(32).fill(filled))

const WRITING = ['add', 'put', 'delete'] as const

/** Every write of IndexedDB throws this until called with null, as a browser's quota would have it. */
export const failIndexedDb = (reason: StorageFailure | null): void => {
  for (const method of WRITING) {
    const { prototype } = IDBObjectStore
    // Its own method lies under the name below while it fails.
    const kept = `kept ${method}`
    const original: unknown = Reflect.get(prototype, kept) ?? Reflect.get(prototype, method)
    Reflect.set(prototype, kept, original)
    const failing = (): never => {
      throw new DOMException('', reason?.type === 'storage-full' ? 'QuotaExceededError' : 'UnknownError')
    }
    Reflect.set(prototype, method, reason ? failing : original)
  }
}

/** What lies in a database, seen without any of our own code. */
export const rawDatabase = async <Value>(
  name: string,
  stores: readonly string[],
  work: (transaction: IDBTransaction) => () => Value,
): Promise<Value> => {
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const opening = indexedDB.open(name)
    opening.onsuccess = () => resolve(opening.result)
    opening.onerror = () => reject(opening.error)
  })
  try {
    const transaction = database.transaction(stores, 'readwrite')
    const answer = work(transaction)
    return await new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(answer())
      transaction.onabort = () => reject(transaction.error)
    })
  } finally {
    database.close()
  }
}

/** Flips one bit in the middle of sealed bytes. */
const damaged = (sealed: Uint8Array): Uint8Array => {
  const copy = sealed.slice()
  const middle = copy.length >> 1
  copy[middle] = (copy[middle] ?? 0) ^ 1
  return copy
}

const damageRow = async (name: string, c: string, position: number): Promise<void> => {
  await rawDatabase(name, ['rows'], transaction => {
    const store = transaction.objectStore('rows')
    const keys = store.index('c').getAllKeys(c)
    keys.onsuccess = () => {
      const key = keys.result[position]
      if (key === undefined) throw new RangeError(`no row ${position}`)
      const row = store.get(key)
      row.onsuccess = () => store.put({ ...row.result, sealed: damaged(row.result.sealed) }, key)
    }
    return () => undefined
  })
}

const damageSummary = async (name: string, c: string): Promise<void> => {
  await rawDatabase(name, ['summaries'], transaction => {
    const store = transaction.objectStore('summaries')
    const summary = store.get(c)
    summary.onsuccess = () => store.put(damaged(summary.result), c)
    return () => undefined
  })
}

/** Sealed rows in the IndexedDB of this platform, alone or with the catalogue in y-indexeddb beside them. */
export const sealedHarness = async (withCatalogue: boolean): Promise<StorageHarness> => {
  failIndexedDb(null)
  const name = freshName()
  const keys = await testKeys()
  const open = async () => {
    const sealed = new SealedRows(expectOk(await Database.open(indexedDB, name)), keys)
    return withCatalogue ? new DeviceStorage(sealed, new CatalogueStore(indexedDB, `${name}-catalogue`)) : sealed
  }
  const named = (document: CaseId): Promise<string> => keys.nameOf('document', document)
  return {
    storage: await open(),
    reopen: open,
    failWrites: failIndexedDb,
    damageRow: async (document, position) => damageRow(name, await named(document), position),
    damageSummary: async document => damageSummary(name, await named(document)),
  }
}
