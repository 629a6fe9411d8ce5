import { toBase64Url } from '../bytes.ts'
import { unshared } from './digest.ts'
import { open, pack, seal, sealingKey, unpack } from './sealing.ts'

export const DATA_KEY_BYTES = 32
/** Of HMAC-SHA-256, as much as an id has: two names are never mistaken for each other. */
const NAME_BYTES = 16

/**
 * Project value. Measured in Chromium with 5,000 summaries: 4.3 s to inflate them, 0.04 s to open their seals. A case of
 * many entries is larger than this, and is halved.
 */
const DEFLATE_FROM_BYTES = 4096

/** What is sealed. Each kind is sealed for itself: a summary put in the place of a row does not open. */
export type SealedKind = 'row' | 'summary' | 'value' | 'photo'

const encoder = new TextEncoder()
const textBytes = (text: string): Uint8Array => encoder.encode(text)

/**
 * The keys of a store on this device, made from its 32 secret bytes; they cannot be taken out again. Names and contents
 * of whatever is stored go through here: what lies on the disk is opaque names and sealed bytes.
 */
export class DataKeys {
  readonly #sealing: CryptoKey
  readonly #naming: CryptoKey

  private constructor(sealing: CryptoKey, naming: CryptoKey) {
    this.#sealing = sealing
    this.#naming = naming
  }

  /** HKDF-SHA-256 (RFC 5869) of the data key: one key to seal with, one to name with. */
  static async from(dataKey: Uint8Array): Promise<DataKeys> {
    if (dataKey.length !== DATA_KEY_BYTES) throw new RangeError(`a data key has 32 bytes, not ${dataKey.length}`)
    const material = await globalThis.crypto.subtle.importKey('raw', unshared(dataKey), 'HKDF', false, ['deriveKey'])
    const naming = await globalThis.crypto.subtle.deriveKey(
      { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(0), info: unshared(textBytes('outspoke index 1')) },
      material,
      { name: 'HMAC', hash: 'SHA-256', length: 256 },
      false,
      ['sign'],
    )
    return new DataKeys(await sealingKey(dataKey, 'outspoke store 1'), naming)
  }

  /** Under which name something lies on the disk: HMAC-SHA-256 (RFC 2104), so that ids do not. */
  async nameOf(kind: 'document' | 'value' | 'photo', id: string): Promise<string> {
    const mac = await globalThis.crypto.subtle.sign('HMAC', this.#naming, unshared(textBytes(`${kind} ${id}`)))
    return toBase64Url(new Uint8Array(mac).subarray(0, NAME_BYTES))
  }

  /** Random iv of 12 bytes, then AES-256-GCM of the packed bytes. Opens only as this kind and under this name. */
  async seal(kind: SealedKind, name: string, plain: Uint8Array): Promise<Uint8Array> {
    return seal(this.#sealing, await pack(plain, DEFLATE_FROM_BYTES), associated(kind, name))
  }

  /** Undefined for bytes that do not open: damaged, put in another place, or packed by a later version. */
  async open(kind: SealedKind, name: string, sealed: Uint8Array): Promise<Uint8Array | undefined> {
    const packed = await open(this.#sealing, sealed, associated(kind, name))
    if (!packed.ok) return undefined
    const plain = await unpack(packed.value)
    return plain.ok ? plain.value : undefined
  }
}

const associated = (kind: SealedKind, name: string): Uint8Array => textBytes(`outspoke ${kind} 1${name}`)
