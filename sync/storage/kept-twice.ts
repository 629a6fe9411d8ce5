import { failure, type Result, success } from '../../src/result.ts'
import type { Change, StoreName } from './change.ts'
import { Database, type DatabaseFailure, type LocalStore, notSaved } from './database.ts'
import { type StorageFailure, StorageUnreadable, type Stored } from './storage.ts'

/** Among the keys: which store this is, given when it is set up, and how many writes it has had. */
export const STORE_ID = 'store'
const WRITES = 'writes'
/** Set when the store was put back, until that was told. */
const RESTORED = 'restored'

const NOT_RESTORED =
  'The browser has lost this device\u2019s store. A second copy of it is whole, and could not be put back, perhaps because there is no room. Nothing in the second copy was changed. Make room on the device, then open the app again.'

/** Stores whose records never change under their key: only what is missing or too much is touched. */
const UNCHANGING = ['rows', 'photos'] as const
/** Copied whole. Summaries are left out: they are made from rows, and lists make anew what is missing. */
const SMALL = ['values', 'keys'] as const
const COPIED_AT_ONCE = 200

const keysOf = (database: Database, store: StoreName): Promise<readonly IDBValidKey[]> =>
  database.read([store], transaction => {
    const keys = transaction.objectStore(store).getAllKeys()
    return () => keys.result
  })

const valuesAt = (database: Database, store: StoreName, keys: readonly IDBValidKey[]): Promise<readonly unknown[]> =>
  database.read([store], transaction => {
    const found = keys.map((key): IDBRequest<unknown> => transaction.objectStore(store).get(key))
    return () => found.map(({ result }) => result)
  })

const textOf = (key: IDBValidKey): string => JSON.stringify(key)
const without = (keys: readonly IDBValidKey[], known: readonly IDBValidKey[]): readonly IDBValidKey[] => {
  const names = new Set(known.map(textOf))
  return keys.filter(key => !names.has(textOf(key)))
}

/** Makes `to` what `from` is. The keys come last, with the count of writes: cut short, it is begun again at the next start. */
const copy = async (from: Database, to: Database, also: readonly Change[] = []): Promise<Stored> => {
  for (const store of UNCHANGING) {
    const [wanted, there] = [await keysOf(from, store), await keysOf(to, store)]
    const missing = without(wanted, there)
    for (let next = 0; next < missing.length; next += COPIED_AT_ONCE) {
      const keys = missing.slice(next, next + COPIED_AT_ONCE)
      const values = await valuesAt(from, store, keys)
      const written = await to.write(keys.map((key, position) => ({ store, put: values[position], key })))
      if (!written.ok) return written
    }
    const written = await to.write(without(there, wanted).map(key => ({ store, remove: key })))
    if (!written.ok) return written
  }
  const last: Change[] = (await keysOf(to, 'summaries')).map(key => ({ store: 'summaries', remove: key }))
  for (const store of SMALL) {
    const keys = await keysOf(from, store)
    const values = await valuesAt(from, store, keys)
    for (const key of without(await keysOf(to, store), keys)) last.push({ store, remove: key })
    last.push(...keys.map((key, position) => ({ store, put: values[position], key })))
  }
  return to.write([...last, ...also])
}

interface Standing {
  /** Undefined where nothing was ever set up, or all of it was lost. */
  readonly storeId: unknown
  readonly writes: number
}

const standingOf = (database: Database): Promise<Standing> =>
  database.read(['keys'], transaction => {
    const id: IDBRequest<unknown> = transaction.objectStore('keys').get(STORE_ID)
    const writes: IDBRequest<unknown> = transaction.objectStore('keys').get(WRITES)
    return () => ({ storeId: id.result, writes: typeof writes.result === 'number' ? writes.result : 0 })
  })

