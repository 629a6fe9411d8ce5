import { toBase64Url } from '../bytes.ts'

/** Web crypto asks for bytes that no other thread shares; none of ours ever are. */
export const unshared = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => bytes as Uint8Array<ArrayBuffer>

/** SHA-256 (FIPS 180-4), 32 bytes, of anything up to whole files: computed by the platform, off this thread. */
export const sha256 = async (bytes: Uint8Array): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await globalThis.crypto.subtle.digest('SHA-256', unshared(bytes)))

const BLOCK_BYTES = 64
const LENGTH_BYTES = 8

/** The first primes: the constants of SHA-256 are bits of their roots (FIPS 180-4, 4.2.2 and 5.3.3). */
const primes = (count: number): readonly number[] => {
  const found: number[] = []
  for (let number = 2; found.length < count; number += 1)
    if (found.every(prime => number % prime !== 0)) found.push(number)
  return found
}
const fractionBits = (root: number): number => ((root - Math.floor(root)) * 2 ** 32) | 0

const START = Int32Array.from(primes(8), prime => fractionBits(Math.sqrt(prime)))
const ROUND = Int32Array.from(primes(64), prime => fractionBits(Math.cbrt(prime)))

const turned = (word: number, bits: number): number => (word >>> bits) | (word << (32 - bits))

const words = new Int32Array(64)

/** Words of fixed arrays: within bounds by construction. */
const at = (array: Int32Array, index: number): number => array[index] as number

/** One block of 64 bytes (FIPS 180-4, 6.2.2). */
const takeBlock = (state: Int32Array, view: DataView, from: number): void => {
  const w = words
  for (let t = 0; t < 16; t += 1) w[t] = view.getInt32(from + t * 4)
  for (let t = 16; t < 64; t += 1) {
    const w15 = at(w, t - 15)
    const w2 = at(w, t - 2)
    const s0 = turned(w15, 7) ^ turned(w15, 18) ^ (w15 >>> 3)
    const s1 = turned(w2, 17) ^ turned(w2, 19) ^ (w2 >>> 10)
    w[t] = (at(w, t - 16) + s0 + at(w, t - 7) + s1) | 0
  }
  let a = at(state, 0)
  let b = at(state, 1)
  let c = at(state, 2)
  let d = at(state, 3)
  let e = at(state, 4)
  let f = at(state, 5)
  let g = at(state, 6)
  let h = at(state, 7)
  for (let t = 0; t < 64; t += 1) {
    const sum1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)
    const t1 = (h + sum1 + ((e & f) ^ (~e & g)) + at(ROUND, t) + at(w, t)) | 0
    const sum0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)
    const t2 = (sum0 + ((a & b) ^ (a & c) ^ (b & c))) | 0
    h = g
    g = f
    f = e
    e = (d + t1) | 0
    d = c
    c = b
    b = a
    a = (t1 + t2) | 0
  }
  state[0] = at(state, 0) + a
  state[1] = at(state, 1) + b
  state[2] = at(state, 2) + c
  state[3] = at(state, 3) + d
  state[4] = at(state, 4) + e
  state[5] = at(state, 5) + f
  state[6] = at(state, 6) + g
  state[7] = at(state, 7) + h
}

/**
 * The same for small texts, at once. Written out here because web crypto answers only after a trip to another thread: for
 * the few hundred bytes of an entry that trip takes many times as long as the sum (14-56 against 2 microseconds, measured
 * on one machine), and a merge needs thousands of them.
 */
export const sha256AtOnce = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => {
  const state = START.slice()
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const whole = bytes.length - (bytes.length % BLOCK_BYTES)
  for (let from = 0; from < whole; from += BLOCK_BYTES) takeBlock(state, view, from)

  const rest = bytes.length - whole
  const tail = new Uint8Array(rest + 1 + LENGTH_BYTES > BLOCK_BYTES ? 2 * BLOCK_BYTES : BLOCK_BYTES)
  tail.set(bytes.subarray(whole))
  tail[rest] = 0x80
  const tailView = new DataView(tail.buffer)
  tailView.setUint32(tail.length - 8, Math.floor(bytes.length / 2 ** 29))
  tailView.setUint32(tail.length - 4, (bytes.length << 3) >>> 0)
  for (let from = 0; from < tail.length; from += BLOCK_BYTES) takeBlock(state, tailView, from)

  const digest = new Uint8Array(32)
  const out = new DataView(digest.buffer)
  for (let index = 0; index < 8; index += 1) out.setInt32(index * 4, at(state, index))
  return digest
}

const ID_BYTES = 16

/** The first 16 bytes of SHA-256, as text: how entries, devices and casebooks are named. */
export const hashedId = (bytes: Uint8Array): string => toBase64Url(sha256AtOnce(bytes).subarray(0, ID_BYTES))
