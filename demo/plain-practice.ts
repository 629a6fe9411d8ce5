import { platformRandom } from '../sync/secret-keeper.ts'
import { draftStore } from '../sync/storage/drafts.ts'
import { createMemoryStorage } from '../sync/storage/memory.ts'
import type { OpenDevice } from '../sync/storage/open-device.ts'
import { openTabs, toldToTabs } from '../sync/storage/tabs.ts'
import { createDeviceKey } from '../sync/trust/device-key.ts'
import { sha256AtOnce } from '../sync/trust/digest.ts'

const SCALAR_BYTES = 32
/** First byte of an uncompressed point (SEC 1, 2.3.3). */
const UNCOMPRESSED = 4

interface PracticeKey {
  readonly secret: Uint8Array
}

const bytesOf = (source: BufferSource): Uint8Array =>
  source instanceof ArrayBuffer
    ? new Uint8Array(source)
    : new Uint8Array(source.buffer, source.byteOffset, source.byteLength)

const hashed = (secret: Uint8Array, part: number, bytes: Uint8Array): Uint8Array => {
  const whole = new Uint8Array(secret.length + 1 + bytes.length)
  whole.set(secret)
  whole[secret.length] = part
  whole.set(bytes, secret.length + 1)
  return sha256AtOnce(whole)
}
const twice = (secret: Uint8Array, from: number, bytes: Uint8Array): Uint8Array => {
  const both = new Uint8Array(2 * SCALAR_BYTES)
  both.set(hashed(secret, from, bytes))
  both.set(hashed(secret, from + 1, bytes), SCALAR_BYTES)
  return both
}
const NOTHING = new Uint8Array()
const publicBytes = (secret: Uint8Array): Uint8Array => Uint8Array.of(UNCOMPRESSED, ...twice(secret, 0, NOTHING))

/**
 * Stands in for what a browser keeps from a page on plain http: enough for the practice trip, whose invented people live in
 * the memory of this one page. **It protects nothing**: whoever made a key in this page can check it, and nobody else. It is
 * put in only where there is no real one, and nothing real can be opened there.
 */
const practiceSubtle = () => {
  const secretsByKey = new Map<string, Uint8Array>()
  return {
    digest: async (_: string, bytes: BufferSource) => sha256AtOnce(bytesOf(bytes)).buffer,
    generateKey: async () => {
      const secret = platformRandom(SCALAR_BYTES)
      secretsByKey.set(publicBytes(secret).join(), secret)
      return { publicKey: { secret }, privateKey: { secret } }
    },
    exportKey: async (format: string, { secret }: PracticeKey) =>
      (format === 'raw' ? publicBytes(secret) : secret.slice()).buffer,
    importKey: async (format: string, bytes: BufferSource): Promise<PracticeKey> => {
      const secret = format === 'raw' ? secretsByKey.get(bytesOf(bytes).join()) : bytesOf(bytes).slice()
      if (!secret) throw new DOMException('not a key of this page', 'DataError')
      return { secret }
    },
    sign: async (_: unknown, { secret }: PracticeKey, bytes: BufferSource) => twice(secret, 2, bytesOf(bytes)).buffer,
    verify: async (_: unknown, { secret }: PracticeKey, signature: BufferSource, bytes: BufferSource) =>
      twice(secret, 2, bytesOf(bytes)).join() === bytesOf(signature).join(),
  }
}

let isStandingIn = false
const standIn = (): void => {
  if (isStandingIn) return
  if (globalThis.crypto.subtle) throw new Error('practice without cryptography was asked for where there is some')
  Object.defineProperty(globalThis.crypto, 'subtle', { value: practiceSubtle(), configurable: true })
  isStandingIn = true
}

/** A device for practice in the memory of this page, where the browser gives no means to seal or to sign. */
export const openPlainPractice = async (): Promise<OpenDevice> => {
  standIn()
  const name = `plain practice ${platformRandom(8).join('')}`
  const tabs = openTabs(name)
  const storage = createMemoryStorage().open()
  const { deviceKey } = await createDeviceKey()
  const close = (): void => tabs.close()
  return {
    deviceKey,
    storage: toldToTabs(storage, tabs),
    drafts: draftStore(storage, tabs, name),
    tabs,
    notices: () => [],
    changePassphrase: () => Promise.reject(new Error('practice has no passphrase')),
    lock: close,
    close,
  }
}
