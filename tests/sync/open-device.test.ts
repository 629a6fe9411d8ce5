import 'fake-indexeddb/auto'
import { createPrivateKey, createPublicKey, verify } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
import { openDevice, openPractice } from '../../sync/storage/open-device.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { expectOk } from '../support/casebooks.ts'
import { optionsOn } from '../support/devices.ts'
import { failIndexedDb, freshName, rawDatabase } from '../support/sealed-stores.ts'

const PASSPHRASE = 'mill weir ford bridge reed otter'
const at = (name: string) => ({ indexedDB, name })
const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): string =>
  result.failure?.type ?? 'ok'
const keysOf = (name: string): Promise<readonly unknown[]> =>
  rawDatabase(name, ['keys', 'values'], transaction => {
    const asked = [transaction.objectStore('keys').getAll(), transaction.objectStore('values').getAll()]
    return () => asked.flatMap(request => request.result)
  })

/** Whether Node reads a private key anywhere in these bytes. */
const holdsPrivateKey = (bytes: Uint8Array): boolean => {
  for (let from = 0; from < bytes.length; from += 1)
    try {
      createPrivateKey({ key: Buffer.from(bytes.subarray(from)), format: 'der', type: 'pkcs8' })
      return true
    } catch {
      // No key begins here.
    }
  return false
}

