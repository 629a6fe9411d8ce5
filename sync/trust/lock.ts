import * as z from 'zod'
import { failure, type Result, success } from '../../src/result.ts'
import { platformRandom, type RandomBytes } from '../secret-keeper.ts'
import { DATA_KEY_BYTES, DataKeys } from './data-keys.ts'
import { unshared } from './digest.ts'
import { open, seal } from './sealing.ts'

/** PBKDF2-HMAC-SHA-256 at 600,000 rounds: OWASP Password Storage Cheat Sheet. Stored with the key, so it can be raised. */
const ROUNDS = 600_000
/** More than any version of ours writes: a damaged number must not keep a phone busy for an hour. */
const MOST_ROUNDS = 10_000_000
const SALT_BYTES = 16
/** Project value: below this a guess is a matter of minutes for anybody who copied the disk. */
const LEAST_LETTERS = 8
const WRAPPING = new TextEncoder().encode('outspoke data key 1')

const bytes = z.custom<Uint8Array>(value => value instanceof Uint8Array)
const wrappedKeySchema = z.strictObject({
  lock: z.literal('passphrase'),
  salt: bytes.refine(salt => salt.length === SALT_BYTES),
  rounds: z.number().int().min(1).max(MOST_ROUNDS),
  wrapped: bytes,
})

/** The data key of a store as it lies on the disk: AES-256-GCM under a key made from the passphrase. */
export type WrappedKey = Readonly<z.infer<typeof wrappedKeySchema>>

export interface LockFailure {
  readonly type: 'wrong-passphrase' | 'short-passphrase' | 'lock-unreadable'
  readonly message: string
}

const WRONG: LockFailure = {
  type: 'wrong-passphrase',
  message:
    'This passphrase does not open the casebook. Everything stored is safe and was not touched. Try again; capital letters count.',
}
const SHORT: LockFailure = {
  type: 'short-passphrase',
  message: `The passphrase needs at least ${LEAST_LETTERS} letters or signs. Six words are better. Nothing was changed.`,
}
const UNREADABLE: LockFailure = {
  type: 'lock-unreadable',
  message:
    'The lock of this store cannot be read: it is damaged, or a later version of the app wrote it. Nothing was changed. Update the app; if that does not help, strike this device off and invite it anew.',
}

/**
 * The same words typed on another keyboard are the same passphrase: letters in one composed form (NFKC, Unicode Standard
 * Annex 15), and no difference by the spaces that phones add after a suggested word.
 */
const asTyped = (passphrase: string): string => passphrase.normalize('NFKC').trim().replace(/\s+/gu, ' ')

/** Six words hold against somebody who copied the disk; anything shorter only against a finder. Project value. */
export const isStrongPassphrase = (passphrase: string): boolean => asTyped(passphrase).split(' ').length >= 6

const wrappingKey = async (passphrase: string, salt: Uint8Array, rounds: number): Promise<CryptoKey> => {
  const letters = unshared(new TextEncoder().encode(asTyped(passphrase)))
  const material = await globalThis.crypto.subtle.importKey('raw', letters, 'PBKDF2', false, ['deriveKey'])
  return globalThis.crypto.subtle.deriveKey(
    { name: 'PBKDF2', hash: 'SHA-256', salt: unshared(salt), iterations: rounds },
    material,
    { name: 'AES-GCM', length: 256 },
    false,
    ['encrypt', 'decrypt'],
  )
}

const wrap = async (dataKey: Uint8Array, passphrase: string, randomBytes: RandomBytes): Promise<WrappedKey> => {
  const salt = randomBytes(SALT_BYTES)
  const wrapped = await seal(await wrappingKey(passphrase, salt, ROUNDS), dataKey, WRAPPING)
  return { lock: 'passphrase', salt, rounds: ROUNDS, wrapped }
}

/** Gives the 32 bytes to `work` and wipes them afterwards. */
const withDataKey = async <Value>(
  stored: unknown,
  passphrase: string,
  work: (dataKey: Uint8Array) => Promise<Value>,
): Promise<Result<Value, LockFailure>> => {
  const read = wrappedKeySchema.safeParse(stored)
  if (!read.success) return failure(UNREADABLE)
  const { salt, rounds, wrapped } = read.data
  const dataKey = await open(await wrappingKey(passphrase, salt, rounds), wrapped, WRAPPING)
  if (!dataKey.ok) return failure(WRONG)
  if (dataKey.value.length !== DATA_KEY_BYTES) return failure(UNREADABLE)
  try {
    return success(await work(dataKey.value))
  } finally {
    dataKey.value.fill(0)
  }
}

const isTooShort = (passphrase: string): boolean => [...asTyped(passphrase)].length < LEAST_LETTERS

/** Makes the data key of a new store, once, and wraps it. */
export const createLock = async (
  passphrase: string,
  randomBytes: RandomBytes = platformRandom,
): Promise<Result<{ readonly wrapped: WrappedKey; readonly keys: DataKeys }, LockFailure>> => {
  if (isTooShort(passphrase)) return failure(SHORT)
  const dataKey = randomBytes(DATA_KEY_BYTES)
  try {
    return success({ wrapped: await wrap(dataKey, passphrase, randomBytes), keys: await DataKeys.from(dataKey) })
  } finally {
    dataKey.fill(0)
  }
}

export const unlock = (stored: unknown, passphrase: string): Promise<Result<DataKeys, LockFailure>> =>
  withDataKey(stored, passphrase, dataKey => DataKeys.from(dataKey))

/** The same data key under another passphrase: 32 bytes are wrapped anew, nothing stored is touched. */
export const rewrap = async (
  stored: unknown,
  passphrase: string,
  next: string,
  randomBytes: RandomBytes = platformRandom,
): Promise<Result<WrappedKey, LockFailure>> => {
  if (isTooShort(next)) return failure(SHORT)
  return withDataKey(stored, passphrase, dataKey => wrap(dataKey, next, randomBytes))
}
