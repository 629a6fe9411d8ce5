import { type CasebookId, casebookIdSchema, type DeviceId, deviceIdSchema } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { ByteWriter, fromBase64Url, toBase64Url, UnreadableBytes } from '../bytes.ts'
import { hashedId, unshared } from './digest.ts'

/** ECDSA on P-256 with SHA-256 (FIPS 186-5), the one algorithm: two would be a question of downgrade. */
const KEY_TYPE = { name: 'ECDSA', namedCurve: 'P-256' } as const
const SIGNING = { name: 'ECDSA', hash: 'SHA-256' } as const
/** r and s of 32 bytes each, as web crypto writes them (IEEE P1363). */
export const SIGNATURE_BYTES = 64
/** An uncompressed point: 4, x, y. */
const PUBLIC_KEY_BYTES = 65

/** What a device signs with. The private key never leaves it; the public one names the device. */
export interface DeviceKey {
  readonly device: DeviceId
  /** Raw public key in base64url. */
  readonly publicKey: string
  sign(bytes: Uint8Array): Promise<Uint8Array>
}

export interface KeyFailure {
  readonly type: 'not-a-device-key'
  readonly message: string
}

/** First 16 bytes of SHA-256 of the raw public key: nobody can claim a device's id with another key. */
export const deviceIdOf = (rawPublicKey: Uint8Array): DeviceId => deviceIdSchema.parse(hashedId(rawPublicKey))

/** True when this text is a public key and its hash is that device. */
export const isKeyOf = (device: DeviceId, publicKey: string): boolean => {
  try {
    const raw = fromBase64Url(publicKey)
    return raw.length === PUBLIC_KEY_BYTES && toBase64Url(raw) === publicKey && deviceIdOf(raw) === device
  } catch (error) {
    if (error instanceof UnreadableBytes) return false
    throw error
  }
}

const CASEBOOK_PREFIX = new TextEncoder().encode('casebook 1')

/** First 16 bytes of SHA-256 over "casebook 1", the founder's device id (16 bytes) and 16 random bytes (in base64url). */
export const casebookIdOf = (founder: DeviceId, random: string): CasebookId => {
  const whole = new ByteWriter().fixed(CASEBOOK_PREFIX).fixed(fromBase64Url(founder)).fixed(fromBase64Url(random))
  return casebookIdSchema.parse(hashedId(whole.done()))
}

const keyOf = (privateKey: CryptoKey, rawPublicKey: Uint8Array): DeviceKey => ({
  device: deviceIdOf(rawPublicKey),
  publicKey: toBase64Url(rawPublicKey),
  sign: async bytes => new Uint8Array(await globalThis.crypto.subtle.sign(SIGNING, privateKey, unshared(bytes))),
})

/** Raw public key, then the private key as PKCS #8: what is kept sealed, and nowhere else. */
const storedForm = (rawPublicKey: Uint8Array, privateKey: Uint8Array): Uint8Array => {
  const stored = new Uint8Array(rawPublicKey.length + privateKey.length)
  stored.set(rawPublicKey)
  stored.set(privateKey, rawPublicKey.length)
  return stored
}

/** A new device. `stored` is to be kept sealed and read by `readDeviceKey`; the key itself cannot be taken out again. */
export const createDeviceKey = async (): Promise<{ readonly deviceKey: DeviceKey; readonly stored: Uint8Array }> => {
  const pair = await globalThis.crypto.subtle.generateKey(KEY_TYPE, true, ['sign', 'verify'])
  const raw = new Uint8Array(await globalThis.crypto.subtle.exportKey('raw', pair.publicKey))
  const stored = storedForm(raw, new Uint8Array(await globalThis.crypto.subtle.exportKey('pkcs8', pair.privateKey)))
  const read = await readDeviceKey(stored)
  if (!read.ok) throw new Error(`a key just made cannot be read: ${read.failure.message}`)
  return { deviceKey: read.value, stored }
}

export const readDeviceKey = async (stored: Uint8Array): Promise<Result<DeviceKey, KeyFailure>> => {
  const raw = stored.slice(0, PUBLIC_KEY_BYTES)
  try {
    const privateKey = await globalThis.crypto.subtle.importKey(
      'pkcs8',
      stored.slice(PUBLIC_KEY_BYTES),
      KEY_TYPE,
      false,
      ['sign'],
    )
    const deviceKey = keyOf(privateKey, raw)
    const probe = new TextEncoder().encode('outspoke key probe')
    const verify = await importVerifier(deviceKey.publicKey)
    if (verify && (await verify(probe, await deviceKey.sign(probe)))) return success(deviceKey)
  } catch (error) {
    // Web crypto says DataError or SyntaxError for bytes that are no key: an expected failure, told below.
    if (!(error instanceof DOMException) && !(error instanceof TypeError)) throw error
  }
  return failure({
    type: 'not-a-device-key',
    message:
      'The key of this device cannot be read. Nothing was changed. Strike this device off and invite it anew: keys never come back.',
  })
}

/** Tells whether a signature (64 bytes) over bytes is by the key's owner. Undefined when the text is no key on the curve. */
export const importVerifier = async (
  publicKey: string,
): Promise<((bytes: Uint8Array, signature: Uint8Array) => Promise<boolean>) | undefined> => {
  try {
    const key = await globalThis.crypto.subtle.importKey('raw', fromBase64Url(publicKey), KEY_TYPE, false, ['verify'])
    return (bytes, signature) => globalThis.crypto.subtle.verify(SIGNING, key, unshared(signature), unshared(bytes))
  } catch (error) {
    if (error instanceof UnreadableBytes || error instanceof DOMException) return undefined
    throw error
  }
}
