import { createDecipheriv, createHmac, hkdfSync, pbkdf2Sync } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { DataKeys } from '../../sync/trust/data-keys.ts'
import { createLock, isStrongPassphrase, rewrap, unlock } from '../../sync/trust/lock.ts'
import { expectOk } from '../support/casebooks.ts'

const PASSPHRASE = 'mill weir ford bridge reed otter'
const madeLock = async () => expectOk(await createLock(PASSPHRASE))
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): string =>
  result.failure?.type ?? 'ok'

/** Opens an AES-256-GCM seal (12 bytes of iv before it, 16 of tag behind it) with Node's own cipher. */
const openWithNode = (key: Uint8Array, sealed: Uint8Array, associated: string): Buffer => {
  const decipher = createDecipheriv('aes-256-gcm', key, sealed.subarray(0, 12))
  decipher.setAAD(Buffer.from(associated))
  decipher.setAuthTag(sealed.subarray(-16))
  return Buffer.concat([decipher.update(sealed.subarray(12, -16)), decipher.final()])
}

/** The 32 bytes inside a lock, by PBKDF2 (RFC 8018) and AES-GCM of Node alone. */
const dataKeyOf = async () => {
  const { wrapped, keys } = await madeLock()
  const wrapping = pbkdf2Sync(PASSPHRASE, wrapped.salt, wrapped.rounds, 32, 'sha256')
  return { dataKey: openWithNode(wrapping, wrapped.wrapped, 'outspoke data key 1'), keys, wrapped }
}

describe('the lock', () => {
  it('opens with its passphrase and no other, and a wrong one is told in words', async () => {
    const { wrapped, keys } = await madeLock()
    const again = expectOk(await unlock(wrapped, PASSPHRASE))
    expect(await again.nameOf('document', 'x')).toBe(await keys.nameOf('document', 'x'))
    for (const wrong of ['mill weir ford bridge reed', 'Mill weir ford bridge reed otter', '']) {
      const refused = await unlock(wrapped, wrong)
      expect(typeOf(refused)).toBe('wrong-passphrase')
      expect(!refused.ok && refused.failure.message).toMatch(/does not open.*safe.*not touched.*Try again/)
    }
  })

  // OWASP Password Storage Cheat Sheet, PBKDF2-HMAC-SHA256: 600,000 iterations. RFC 8018 asks for at least 8 bytes of salt.
  it('is 600,000 rounds of PBKDF2 over 16 bytes of salt, and holds 32 bytes: Node alone opens it', async () => {
    const { dataKey, wrapped } = await dataKeyOf()
    expect(wrapped.rounds).toBe(600_000)
    expect(wrapped.salt).toHaveLength(16)
    expect(dataKey).toHaveLength(32)
  })

  it('never makes the same key or salt twice', async () => {
    const [one, two] = [await dataKeyOf(), await dataKeyOf()]
    expect(one.dataKey.equals(two.dataKey)).toBe(false)
    expect(Buffer.from(one.wrapped.salt).equals(Buffer.from(two.wrapped.salt))).toBe(false)
  })

  it('takes the same words from another keyboard: composed letters, spaces that phones add', async () => {
    // Unicode Standard Annex 15: "e" with U+0301 and U+00E9 are the same letter.
    const { wrapped } = expectOk(await createLock('caf\u00e9 au lait'))
    expect(typeOf(await unlock(wrapped, ' cafe\u0301  au lait '))).toBe('ok')
    expect(typeOf(await unlock(wrapped, 'cafe au lait'))).toBe('wrong-passphrase')
  })

  it('refuses a passphrase of fewer than eight letters, spaces around it not counted', async () => {
    expect(typeOf(await createLock('otter12'))).toBe('short-passphrase')
    expect(typeOf(await createLock('   otter   '))).toBe('short-passphrase')
    expect(typeOf(await createLock('otter123'))).toBe('ok')
    // Eight letters outside the Basic Multilingual Plane are eight letters, not sixteen.
    expect(typeOf(await createLock('𝒜'.repeat(7)))).toBe('short-passphrase')
  })

  it('says which passphrases hold against more than a finder', () => {
    expect(isStrongPassphrase(PASSPHRASE)).toBe(true)
    expect(isStrongPassphrase('mill weir ford')).toBe(false)
  })

  it.each([
    ['nothing', undefined],
    ['another shape', { lock: 'face', salt: new Uint8Array(16) }],
    ['rounds that would keep a phone busy for hours', 1e12],
  ])('that is damaged is told as such, not as a wrong passphrase: %s', async (_what, damage) => {
    const { wrapped } = await madeLock()
    const stored = typeof damage === 'number' ? { ...wrapped, rounds: damage } : damage
    expect(typeOf(await unlock(stored, PASSPHRASE))).toBe('lock-unreadable')
  })

  it('keeps the data key when the passphrase changes; the old passphrase opens no more', async () => {
    const { wrapped, keys } = await madeLock()
    const next = expectOk(await rewrap(wrapped, PASSPHRASE, 'reed otter mill'))
    const opened = expectOk(await unlock(next, 'reed otter mill'))
    expect(await opened.nameOf('document', 'x')).toBe(await keys.nameOf('document', 'x'))
    expect(typeOf(await unlock(next, PASSPHRASE))).toBe('wrong-passphrase')
    expect(typeOf(await rewrap(wrapped, 'not the passphrase', 'reed otter mill'))).toBe('wrong-passphrase')
    expect(typeOf(await rewrap(wrapped, PASSPHRASE, 'short'))).toBe('short-passphrase')
  })
})

describe('keys of the store', () => {
  it('are HKDF (RFC 5869) of the data key: Node alone makes the names and opens a row', async () => {
    const { dataKey, keys } = await dataKeyOf()
    const derived = (info: string): Uint8Array =>
      new Uint8Array(hkdfSync('sha256', dataKey, new Uint8Array(0), info, 32))
    const name = createHmac('sha256', derived('outspoke index 1')).update('document abc').digest()
    expect(await keys.nameOf('document', 'abc')).toBe(name.subarray(0, 16).toString('base64url'))

    const sealed = await keys.seal('row', 'some name', new TextEncoder().encode('hips 368'))
    const packed = openWithNode(derived('outspoke store 1'), sealed, 'outspoke row 1some name')
    expect(packed.toString()).toContain('hips 368')
    expect(packed.length % 256).toBe(0)
  })

  it('open a thing only as what it is and where it lies', async () => {
    const { keys } = await madeLock()
    const plain = new TextEncoder().encode('hips 368')
    const sealed = await keys.seal('row', 'one', plain)
    expect(await keys.open('row', 'one', sealed)).toEqual(plain)
    expect(await keys.open('row', 'two', sealed)).toBeUndefined()
    expect(await keys.open('summary', 'one', sealed)).toBeUndefined()
    expect(await (await madeLock()).keys.open('row', 'one', sealed)).toBeUndefined()
  })

  it.each([0, 1, 4095, 4096, 100_000])('give back %i bytes as they were, of a size that tells little', async length => {
    const keys = await DataKeys.from(new Uint8Array(32).fill(3))
    const plain = Uint8Array.from({ length }, (_, index) => (index * 7919) % 251)
    const sealed = await keys.seal('photo', 'one', plain)
    expect(await keys.open('photo', 'one', sealed)).toEqual(plain)
    expect((sealed.length - 12 - 16) % 256).toBe(0)
  })
})
