import { mkdir, open, readdir, readFile, rm } from 'node:fs/promises'
import { join } from 'node:path'
import * as z from 'zod'
import { fromBase64Url, toBase64Url } from '../bytes.ts'
import type { CasebookStorage } from '../storage/storage.ts'
import { createDeviceKey, type DeviceKey, readDeviceKey } from '../trust/device-key.ts'
import { createLock, unlock } from '../trust/lock.ts'
import { InputError } from './command.ts'
import { diskFiles, FolderStorage } from './folder-storage.ts'

const STORE_VERSION = 1
const LOCK_FILE = 'lock.json'
const IN_USE_FILE = 'in-use'
const DEVICE_KEY_VALUE = 'device-key'

const lockSchema = z.strictObject({
  store: z.literal(STORE_VERSION),
  lock: z.literal('passphrase'),
  salt: z.string(),
  rounds: z.number(),
  wrapped: z.string(),
})

/** A device whose whole store is a folder. */
export interface KeepFolder {
  readonly deviceKey: DeviceKey
  readonly storage: CasebookStorage
  /** Lets another program work on the folder. */
  close(): Promise<void>
}

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

const filesIn = async (folder: string): Promise<readonly string[]> => {
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 })
    return await readdir(folder)
  } catch (error) {
    throw new InputError(`${folder}: cannot be used as a folder: ${reasonOf(error)}. Nothing was started.`)
  }
}

/** Whether a lock was made in this folder: without one it has to be empty, so that nothing of others is mixed up with it. */
export const isKeepFolder = async (folder: string): Promise<boolean> => {
  const files = (await filesIn(folder)).filter(name => name !== IN_USE_FILE)
  if (files.includes(LOCK_FILE)) return true
  // What is left of a start that was broken off before there was a lock: a device key that nothing opens any more.
  if (files.every(name => /^[\w-]{22}\.value(?:\.[\w-]+\.part)?$/.test(name))) return false
  throw new InputError(
    `${folder}: holds files, and none of them is a lock of this program. Nothing was changed. Name an empty folder, or one that does not exist.`,
  )
}

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0)
    return true
  } catch {
    // No such program any more: it ended without tidying up.
    return false
  }
}

/** One program at a time: two would each replace what the other has just written. */
const takeHold = async (folder: string): Promise<() => Promise<void>> => {
  const path = join(folder, IN_USE_FILE)
  const holder = Number(await readFile(path, 'utf8').catch(() => ''))
  if (Number.isInteger(holder) && holder > 0 && isAlive(holder))
    throw new InputError(
      `${folder}: is in use by another program (process ${holder}). Nothing was started. End that one first; if there is none, remove the file ${path}.`,
    )
  await rm(path, { force: true })
  const file = await open(path, 'wx', 0o600).catch(error => {
    throw new InputError(`${folder}: cannot be written to: ${reasonOf(error)}. Nothing was started.`)
  })
  await file.writeFile(String(process.pid))
  await file.close()
  return () => rm(path, { force: true })
}

const readLock = async (path: string): Promise<unknown> => {
  try {
    const { salt, rounds, wrapped } = lockSchema.parse(JSON.parse(await readFile(path, 'utf8')))
    return { lock: 'passphrase', salt: fromBase64Url(salt), rounds, wrapped: fromBase64Url(wrapped) }
  } catch {
    // Not what this version writes: `unlock` says so in words.
    return undefined
  }
}

/** Everything is written under the new lock before the lock is there. */
const create = async (folder: string, passphrase: string): Promise<Omit<KeepFolder, 'close'>> => {
  const lock = await createLock(passphrase)
  if (!lock.ok) throw new InputError(lock.failure.message)
  const { wrapped: made, keys } = lock.value
  const storage = new FolderStorage(folder, keys)
  const { deviceKey, stored } = await createDeviceKey()
  const kept = await storage.writeValue(DEVICE_KEY_VALUE, stored)
  stored.fill(0)
  if (!kept.ok) throw new InputError(kept.failure.message)
  const text = JSON.stringify({
    store: STORE_VERSION,
    lock: made.lock,
    salt: toBase64Url(made.salt),
    rounds: made.rounds,
    wrapped: toBase64Url(made.wrapped),
  })
  await diskFiles.replace(join(folder, LOCK_FILE), new TextEncoder().encode(text))
  return { deviceKey, storage }
}

const unlockFolder = async (folder: string, passphrase: string): Promise<Omit<KeepFolder, 'close'>> => {
  const keys = await unlock(await readLock(join(folder, LOCK_FILE)), passphrase)
  if (!keys.ok) throw new InputError(keys.failure.message)
  const storage = new FolderStorage(folder, keys.value)
  const deviceKey = await readDeviceKey((await storage.readValue(DEVICE_KEY_VALUE)) ?? new Uint8Array())
  if (!deviceKey.ok) throw new InputError(deviceKey.failure.message)
  return { deviceKey: deviceKey.value, storage }
}

/** Opens the device in a folder with its passphrase, or makes one where there is none. Every refusal is an InputError. */
export const openKeepFolder = async (folder: string, passphrase: string): Promise<KeepFolder> => {
  const isThere = await isKeepFolder(folder)
  const letGo = await takeHold(folder)
  try {
    const device = await (isThere ? unlockFolder : create)(folder, passphrase)
    return { ...device, close: letGo }
  } catch (error) {
    await letGo()
    throw error
  }
}
