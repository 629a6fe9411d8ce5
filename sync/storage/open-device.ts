import { failure, type Result, success } from '../../src/result.ts'
import type { RandomBytes } from '../secret-keeper.ts'
import { DATA_KEY_BYTES, DataKeys } from '../trust/data-keys.ts'
import { createDeviceKey, type DeviceKey, type KeyFailure, readDeviceKey } from '../trust/device-key.ts'
import { createLock, type LockFailure, rewrap, unlock, type WrappedKey } from '../trust/lock.ts'
import { CatalogueStore } from './catalogue-store.ts'
import { Database, type DatabaseFailure } from './database.ts'
import { DeviceStorage } from './device-storage.ts'
import { type DraftStore, draftStore } from './drafts.ts'
import { SealedRows } from './sealed-rows.ts'
import type { CasebookStorage } from './storage.ts'
import { openTabs, type Tabs, toldToTabs } from './tabs.ts'

const DATA_KEY = 'data'
const DEVICE_KEY_VALUE = 'device-key'

export interface DeviceOptions {
  readonly indexedDB: IDBFactory
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

/** What the store itself has to tell, to be shown until the next start. */
export type StoreNotice =
  | { readonly type: 'catalogue-rebuilt'; readonly lostRows: number; readonly message: string }
  | { readonly type: 'catalogue-altered'; readonly entries: number; readonly message: string }

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
  readonly database: Database
  readonly options: DeviceOptions
}

const readLock = ({ database }: Store): Promise<unknown> =>
  database.read(['keys'], transaction => {
    const found: IDBRequest<unknown> = transaction.objectStore('keys').get(DATA_KEY)
    return () => found.result
  })

const isPracticeLock = (lock: unknown): boolean =>
  typeof lock === 'object' && lock !== null && 'lock' in lock && lock.lock === PRACTICE_LOCK.lock

/** Lock and device key in one write: a device is set up whole or not at all, and only once. */
const setUp = async (
  { database }: Store,
  lock: WrappedKey | typeof PRACTICE_LOCK,
  keys: DataKeys,
): Promise<Result<DeviceKey, DeviceFailure>> => {
  const { deviceKey, stored } = await createDeviceKey()
  const name = await keys.nameOf('value', DEVICE_KEY_VALUE)
  const sealed = await keys.seal('value', name, stored)
  stored.fill(0)
  const written = await database.write(['keys', 'values'], transaction => {
    transaction.objectStore('keys').add(lock, DATA_KEY)
    transaction.objectStore('values').add(sealed, name)
  })
  return written.ok ? success(deviceKey) : written
}

const opened = (store: Store, keys: DataKeys, deviceKey: DeviceKey): OpenDevice => {
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
    notices: () => noticesOf(catalogue.lostRows, storage.foreignEntries),
    changePassphrase: async (passphrase, next) => {
      const wrapped = await rewrap(await readLock(store), passphrase, next, options.randomBytes)
      if (!wrapped.ok) return wrapped
      return database.write(['keys'], transaction => {
        transaction.objectStore('keys').put(wrapped.value, DATA_KEY)
      })
    },
    lock: () => {
      tabs.tell({ news: 'locked' })
      close()
    },
    close,
  }
}

const noticesOf = (lostRows: number, foreignEntries: number): readonly StoreNotice[] => [
  ...(lostRows > 0
    ? [
        {
          type: 'catalogue-rebuilt' as const,
          lostRows,
          message:
            'The chair catalogue on this device was damaged and was made anew from what could be read. Cases are safe. Meet one of the crew or read a bundle to have it whole again.',
        },
      ]
    : []),
  ...(foreignEntries > 0
    ? [
        {
          type: 'catalogue-altered' as const,
          entries: foreignEntries,
          message:
            'The chair catalogue on this device was changed by something other than this app. What was changed has been put out. Cases are safe. Meet one of the crew to have it whole again.',
        },
      ]
    : []),
]

const openWith = async (store: Store, keys: DataKeys): Promise<Result<OpenDevice, DeviceFailure>> => {
  const stored = await new SealedRows(store.database, keys).readValue(DEVICE_KEY_VALUE)
  const deviceKey = await readDeviceKey(stored ?? new Uint8Array())
  return deviceKey.ok ? success(opened(store, keys, deviceKey.value)) : deviceKey
}

/** A store with a connection of its own, closed again unless `work` opens the device. */
const withStore = async <Value>(
  options: DeviceOptions,
  work: (store: Store) => Promise<Result<Value, DeviceFailure>>,
): Promise<Result<Value, DeviceFailure>> => {
  const database = await Database.open(options.indexedDB, options.name)
  if (!database.ok) return database
  const done = await work({ database: database.value, options })
  if (!done.ok) database.value.close()
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
  const database = await Database.open(options.indexedDB, options.name)
  if (!database.ok) return database
  const isNew = (await readLock({ database: database.value, options })) === undefined
  database.value.close()
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