/** Makes the copy that is behind what the other is. Answers whether there is a second copy to write to. */
const level = async (first: Database, second: Database): Promise<Result<boolean, DatabaseFailure>> => {
  const [here, there] = [await standingOf(first), await standingOf(second)]
  if (there.storeId === undefined || (here.storeId === there.storeId && here.writes > there.writes))
    return success((await copy(first, second)).ok)
  if (here.storeId === undefined || (here.storeId === there.storeId && here.writes < there.writes)) {
    const restored = await copy(second, first, [{ store: 'keys', put: true, key: RESTORED }])
    return restored.ok ? success(true) : failure({ ...restored.failure, message: NOT_RESTORED })
  }
  // Of another store: never mixed, and not ours to overwrite.
  return success(here.storeId === there.storeId)
}

/** Writes take turns in all windows, so that both copies have them in the same order. */
const inTurn = async <Value>(name: string, work: () => Promise<Value>): Promise<Value> => {
  const locks = globalThis.navigator?.locks
  return locks ? await locks.request(`${name} writes`, work) : await work()
}

/**
 * A store in two databases that the browser keeps in two places. Chromium writes each place to a log of its own; one that
 * was killed between the two halves of a record goes on writing behind the torn record, and at the start after that finds
 * the log damaged and deletes everything the app had in that place. The other place is whole: a write is told as done when
 * both have it, so at the next opening the one is made from the other.
 */
export class KeptTwice implements LocalStore {
  readonly #name: string
  readonly #first: Database
  #second: Database | undefined
  #turn: Promise<unknown> = Promise.resolve()

  private constructor(name: string, first: Database, second: Database | undefined) {
    this.#name = name
    this.#first = first
    this.#second = second
  }

  static async open(name: string, first: IDBFactory, second: IDBFactory): Promise<Result<KeptTwice, DatabaseFailure>> {
    const [one, two] = await Promise.all([Database.open(first, name), Database.open(second, name)])
    if (!one.ok) {
      if (two.ok) two.value.close()
      return one
    }
    if (!two.ok) return success(new KeptTwice(name, one.value, undefined))
    const levelled = await inTurn(name, () => level(one.value, two.value))
    if (!levelled.ok || !levelled.value) two.value.close()
    if (levelled.ok) return success(new KeptTwice(name, one.value, levelled.value ? two.value : undefined))
    one.value.close()
    return levelled
  }

  /** Whether the first copy had lost writes, or all of them, and was made whole from the second; told once. */
  async tellRestored(): Promise<boolean> {
    const restored = await this.read(['keys'], transaction => {
      const flag: IDBRequest<unknown> = transaction.objectStore('keys').get(RESTORED)
      return () => flag.result === true
    })
    if (restored) await this.write([{ store: 'keys', remove: RESTORED }])
    return restored
  }

  /** False when nothing is written to the second copy any more; it is made whole at the next opening. */
  get isKeptTwice(): boolean {
    return this.#second !== undefined
  }

  read<Value>(stores: readonly StoreName[], work: (transaction: IDBTransaction) => () => Value): Promise<Value> {
    return this.#first.read(stores, work)
  }

  write(changes: readonly Change[]): Promise<Stored> {
    const written = this.#turn.then(() => inTurn(this.#name, () => this.#writeBoth(changes)))
    this.#turn = written.catch(() => undefined)
    return written
  }

  close(): void {
    this.#first.close()
    this.#second?.close()
  }

  async #writeBoth(changes: readonly Change[]): Promise<Stored> {
    const writes = await writesOf(this.#first)
    if (!writes.ok) return writes
    const written = await this.#first.commit([...changes, { store: 'keys', put: writes.value + 1, key: WRITES }])
    if (!written.ok) return written
    if (this.#second && !(await follow(this.#second, writes.value, written.value))) {
      this.#second.close()
      this.#second = undefined
    }
    return success(undefined)
  }
}

const writesOf = async (database: Database): Promise<Result<number, StorageFailure>> => {
  try {
    return success((await standingOf(database)).writes)
  } catch (error) {
    if (!(error instanceof StorageUnreadable)) throw error
    return failure(notSaved('storage-failed', error.message))
  }
}

/** The same write in the second copy. False when it was not in step, or did not take it. */
const follow = async (second: Database, writesBefore: number, changes: readonly Change[]): Promise<boolean> => {
  const writes = await writesOf(second)
  if (!writes.ok || writes.value !== writesBefore) return false
  return (await second.write(changes.filter(({ store }) => store !== 'summaries'))).ok
}