describe('a device', () => {
  it('is new until it is set up; then its passphrase gives back the same device and its cases', async () => {
    const name = freshName()
    const fresh = expectOk(await openDevice(at(name)))
    expect(fresh.isNew).toBe(true)
    expect(typeOf(await fresh.unlock(PASSPHRASE))).toBe('not-set-up')

    const first = expectOk(await fresh.create(PASSPHRASE))
    const casebook = expectOk(await createCasebook({ ...optionsOn(first), founderName: 'Ana' }))
    const { caseId } = expectOk(await casebook.addCase(place('Low Ford')))
    first.lock()

    const again = expectOk(await openDevice(at(name)))
    expect(again.isNew).toBe(false)
    expect(typeOf(await again.unlock('not the passphrase'))).toBe('wrong-passphrase')
    const second = expectOk(await again.unlock(PASSPHRASE))
    expect(second.deviceKey.device).toBe(first.deviceKey.device)
    const opened = expectOk(await openCasebook(optionsOn(second)))
    expect((await opened.view(caseId))?.values.place).toBe('Low Ford')
    second.close()
  })

  it('signs after unlocking with the key that was made: Node alone verifies it', async () => {
    const name = freshName()
    expectOk(await expectOk(await openDevice(at(name))).create(PASSPHRASE)).close()
    const { deviceKey, close } = expectOk(await expectOk(await openDevice(at(name))).unlock(PASSPHRASE))
    const point = Buffer.from(deviceKey.publicKey, 'base64url')
    const jwk = { kty: 'EC', crv: 'P-256', x: point.toString('base64url', 1, 33), y: point.toString('base64url', 33) }
    const key = createPublicKey({ key: jwk, format: 'jwk' })
    const signature = await deviceKey.sign(Buffer.from('hips 368'))
    expect(verify('sha256', Buffer.from('hips 368'), { key, dsaEncoding: 'ieee-p1363' }, signature)).toBe(true)
    close()
  })

  it('keeps its private key sealed: nowhere on the disk is there a key in clear', async () => {
    const name = freshName()
    expectOk(await expectOk(await openDevice(at(name))).create(PASSPHRASE)).close()
    const stored = (await keysOf(name)).flatMap(value =>
      value instanceof Uint8Array ? [value] : Object.values(value as object),
    )
    const bytes = stored.filter(value => value instanceof Uint8Array)
    // Salt, wrapped data key, sealed device key.
    expect(bytes).toHaveLength(3)
    // PKCS #8 (RFC 5958) is found where it lies in clear, so that it would be found on the disk.
    const { stored: inClear } = await createDeviceKey()
    expect([inClear, ...bytes].map(holdsPrivateKey)).toEqual([true, false, false, false])
    // A CryptoKey, even an unextractable one, would be plain on a copied disk.
    expect(stored.filter(value => typeof value === 'object' && !(value instanceof Uint8Array))).toEqual([])
  })

  it('takes no passphrase that is too short, and is then still new', async () => {
    const name = freshName()
    const device = expectOk(await openDevice(at(name)))
    expect(typeOf(await device.create('short'))).toBe('short-passphrase')
    expect(expectOk(await openDevice(at(name))).isNew).toBe(true)
  })

  it('is set up once: of two tabs that do it at the same time one is told that it is done', async () => {
    const name = freshName()
    const [one, two] = [expectOk(await openDevice(at(name))), expectOk(await openDevice(at(name)))]
    const results = await Promise.all([one.create(PASSPHRASE), two.create('another passphrase')])
    expect(results.map(typeOf).toSorted()).toEqual(['already-set-up', 'ok'])
    expect(typeOf(await one.create(PASSPHRASE))).toBe('already-set-up')
    const used = results[0].ok ? PASSPHRASE : 'another passphrase'
    for (const result of results) if (result.ok) result.value.close()
    const opened = expectOk(await one.unlock(used))
    // One lock, one device key, one name of the store.
    expect(await keysOf(name)).toHaveLength(3)
    opened.close()
  })

  it('is set up whole or not at all: a full disk leaves it new', async () => {
    const name = freshName()
    const device = expectOk(await openDevice(at(name)))
    failIndexedDb({ type: 'storage-full', message: '' })
    const refused = await device.create(PASSPHRASE)
    failIndexedDb(null)
    expect(typeOf(refused)).toBe('storage-full')
    expect(expectOk(await openDevice(at(name))).isNew).toBe(true)
    expect(await keysOf(name)).toEqual([])
    expectOk(await device.create(PASSPHRASE)).close()
  })

  it('takes another passphrase only with the present one; device and cases stay', async () => {
    const name = freshName()
    const locked = expectOk(await openDevice(at(name)))
    const device = expectOk(await locked.create(PASSPHRASE))
    expect(typeOf(await device.changePassphrase('not the passphrase', 'reed otter mill'))).toBe('wrong-passphrase')
    expect(typeOf(await locked.unlock('reed otter mill'))).toBe('wrong-passphrase')
    expectOk(await device.storage.writeValue('note', new TextEncoder().encode('kept')))
    expectOk(await device.changePassphrase(PASSPHRASE, 'reed otter mill'))
    device.close()
    expect(typeOf(await locked.unlock(PASSPHRASE))).toBe('wrong-passphrase')
    const again = expectOk(await locked.unlock('reed otter mill'))
    expect(again.deviceKey.device).toBe(device.deviceKey.device)
    expect(new TextDecoder().decode(await again.storage.readValue('note'))).toBe('kept')
    again.close()
  })

  it('with a damaged device key says so and changes nothing', async () => {
    const name = freshName()
    expectOk(await expectOk(await openDevice(at(name))).create(PASSPHRASE)).close()
    await rawDatabase(name, ['values'], transaction => {
      const store = transaction.objectStore('values')
      const keys = store.getAllKeys()
      keys.onsuccess = () => store.put(new Uint8Array(300), keys.result[0])
      return () => undefined
    })
    const before = await keysOf(name)
    expect(typeOf(await expectOk(await openDevice(at(name))).unlock(PASSPHRASE))).toBe('not-a-device-key')
    expect(await keysOf(name)).toEqual(before)
  })
})

describe('practice', () => {
  it('asks for no passphrase and is there again the next time', async () => {
    const name = freshName()
    const first = expectOk(await openPractice(at(name)))
    expectOk(await first.storage.writeValue('note', new TextEncoder().encode('kept')))
    first.close()
    const again = expectOk(await openPractice(at(name)))
    expect(again.deviceKey.device).toBe(first.deviceKey.device)
    expect(new TextDecoder().decode(await again.storage.readValue('note'))).toBe('kept')
    again.close()
  })

  it('never opens real cases, and real cases are never set up in a practice store', async () => {
    const [real, practice] = [freshName(), freshName()]
    expectOk(await expectOk(await openDevice(at(real))).create(PASSPHRASE)).close()
    expect(typeOf(await openPractice(at(real)))).toBe('not-practice')
    expectOk(await openPractice(at(practice))).close()
    const asReal = expectOk(await openDevice(at(practice)))
    expect(asReal.isNew).toBe(false)
    expect(typeOf(await asReal.create(PASSPHRASE))).toBe('already-set-up')
    expect(typeOf(await asReal.unlock(PASSPHRASE))).toBe('lock-unreadable')
  })
})
