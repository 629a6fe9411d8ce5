import { UnreadableBytes } from '../bytes.ts'

/** The 45 characters that a QR code writes most tightly after digits (RFC 9285, table 1). */
const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:'
const BASE = 45

const letter = (value: number): string => ALPHABET.charAt(value)

/** RFC 9285: two bytes as three characters, least first; a last byte alone as two. */
export const toBase45 = (bytes: Uint8Array): string => {
  let text = ''
  for (let at = 0; at < bytes.length; at += 2) {
    const [first, second] = [bytes[at] ?? 0, bytes[at + 1]]
    if (second === undefined) return text + letter(first % BASE) + letter(Math.floor(first / BASE))
    const value = first * 256 + second
    text += letter(value % BASE) + letter(Math.floor(value / BASE) % BASE) + letter(Math.floor(value / BASE / BASE))
  }
  return text
}

/** Throws `UnreadableBytes` on anything that `toBase45` does not write. */
export const fromBase45 = (text: string): Uint8Array => {
  const values = [...text].map(each => ALPHABET.indexOf(each))
  if (values.includes(-1) || values.length % 3 === 1) throw new UnreadableBytes('not base45 text')
  const bytes: number[] = []
  for (let at = 0; at < values.length; at += 3) {
    const [low = 0, middle = 0, high] = values.slice(at, at + 3)
    const value = low + middle * BASE + (high ?? 0) * BASE * BASE
    if (value > (high === undefined ? 255 : 65_535)) throw new UnreadableBytes('not base45 text')
    if (high === undefined) bytes.push(value)
    else bytes.push(value >> 8, value & 255)
  }
  return Uint8Array.from(bytes)
}
