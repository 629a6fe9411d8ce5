import { createHash } from 'node:crypto'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { hashedId, sha256, sha256AtOnce } from '../../sync/trust/digest.ts'
import { runs } from '../support/seed.ts'

const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')

test.each([
  ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
])(
  'SHA-256 of "%s" is the example value of FIPS 180-4 (NIST, Secure Hash Standard examples)',
  async (text, expected) => {
    expect(hex(sha256AtOnce(Buffer.from(text)))).toBe(expected)
    expect(hex(await sha256(Buffer.from(text)))).toBe(expected)
  },
)

test('every length around the edges of a block, and any bytes, hash as OpenSSL hashes them', () => {
  for (let length = 0; length <= 260; length += 1) {
    const bytes = new Uint8Array(length).map((_, at) => (at * 37 + length) % 256)
    expect(hex(sha256AtOnce(bytes))).toBe(createHash('sha256').update(bytes).digest('hex'))
  }
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 3_000, size: 'max' }), fc.nat(5), (bytes, offset) => {
      const part = bytes.subarray(Math.min(offset, bytes.length))
      expect(hex(sha256AtOnce(part))).toBe(createHash('sha256').update(part).digest('hex'))
      expect(hashedId(part)).toBe(createHash('sha256').update(part).digest().subarray(0, 16).toString('base64url'))
    }),
    runs(300),
  )
})
