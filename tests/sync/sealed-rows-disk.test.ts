import 'fake-indexeddb/auto'
import { forceCloseDatabase } from 'fake-indexeddb'
import { describe, expect, it, vi } from 'vitest'
import { caseIdSchema, photoHashSchema } from '../../src/ids.ts'
import { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
import { Database } from '../../sync/storage/database.ts'
import { SealedRows } from '../../sync/storage/sealed-rows.ts'
import { StorageUnreadable } from '../../sync/storage/storage.ts'
import { expectOk } from '../support/casebooks.ts'
import { firstTab, optionsOn } from '../support/devices.ts'
import { freshName, rawDatabase, testKeys } from '../support/sealed-stores.ts'

const one = caseIdSchema.parse('Case-one-of-this-testQ')
const two = caseIdSchema.parse('Case-two-of-this-testQ')
const photo = photoHashSchema.parse('photo-of-this-test'.repeat(3).slice(0, 42).concat('A'))
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
const STORES = ['rows', 'summaries', 'values', 'photos', 'keys'] as const

const storeNamed = async (name: string) =>
  new SealedRows(expectOk(await Database.open(indexedDB, name)), await testKeys())
const newStore = async () => {
  const name = freshName()
  return { name, storage: await storeNamed(name) }
}
const rowsOf = async (storage: SealedRows, document: typeof one): Promise<readonly string[]> =>
  (await storage.readRows(document)).rows.map(row => new TextDecoder().decode(row.bytes))

/** Every key and record of a database. */
const contentsOf = (name: string): Promise<readonly unknown[]> =>
  rawDatabase(name, STORES, transaction => {
    const asked = STORES.flatMap(store => {
      const from = transaction.objectStore(store)
      return [from.getAllKeys(), from.getAll()]
    })
    return () => asked.flatMap(request => request.result)
  })

const openRaw = (name: string, version: number): Promise<IDBDatabase> =>
  new Promise((resolve, reject) => {
    const opening = indexedDB.open(name, version)
    opening.onsuccess = () => resolve(opening.result)
    opening.onerror = () => reject(opening.error)
    opening.onblocked = () => reject(new Error('blocked by another connection'))
  })

/** Every byte of what is stored, and every text, as one Latin text to look through. */
const asText = (value: unknown): string => {
  if (value instanceof Uint8Array) return Buffer.from(value).toString('latin1')
  if (typeof value === 'object' && value !== null) return Object.values(value).map(asText).join('\n')
  return String(value)
}

describe('what lies on the disk', () => {
  it('does not tell that two cases share a photo', async () => {
    const { name, storage } = await newStore()
    for (const document of [one, two]) await storage.keepPhoto(document, photo, bytes('a picture'))
    const keys = await rawDatabase(name, ['photos'], transaction => {
      const asked = transaction.objectStore('photos').getAllKeys()
      return () => asked.result
    })
    expect(keys).toHaveLength(2)
    expect(new Set(keys.flat()).size).toBe(4)
  })

  it('holds a photo that opens nowhere but in its place', async () => {
    const { name, storage } = await newStore()
    const other = photoHashSchema.parse('B'.repeat(42).concat('A'))
    await storage.keepPhoto(one, photo, bytes('a picture'))
    await storage.keepPhoto(one, other, bytes('another'))
    await rawDatabase(name, ['photos'], transaction => {
      const photos = transaction.objectStore('photos')
      const [keys, sealed] = [photos.getAllKeys(), photos.getAll()]
      sealed.onsuccess = () => {
        for (const [index, key] of keys.result.entries()) photos.put(sealed.result[1 - index], key)
      }
      return () => undefined
    })
    expect(await storage.readPhoto(one, photo)).toBeUndefined()
    expect(await storage.readPhoto(one, other)).toBeUndefined()
  })

  it('holds no id, no word, and sizes that tell little', async () => {
    const { name, storage } = await newStore()
    await storage.append(one, [bytes('Asha, hips 368'), bytes('x')], bytes('Asha in brief'))
    await storage.writeValue('casebook-secrets', bytes('a secret of the casebook'))
    await storage.keepPhoto(one, photo, bytes('a picture of Asha'))
    await storage.keepPhoto(two, photo, bytes('a picture of Asha'))
    const contents = await contentsOf(name)
    const text = contents.map(asText).join('\n')
    for (const told of [one, photo, 'picture', 'Asha', 'hips', '368', 'secret', 'casebook'])
      expect(text).not.toContain(told)

    const sealed = contents
      .map(value => (typeof value === 'object' && value !== null && 'sealed' in value ? value.sealed : value))
      .filter(value => value instanceof Uint8Array)
    // Two rows, a summary, a value and two photos: 12 bytes of iv, one block of 256, 16 of tag.
    expect(sealed.map(value => value.length)).toEqual(Array(6).fill(284))
  })

  it('gives nothing when a row is moved to another case, and counts it there', async () => {
    const { name, storage } = await newStore()
    await storage.append(one, [bytes('no known allergy')], bytes('s1'))
    await storage.append(two, [bytes('penicillin')], bytes('s2'))
    await rawDatabase(name, ['rows'], transaction => {
      const store = transaction.objectStore('rows')
      const rows = store.getAll()
      rows.onsuccess = () => store.add({ ...rows.result[0], c: rows.result[1].c })
      return () => undefined
    })
    expect(await storage.readRows(two)).toMatchObject({ unreadable: 1 })
    expect(await rowsOf(storage, two)).toEqual(['penicillin'])
  })

  it('is not taken for an empty store when the value that names the casebook is damaged: nothing is founded over it', async () => {
    const { name, device, casebook } = await firstTab()
    const { caseId } = expectOk(await casebook.addCase({ kind: 'save', set: { place: 'Low Ford' } }))
    await rawDatabase(name, ['values'], transaction => {
      const store = transaction.objectStore('values')
      const keys = store.getAllKeys()
      keys.onsuccess = () => {
        for (const key of keys.result) store.put(new Uint8Array(284), key)
      }
      return () => undefined
    })
    const founded = await createCasebook({ ...optionsOn(device), founderName: 'Ana' })
    expect(!founded.ok && founded.failure.type).toBe('casebook-exists')
    expect((await openCasebook(optionsOn(device))).ok).toBe(false)
    expect((await device.storage.readRows('team')).rows).toHaveLength(1)
    expect((await device.storage.readRows(caseId)).rows).toHaveLength(1)
    device.close()
  })

  it('opens with no other data key: everything is counted, nothing is deleted', async () => {
    const { name, storage } = await newStore()
    await storage.append(one, [bytes('a')], bytes('s'))
    const stranger = new SealedRows(expectOk(await Database.open(indexedDB, name)), await testKeys(8))
    const taken: Uint8Array[] = []
    expect(await stranger.readSummaries(summary => taken.push(summary) > 0)).toEqual([{ rows: [], unreadable: 1 }])
    expect(taken).toEqual([])
    expect(await rowsOf(storage, one)).toEqual(['a'])
  })
})

describe('a database of a later version', () => {
  it('is named, and nothing in it is changed or deleted', async () => {
    const { name, storage } = await newStore()
    await storage.append(one, [bytes('a')], bytes('s'))
    const later = await openRaw(name, 2)
    later.close()
    const before = await contentsOf(name)
    const refused = await Database.open(indexedDB, name)
    expect(!refused.ok && refused.failure.type).toBe('newer-store')
    expect(!refused.ok && refused.failure.message).toMatch(/later version.*Nothing was changed or deleted/)
    expect(await contentsOf(name)).toEqual(before)
    expect(before).toHaveLength(4)
  })

  it('that another tab brings is not kept waiting; this tab then says in words that it cannot save', async () => {
    const { name, storage } = await newStore()
    await storage.append(one, [bytes('a')], bytes('s'))
    const later = await openRaw(name, 2)
    const refused = await storage.append(one, [bytes('b')], bytes('s'))
    expect(!refused.ok && refused.failure).toMatchObject({ type: 'storage-failed' })
    expect(!refused.ok && refused.failure.message).toMatch(/^Not saved.*later version/)
    await expect(storage.readRows(one)).rejects.toThrow(StorageUnreadable)
    await expect(storage.readRows(one)).rejects.toThrow(/later version/)
    later.close()
  })
})

/** IndexedDB, and every connection it gives. */
const watchedIndexedDb = () => {
  const connections: IDBDatabase[] = []
  const watched = {
    open: (...args: Parameters<IDBFactory['open']>) => {
      const opening = indexedDB.open(...args)
      opening.addEventListener('success', () => connections.push(opening.result))
      return opening
    },
  } as IDBFactory
  return { connections, watched }
}

describe('a connection', () => {
  it('that the browser drops is made anew for the next save, and nothing is lost', async () => {
    const { connections, watched } = watchedIndexedDb()
    const storage = new SealedRows(expectOk(await Database.open(watched, freshName())), await testKeys())
    expectOk(await storage.append(one, [bytes('a')], bytes('s1')))
    const [first] = connections
    if (!first) throw new Error('nothing was opened')
    forceCloseDatabase(first as unknown as Parameters<typeof forceCloseDatabase>[0])
    expectOk(await storage.append(one, [bytes('b')], bytes('s2')))
    expect(await rowsOf(storage, one)).toEqual(['a', 'b'])
    expect(connections).toHaveLength(2)
  })

  it('that was closed without a word is noticed at the next save', async () => {
    const { connections, watched } = watchedIndexedDb()
    const storage = new SealedRows(expectOk(await Database.open(watched, freshName())), await testKeys())
    expectOk(await storage.append(one, [bytes('a')], bytes('s1')))
    // `close` fires no event at all (Indexed Database API 3.0, 4.3).
    for (const connection of connections) connection.close()
    expectOk(await storage.append(one, [bytes('b')], bytes('s2')))
    expect(await rowsOf(storage, one)).toEqual(['a', 'b'])
  })

  it('that we closed takes nothing more, in words, and what was begun is finished', async () => {
    const name = freshName()
    const { connections, watched } = watchedIndexedDb()
    const database = expectOk(await Database.open(watched, name))
    const [connection] = connections
    if (!connection) throw new Error('nothing was opened')
    const begin = vi.spyOn(connection, 'transaction')
    const begun = database.write([{ store: 'values', put: bytes('a'), key: 'a' }])
    await vi.waitFor(() => expect(begin).toHaveBeenCalled())
    database.close()
    const after = await database.write([{ store: 'values', put: bytes('b'), key: 'b' }])
    expect(!after.ok && after.failure.message).toMatch(/^Not saved.*locked.*safe/)
    expect((await begun).ok).toBe(true)
    expect(await contentsOf(name)).toEqual(['a', bytes('a')])
  })
})

describe('a browser that stores nothing', () => {
  it('is told in words', async () => {
    const none = {
      open: () => {
        // What a browser does where storage is switched off (HTML standard, origin "opaque").
        throw new DOMException('', 'SecurityError')
      },
    } as unknown as IDBFactory
    const refused = await Database.open(none, freshName())
    expect(!refused.ok && refused.failure).toMatchObject({ type: 'storage-unavailable' })
    expect(!refused.ok && refused.failure.message).toMatch(/Nothing was changed.*private browsing/)
  })

  it('in the middle of a write undoes all of it', async () => {
    const { name, storage } = await newStore()
    await storage.append(one, [bytes('a')], bytes('s1'))
    const database = expectOk(await Database.open(indexedDB, name))
    const stored = await database.write([
      { store: 'values', put: bytes('half'), key: 'half' },
      { store: 'values', add: bytes('again'), key: 'half' },
    ])
    expect(stored).toMatchObject({ ok: false, failure: { type: 'storage-failed' } })
    expect(!stored.ok && stored.failure.message).toMatch(/Not saved.*Everything saved before is safe/)
    expect((await contentsOf(name)).map(asText).join()).not.toContain('half')
    expect(await rowsOf(storage, one)).toEqual(['a'])
  })
})
