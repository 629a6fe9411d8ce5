import { failure, type Result, success } from '../../src/result.ts'
import { unshared } from './digest.ts'

/** NIST SP 800-38D: 96 random bits a seal. A counter would repeat when an old profile is put back. */
const IV_BYTES = 12
const TAG_BYTES = 16
/** Rows are padded to this, so that their size tells little. */
const PAD_BYTES = 256
/** Format byte: as it is, or deflated. */
const AS_IS = 0
const DEFLATED = 1
const HEADER_BYTES = 5
/** More than any document or bundle holds: a small file that swells beyond it is refused. */
const UNPACKED_LIMIT_BYTES = 512 * 1024 * 1024

export interface SealFailure {
  readonly type: 'does-not-open' | 'not-packed' | 'newer-packing' | 'too-large'
  readonly message: string
}

/** AES-256-GCM key from 32 secret bytes, by HKDF-SHA-256 (RFC 5869). `purpose` keeps keys of one secret apart. */
export const sealingKey = async (secret: Uint8Array, purpose: string): Promise<CryptoKey> => {
  const material = await globalThis.crypto.subtle.importKey('raw', unshared(secret), 'HKDF', false, ['deriveKey'])
  return globalThis.crypto.subtle.deriveKey(
    { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(0), info: new TextEncoder().encode(purpose) },
    material,
    { name: 'AES-GCM', length: 256 },
    false,
    ['encrypt', 'decrypt'],
  )
}

/** 12 bytes of iv, then the sealed bytes with their tag. `associated` stands in clear elsewhere and cannot be changed. */
export const seal = async (key: CryptoKey, plain: Uint8Array, associated: Uint8Array): Promise<Uint8Array> => {
  const iv = globalThis.crypto.getRandomValues(new Uint8Array(IV_BYTES))
  const body = await globalThis.crypto.subtle.encrypt(
    { name: 'AES-GCM', iv, additionalData: unshared(associated) },
    key,
    unshared(plain),
  )
  const sealed = new Uint8Array(IV_BYTES + body.byteLength)
  sealed.set(iv)
  sealed.set(new Uint8Array(body), IV_BYTES)
  return sealed
}

export const open = async (
  key: CryptoKey,
  sealed: Uint8Array,
  associated: Uint8Array,
): Promise<Result<Uint8Array<ArrayBuffer>, SealFailure>> => {
  if (sealed.length >= IV_BYTES + TAG_BYTES)
    try {
      const iv = unshared(sealed.subarray(0, IV_BYTES))
      const plain = await globalThis.crypto.subtle.decrypt(
        { name: 'AES-GCM', iv, additionalData: unshared(associated) },
        key,
        unshared(sealed.subarray(IV_BYTES)),
      )
      return success(new Uint8Array(plain))
    } catch (error) {
      // OperationError: the tag does not hold. Another key, another header and damage cannot be told apart here.
      if (!(error instanceof DOMException)) throw error
    }
  return failure({ type: 'does-not-open', message: 'sealed with another key, or damaged' })
}

const through = async (
  bytes: Uint8Array,
  stream: CompressionStream | DecompressionStream,
  limitBytes: number,
): Promise<Uint8Array | undefined> => {
  const source = new Blob([unshared(bytes)]).stream().pipeThrough(stream)
  const reader = source.getReader()
  const pieces: Uint8Array[] = []
  let length = 0
  for (;;) {
    const { done, value } = await reader.read()
    if (done) break
    length += value.length
    if (length > limitBytes) {
      await reader.cancel()
      return undefined
    }
    pieces.push(value)
  }
  const whole = new Uint8Array(length)
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return whole
}

/**
 * Format byte, 4 bytes of packed length, deflate-raw (RFC 1951), zeros to a multiple of 256 bytes. Below `deflateFromBytes`
 * bytes are packed as they are: the browser's deflate takes about a millisecond however little it is given.
 */
export const pack = async (plain: Uint8Array, deflateFromBytes = 0): Promise<Uint8Array<ArrayBuffer>> => {
  const isDeflated = plain.length >= deflateFromBytes
  const body = isDeflated ? await through(plain, new CompressionStream('deflate-raw'), Number.POSITIVE_INFINITY) : plain
  if (!body) throw new Error(`packing ${plain.length} bytes gave nothing`)
  const packed = new Uint8Array(Math.ceil((HEADER_BYTES + body.length) / PAD_BYTES) * PAD_BYTES)
  packed[0] = isDeflated ? DEFLATED : AS_IS
  new DataView(packed.buffer).setUint32(1, body.length)
  packed.set(body, HEADER_BYTES)
  return packed
}

export const unpack = async (
  packed: Uint8Array,
  limitBytes = UNPACKED_LIMIT_BYTES,
): Promise<Result<Uint8Array, SealFailure>> => {
  const notPacked = failure<SealFailure>({
    type: 'not-packed',
    message: 'the bytes inside the seal are not a packed row',
  })
  if (packed.length < HEADER_BYTES) return notPacked
  if ((packed[0] ?? 0) > DEFLATED)
    return failure({
      type: 'newer-packing',
      message: 'packed by a later version of the app: update the app to read it',
    })
  const length = new DataView(packed.buffer, packed.byteOffset, packed.byteLength).getUint32(1)
  if (HEADER_BYTES + length > packed.length) return notPacked
  const body = packed.subarray(HEADER_BYTES, HEADER_BYTES + length)
  if (packed[0] === AS_IS) return success(body)
  try {
    const plain = await through(body, new DecompressionStream('deflate-raw'), limitBytes)
    return plain ? success(plain) : failure({ type: 'too-large', message: `unpacks to more than ${limitBytes} bytes` })
  } catch {
    // Bytes that are no deflate stream: a TypeError by the Compression Streams standard, a zlib Error in Node 20.
    return notPacked
  }
}
