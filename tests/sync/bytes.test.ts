import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ByteReader, ByteWriter, fromBase64Url, toBase64Url, UnreadableBytes } from '../../sync/bytes.ts'
import { runs } from '../support/seed.ts'

describe('bytes written and read', () => {
  test('unsigned numbers stand as in the LEB128 examples', () => {
    // DWARF Debugging Information Format, version 4, 2010, figure 22, unsigned LEB128 (from memory).
    const published: readonly (readonly [number, readonly number[]])[] = [
      [2, [2]],
      [127, [127]],
      [128, [0x80, 1]],
      [129, [0x81, 1]],
      [12857, [0xb9, 0x64]],
    ]
    for (const [value, bytes] of published) {
      expect([...new ByteWriter().number(value).done()]).toEqual(bytes)
      expect(new ByteReader(Uint8Array.from(bytes)).number()).toBe(value)
    }
  })

  test('base64url stands as in the published test vectors', () => {
    // RFC 4648, 2006, section 10 (padding left off) and section 5 for the two letters that differ.
    const published = { '': '', f: 'Zg', fo: 'Zm8', foo: 'Zm9v', foob: 'Zm9vYg', fooba: 'Zm9vYmE', foobar: 'Zm9vYmFy' }
    for (const [plain, text] of Object.entries(published)) {
      expect(toBase64Url(new TextEncoder().encode(plain))).toBe(text)
      expect(new TextDecoder().decode(fromBase64Url(text))).toBe(plain)
    }
    expect(toBase64Url(Uint8Array.of(0xfb, 0xff))).toBe('-_8')
    expect(() => fromBase64Url('a+b/')).toThrow(UnreadableBytes)
    expect(() => fromBase64Url('a')).toThrow(UnreadableBytes)
  })

  test("base64url is read as Node's own decoder reads it, and any other letter is refused", () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 100 }),
        fc.nat(99),
        fc.string({ unit: 'binary', minLength: 1, maxLength: 1 }),
        (bytes, at, other) => {
          const text = Buffer.from(bytes).toString('base64url')
          expect(fromBase64Url(text)).toEqual(new Uint8Array(Buffer.from(text, 'base64url')))
          expect(toBase64Url(bytes)).toBe(text)
          if (text === '' || /[A-Za-z0-9_-]/.test(other)) return
          const place = at % text.length
          expect(() => fromBase64Url(text.slice(0, place) + other + text.slice(place + 1))).toThrow(UnreadableBytes)
        },
      ),
      runs(300),
    )
    for (const text of ['Zm8=', 'Zm9\u0100', 'Zm9v Zm9v', 'Zm9vZ'])
      expect(() => fromBase64Url(text)).toThrow(UnreadableBytes)
  })

  test('whatever was written is read back, and nothing may follow it', () => {
    fc.assert(
      fc.property(
        fc.nat(Number.MAX_SAFE_INTEGER),
        fc.uint8Array({ maxLength: 700 }),
        fc.string({ unit: 'grapheme' }),
        (number, piece, text) => {
          const reader = new ByteReader(new ByteWriter().number(number).piece(piece).text(text).fixed(piece).done())
          expect([reader.number(), reader.piece(), reader.text(10_000)]).toEqual([number, piece, text])
          expect(reader.fixed(piece.length)).toEqual(piece)
          reader.end()
        },
      ),
      runs(100),
    )
  })

  test('bytes that end too early, say too much or are not text are refused, never read beyond', () => {
    const refused: readonly ((reader: ByteReader) => unknown)[] = [
      reader => reader.number(),
      reader => reader.piece(),
      reader => reader.fixed(4),
      reader => reader.text(100),
      reader => reader.count(1),
    ]
    for (const read of refused) expect(() => read(new ByteReader(Uint8Array.of(0x80)))).toThrow(UnreadableBytes)
    expect(() => new ByteReader(Uint8Array.of(5, 1, 2)).piece()).toThrow(/ends inside/)
    expect(() => new ByteReader(Uint8Array.of(3, 0, 0)).count(1)).toThrow(/no room/)
    expect(() => new ByteReader(Uint8Array.of(2, 0xc3, 0x28)).text(100)).toThrow(/UTF-8/)
    expect(() => new ByteReader(Uint8Array.of(3, 65, 65, 65)).text(2)).toThrow(/over 2/)
    expect(() => new ByteReader(new Uint8Array(20).fill(0x80)).number()).toThrow(/too large/)
    expect(() => new ByteReader(Uint8Array.of(1)).end()).toThrow(/1 bytes too many/)
  })
})
