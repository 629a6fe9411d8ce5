import { failure, type Result, success } from '../../src/result.ts'
import { toBase64Url } from '../bytes.ts'
import { platformRandom, type RandomBytes } from '../secret-keeper.ts'
import { DATA_KEY_BYTES, DataKeys } from '../trust/data-keys.ts'
import { createDeviceKey, type DeviceKey, type KeyFailure, readDeviceKey } from '../trust/device-key.ts'
import { createLock, type LockFailure, rewrap, unlock, type WrappedKey } from '../trust/lock.ts'
import { CatalogueStore } from './catalogue-store.ts'
import { Database, type DatabaseFailure, type LocalStore } from './database.ts'
import { DeviceStorage } from './device-storage.ts'
import { type DraftStore, draftStore } from './drafts.ts'
import { KeptTwice, STORE_ID } from './kept-twice.ts'
import { SealedRows } from './sealed-rows.ts'
import type { CasebookStorage } from './storage.ts'
import { noticesOf, type StoreNotice } from './store-notice.ts'
import { openTabs, type Tabs, toldToTabs } from './tabs.ts'

const DATA_KEY = 'data'
const DEVICE_KEY_VALUE = 'device-key'
const STORE_ID_BYTES = 16

export interface DeviceOptions {
  readonly indexedDB: IDBFactory
  /** Another place of this browser, for a second copy. Undefined where it has none. */
  readonly second?: () => Promise<IDBFactory | undefined>
  readonly name: string
  readonly randomBytes?: RandomBytes
  /** After how long a catalogue store that does not open is given up; 5 s when absent. */
  readonly catalogueLimitMs?: number
}

export interface DeviceFailure {
  readonly type:
    | 'already-set-up'
    | 'not-set-up'
    | 'not-practice'
    | DatabaseFailure['type']
    | LockFailure['type']
    | KeyFailure['type']
  readonly message: string
}

/** A device whose store is open. */
export interface OpenDevice {
  readonly deviceKey: DeviceKey
  readonly storage: CasebookStorage
  readonly drafts: DraftStore
  /** Whoever hears that another tab has locked finishes what is being written here, then closes. */
  readonly tabs: Tabs
  notices(): readonly StoreNotice[]
  changePassphrase(passphrase: string, next: string): Promise<Result<undefined, DeviceFailure>>
  /**
   * Closes the store and tells the other tabs to do the same: a write that was begun is finished, anything later is refused
   * in words. Drop the casebook and everything shown of it as well.
   */
  lock(): void
  /** Lets go of the store in this tab alone, as when the page goes. */
  close(): void
}

/** A device before its passphrase is given. */
export interface LockedDevice {
  /** Nothing was ever set up here. */
  readonly isNew: boolean
  /** Sets this store up: a data key and a device key, made once. */
  create(passphrase: string): Promise<Result<OpenDevice, DeviceFailure>>
  unlock(passphrase: string): Promise<Result<OpenDevice, DeviceFailure>>
}

const ALREADY: DeviceFailure = {
  type: 'already-set-up',
  message: 'This device is set up already. Nothing was changed. Open it with its passphrase.',
}
const NOT_SET_UP: DeviceFailure = {
  type: 'not-set-up',
  message: 'This device is not set up yet, so there is nothing to open. Choose a passphrase first.',
}
const NOT_PRACTICE: DeviceFailure = {
  type: 'not-practice',
  message: 'This store holds real cases and is not opened for practice. Nothing was changed.',
}
/** Practice people are invented: there is nothing to hide, and nobody should have to learn a passphrase to practise. */
const PRACTICE_KEY = new Uint8Array(DATA_KEY_BYTES).fill(1)
const PRACTICE_LOCK = { lock: 'practice' } as const

interface Store {
  readonly database: LocalStore
  readonly options: DeviceOptions
  /** Undefined where there is no second copy to speak of. */
  readonly twice: KeptTwice | undefined
}

const openStore = async (options: DeviceOptions): Promise<Result<Store, DatabaseFailure>> => {
  const { indexedDB, name } = options
  const second = await options.second?.()
  if (!second) {
    const database = await Database.open(indexedDB, name)
    return database.ok ? success({ database: database.value, options, twice: undefined }) : database
  }
  const twice = await KeptTwice.open(name, indexedDB, second)
  return twice.ok ? success({ database: twice.value, options, twice: twice.value }) : twice
}

const readLock = ({ database }: Pick<Store, 'database'>): Promise<unknown> =>
  database.read(['keys'], transaction => {
    const found: IDBRequest<unknown> = transaction.objectStore('keys').get(DATA_KEY)
    return () => found.result
  })

const isPracticeLock = (lock: unknown): boolean =>
  typeof lock === 'object' && lock !== null && 'lock' in lock && lock.lock === PRACTICE_LOCK.lock

