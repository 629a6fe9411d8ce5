import { toBase64Url } from '../bytes.ts'

/** Web crypto asks for bytes that no other thread shares; none of ours ever are. */
export const unshared = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => bytes as Uint8Array<ArrayBuffer>

/** SHA-256 (FIPS 180-4), 32 bytes. */
export const sha256 = async (bytes: Uint8Array): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await globalThis.crypto.subtle.digest('SHA-256', unshared(bytes)))

const ID_BYTES = 16

/** The first 16 bytes of SHA-256, as text: how entries, devices and casebooks are named. */
export const hashedId = async (bytes: Uint8Array): Promise<string> =>
  toBase64Url((await sha256(bytes)).subarray(0, ID_BYTES))
