import { createCipheriv, createDecipheriv, createHash, hkdfSync, randomBytes } from 'node:crypto'
import { deflateRawSync, inflateRawSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { deviceIdSchema } from '../../src/ids.ts'
import {
  currentSecret,
  keyFromSecret,
  readSecrets,
  renewedSecret,
  secretsOfEpoch,
  withSecret,
  wordFromSecret,
  writeSecrets,
} from '../../sync/trust/casebook-secret.ts'
import {
  casebookIdOf,
  createDeviceKey,
  deviceIdOf,
  importVerifier,
  isKeyOf,
  readDeviceKey,
} from '../../sync/trust/device-key.ts'
import { sha256 } from '../../sync/trust/digest.ts'
import { open, pack, seal, sealingKey, unpack } from '../../sync/trust/sealing.ts'
import { handKey, signatureHolds } from '../support/by-hand.ts'
import { hashedId } from '../support/case-entries.ts'

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const [ana, ben] = ['ana', 'ben'].map(name => deviceIdSchema.parse(hashedId(name)))
const random = (count: number): Uint8Array => new Uint8Array(randomBytes(count))

test('SHA-256 of "abc" is the one of FIPS 180-4 (NIST, example value of the standard)', async () => {
  expect(Buffer.from(await sha256(utf8('abc'))).toString('hex')).toBe(
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
  )
})

test('a device is named by the hash of its key, and Node (OpenSSL) accepts what it signs', async () => {
  const { deviceKey } = await createDeviceKey()
  const raw = Buffer.from(deviceKey.publicKey, 'base64url')
  expect(raw.length).toBe(65)
  expect(deviceKey.device).toBe(createHash('sha256').update(raw).digest().subarray(0, 16).toString('base64url'))
  const signature = await deviceKey.sign(utf8('outspoke entry 1\nthe text'))
  expect(signatureHolds(deviceKey.publicKey, new Uint8Array([...signature, ...utf8('the text')]))).toBe(true)
  expect(signatureHolds(deviceKey.publicKey, new Uint8Array([...signature, ...utf8('the texT')]))).toBe(false)
})

test('a key kept in the store is the same device after a restart; damaged bytes are a named failure', async () => {
  const { deviceKey, stored } = await createDeviceKey()
  const read = await readDeviceKey(stored)
  expect(read.ok && read.value.device).toBe(deviceKey.device)
  const other = await createDeviceKey()
  const mixed = new Uint8Array([...stored.slice(0, 65), ...other.stored.slice(65)])
  for (const bad of [new Uint8Array(0), stored.slice(0, 90), mixed, new Uint8Array(200).fill(7)]) {
    const refused = await readDeviceKey(bad)
    expect(!refused.ok && refused.failure.type).toBe('not-a-device-key')
  }
})

test('nobody passes with another key under a known device id, nor with bytes that are no key', async () => {
  const [one, other] = [handKey(), handKey()]
  expect(await isKeyOf(one.device, one.publicKey)).toBe(true)
  expect(await isKeyOf(one.device, other.publicKey)).toBe(false)
  expect(await isKeyOf(one.device, `${one.publicKey}A`)).toBe(false)
  expect(await isKeyOf(one.device, 'not a key!')).toBe(false)
  const offCurve = Buffer.concat([Buffer.from([4]), Buffer.alloc(64, 9)])
  expect(await importVerifier(offCurve.toString('base64url'))).toBeUndefined()
  expect(await deviceIdOf(offCurve)).toHaveLength(22)
})

test('a casebook id is the hash of its words, the founder and the random bytes', async () => {
  const { device } = handKey()
  const drawn = randomBytes(16)
  const whole = Buffer.concat([Buffer.from('casebook 1'), Buffer.from(device, 'base64url'), drawn])
  expect(await casebookIdOf(device, drawn.toString('base64url'))).toBe(
    createHash('sha256').update(whole).digest().subarray(0, 16).toString('base64url'),
  )
})

test('sealing is HKDF-SHA-256 and AES-256-GCM: Node opens what we seal, and we open what Node seals', async () => {
  const secret = random(32)
  const key = await sealingKey(secret, 'outspoke row 1')
  const nodeKey = Buffer.from(hkdfSync('sha256', secret, '', 'outspoke row 1', 32))
  const sealed = await seal(key, utf8('words'), utf8('header'))
  const decipher = createDecipheriv('aes-256-gcm', nodeKey, sealed.subarray(0, 12))
  decipher.setAAD(utf8('header'))
  decipher.setAuthTag(sealed.subarray(-16))
  expect(Buffer.concat([decipher.update(sealed.subarray(12, -16)), decipher.final()]).toString()).toBe('words')

  const iv = randomBytes(12)
  const cipher = createCipheriv('aes-256-gcm', nodeKey, iv)
  cipher.setAAD(utf8('header'))
  const theirs = Buffer.concat([iv, cipher.update('more'), cipher.final(), cipher.getAuthTag()])
  expect(await open(key, theirs, utf8('header'))).toEqual({ ok: true, value: utf8('more') })
})

test('a changed bit anywhere, another header, another purpose or another secret does not open', async () => {
  const secret = random(32)
  const key = await sealingKey(secret, 'outspoke row 1')
  const sealed = await seal(key, utf8('words'), utf8('header'))
  for (let at = 0; at < sealed.length; at += 1) {
    const changed = sealed.slice()
    changed[at] = (changed[at] ?? 0) ^ 1
    expect((await open(key, changed, utf8('header'))).ok).toBe(false)
  }
  expect((await open(key, sealed, utf8('Header'))).ok).toBe(false)
  expect((await open(key, sealed.slice(0, 20), utf8('header'))).ok).toBe(false)
  expect((await open(await sealingKey(secret, 'other'), sealed, utf8('header'))).ok).toBe(false)
  expect((await open(await sealingKey(random(32), 'outspoke row 1'), sealed, utf8('header'))).ok).toBe(false)
  expect(await seal(key, utf8('words'), utf8('header'))).not.toEqual(sealed)
})

test('packing is deflate-raw (RFC 1951) padded to 256 bytes; what is no pack is named', async () => {
  const plain = utf8('wheel '.repeat(500))
  const packed = await pack(plain)
  expect(packed.length % 256).toBe(0)
  const length = new DataView(packed.buffer).getUint32(1)
  expect(inflateRawSync(packed.subarray(5, 5 + length))).toEqual(Buffer.from(plain))
  expect(await unpack(packed)).toEqual({ ok: true, value: plain })
  expect(await unpack(await pack(new Uint8Array(0)))).toEqual({ ok: true, value: new Uint8Array(0) })

  const newer = packed.slice()
  newer[0] = 2
  const broken = packed.slice()
  broken.fill(255, 5)
  const typeOf = async (bytes: Uint8Array, limit?: number) => {
    const read = await unpack(bytes, limit)
    return read.ok ? 'opened' : read.failure.type
  }
  expect(await typeOf(newer)).toBe('newer-packing')
  expect(await typeOf(broken)).toBe('not-packed')
  expect(await typeOf(packed.slice(0, 3))).toBe('not-packed')
  expect(await typeOf(packed.slice(0, 8))).toBe('not-packed')
  const bomb = deflateRawSync(Buffer.alloc(5_000_000))
  const swelling = new Uint8Array(5 + bomb.length)
  swelling[0] = 1
  new DataView(swelling.buffer).setUint32(1, bomb.length)
  swelling.set(bomb, 5)
  expect(await typeOf(swelling, 1_000_000)).toBe('too-large')
  expect(await typeOf(swelling)).toBe('opened')
})

test('secrets grow by epochs, keep the old ones, and two strikers apart end with the same one', async () => {
  if (!ana || !ben) throw new Error('two devices are needed')
  const first = renewedSecret([], ana, random)
  expect(first.epoch).toBe(0)
  const byAna = renewedSecret([first], ana, random)
  const byBen = renewedSecret([first], ben, random)
  expect([byAna.epoch, byBen.epoch]).toEqual([1, 1])
  const atAna = withSecret(withSecret([first], byAna), byBen)
  const atBen = withSecret(withSecret(withSecret([first], byBen), byAna), byAna)
  expect(atAna).toEqual(atBen)
  expect(currentSecret(atAna)).toEqual(currentSecret(atBen))
  expect(secretsOfEpoch(atAna, 1)).toHaveLength(2)
  expect(secretsOfEpoch(atAna, 0)).toEqual([first])
  expect(secretsOfEpoch(atAna, 2)).toEqual([])
  expect(readSecrets(writeSecrets(atAna))).toEqual({ ok: true, value: atAna })
  expect(Buffer.from(first.secret, 'base64url')).toHaveLength(32)

  const key = await keyFromSecret(first, 'outspoke bundle 1')
  const sealed = await seal(key, utf8('x'), utf8(''))
  expect((await open(await keyFromSecret(first, 'outspoke bundle 1'), sealed, utf8(''))).ok).toBe(true)
  expect((await open(await keyFromSecret(byAna, 'outspoke bundle 1'), sealed, utf8(''))).ok).toBe(false)
  for (const bad of [new Uint8Array([255, 254]), utf8('{'), utf8('{"secrets":1,"kept":[{"epoch":-1}]}')]) {
    const read = readSecrets(bad)
    expect(!read.ok && read.failure.type).toBe('not-secrets')
  }
})

test('a word from a secret is the HMAC of its purpose (RFC 4231, test case 2)', async () => {
  const by = deviceIdSchema.parse('Device-of-this-test--A')
  const secret = { epoch: 0, by, secret: Buffer.from('Jefe').toString('base64url') }
  const expected = '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843'
  const word = await wordFromSecret(secret, 'what do ya want for nothing?')
  expect(Buffer.from(word, 'base64url').toString('hex')).toBe(expected)
})