/** Lock and device key in one write: a device is set up whole or not at all, and only once. */
const setUp = async (
  { database, options }: Store,
  lock: WrappedKey | typeof PRACTICE_LOCK,
  keys: DataKeys,
): Promise<Result<DeviceKey, DeviceFailure>> => {
  const { deviceKey, stored } = await createDeviceKey()
  const name = await keys.nameOf('value', DEVICE_KEY_VALUE)
  const sealed = await keys.seal('value', name, stored)
  stored.fill(0)
  const written = await database.write([
    { store: 'keys', add: lock, key: DATA_KEY },
    { store: 'keys', put: toBase64Url((options.randomBytes ?? platformRandom)(STORE_ID_BYTES)), key: STORE_ID },
    { store: 'values', add: sealed, key: name },
  ])
  return written.ok ? success(deviceKey) : written
}

const opened = (store: Store, keys: DataKeys, deviceKey: DeviceKey, wasRestored = false): OpenDevice => {
  const { database, options } = store
  const catalogue = new CatalogueStore(options.indexedDB, `${options.name}-catalogue`, options.catalogueLimitMs)
  const storage = new DeviceStorage(new SealedRows(database, keys), catalogue)
  const tabs = openTabs(options.name)
  const close = (): void => {
    database.close()
    void catalogue.close()
    tabs.close()
  }
  return {
    deviceKey,
    storage: toldToTabs(storage, tabs),
    drafts: draftStore(storage, tabs, options.name),
    tabs,
    notices: () =>
      noticesOf({
        catalogueRowsLost: catalogue.lostRows,
        catalogueEntriesForeign: storage.foreignEntries,
        wasRestored,
        lacksSecondCopy: store.twice?.isKeptTwice === false,
      }),
    changePassphrase: async (passphrase, next) => {
      const wrapped = await rewrap(await readLock(store), passphrase, next, options.randomBytes)
      if (!wrapped.ok) return wrapped
      return database.write([{ store: 'keys', put: wrapped.value, key: DATA_KEY }])
    },
    lock: () => {
      tabs.tell({ news: 'locked' })
      close()
    },
    close,
  }
}

const openWith = async (store: Store, keys: DataKeys): Promise<Result<OpenDevice, DeviceFailure>> => {
  const stored = await new SealedRows(store.database, keys).readValue(DEVICE_KEY_VALUE)
  const deviceKey = await readDeviceKey(stored ?? new Uint8Array())
  if (!deviceKey.ok) return deviceKey
  const wasRestored = (await store.twice?.tellRestored()) ?? false
  return success(opened(store, keys, deviceKey.value, wasRestored))
}

/** A store with a connection of its own, closed again unless `work` opens the device. */
const withStore = async <Value>(
  options: DeviceOptions,
  work: (store: Store) => Promise<Result<Value, DeviceFailure>>,
): Promise<Result<Value, DeviceFailure>> => {
  const store = await openStore(options)
  if (!store.ok) return store
  const done = await work(store.value)
  if (!done.ok) store.value.database.close()
  return done
}

const create = (options: DeviceOptions, passphrase: string): Promise<Result<OpenDevice, DeviceFailure>> =>
  withStore(options, async store => {
    if ((await readLock(store)) !== undefined) return failure(ALREADY)
    const lock = await createLock(passphrase, options.randomBytes)
    if (!lock.ok) return lock
    const { wrapped, keys } = lock.value
    const deviceKey = await setUp(store, wrapped, keys)
    if (deviceKey.ok) return success(opened(store, keys, deviceKey.value))
    // Another tab may have been quicker.
    return (await readLock(store)) === undefined ? deviceKey : failure(ALREADY)
  })

const unlockWith = (options: DeviceOptions, passphrase: string): Promise<Result<OpenDevice, DeviceFailure>> =>
  withStore(options, async store => {
    const lock = await readLock(store)
    if (lock === undefined) return failure(NOT_SET_UP)
    const keys = await unlock(lock, passphrase)
    return keys.ok ? openWith(store, keys.value) : keys
  })

/** Looks at the store of this device. A store of a later version is named and left as it is. */
export const openDevice = async (options: DeviceOptions): Promise<Result<LockedDevice, DeviceFailure>> => {
  const store = await openStore(options)
  if (!store.ok) return store
  const isNew = (await readLock(store.value)) === undefined
  store.value.database.close()
  return success({
    isNew,
    create: passphrase => create(options, passphrase),
    unlock: passphrase => unlockWith(options, passphrase),
  })
}

/** Opens the practice store, which asks for no passphrase; sets it up when there is none. Never opens real cases. */
export const openPractice = (options: DeviceOptions): Promise<Result<OpenDevice, DeviceFailure>> =>
  withStore(options, async store => {
    const keys = await DataKeys.from(PRACTICE_KEY)
    const lock = await readLock(store)
    if (lock !== undefined) return isPracticeLock(lock) ? openWith(store, keys) : failure(NOT_PRACTICE)
    const deviceKey = await setUp(store, PRACTICE_LOCK, keys)
    return deviceKey.ok ? success(opened(store, keys, deviceKey.value)) : deviceKey
  })
