import { describe, expect, test } from 'vitest'
import { type CaseId, caseIdSchema, type PhotoHash, photoHashSchema } from '../../src/ids.ts'
import type { CasebookStorage, StorageFailure } from '../../sync/storage/storage.ts'

/** A store under test and what a test does to it from outside. */
export interface StorageHarness {
  readonly storage: CasebookStorage
  /** The same store opened again, as after a restart. */
  reopen(): Promise<CasebookStorage>
  failWrites(reason: StorageFailure | null): void
  damageRow(document: CaseId, position: number): Promise<void>
  damageSummary(document: CaseId): Promise<void>
}

const FULL: StorageFailure = { type: 'storage-full', message: 'no room' }
const one: CaseId = caseIdSchema.parse('Case-one-of-this-testQ')
const two: CaseId = caseIdSchema.parse('Case-two-of-this-testQ')
const photo = (letter: string): PhotoHash => photoHashSchema.parse(letter.repeat(42).concat('A'))
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
const text = (value: Uint8Array | undefined): string | undefined => value && new TextDecoder().decode(value)
const done = { ok: true, value: undefined }

const rowsOf = async (storage: CasebookStorage, document: CaseId): Promise<readonly string[]> =>
  (await storage.readRows(document)).rows.map(row => new TextDecoder().decode(row.bytes))
const summariesOf = async (storage: CasebookStorage): Promise<readonly string[]> => {
  const found: string[] = []
  await storage.readSummaries(summary => found.push(new TextDecoder().decode(summary)) > 0)
  return found.sort()
}
/** Rows of the documents whose summary is missing, does not open, or is this one, which nobody takes. */
const rowsWithoutSummary = async (storage: CasebookStorage, notTaken?: string) => {
  const found = await storage.readSummaries(summary => text(summary) !== notTaken)
  return found.map(stored => stored.rows.map(row => text(row.bytes)))
}

/** What every store of a casebook must do. Run it on each adapter. */
export const storageContract = (name: string, makeHarness: () => Promise<StorageHarness>): void => {
  describe(`${name} as a store of casebooks`, () => {
    test('rows come back in the order of writing, with the summary of the last write, after a restart too', async () => {
      const { storage, reopen } = await makeHarness()
      expect(await storage.append(one, [bytes('a')], bytes('one: 1'))).toEqual(done)
      expect(await storage.append(two, [bytes('x')], bytes('two: 1'))).toEqual(done)
      expect(await storage.append(one, [bytes('b'), bytes('c')], bytes('one: 3'))).toEqual(done)
      for (const store of [storage, await reopen()]) {
        expect(await rowsOf(store, one)).toEqual(['a', 'b', 'c'])
        expect(await rowsOf(store, two)).toEqual(['x'])
        expect(await summariesOf(store)).toEqual(['one: 3', 'two: 1'])
      }
    })

    test('a document never written has no rows, a value never written is undefined', async () => {
      const { storage } = await makeHarness()
      expect(await storage.readRows(one)).toEqual({ rows: [], unreadable: 0 })
      expect(await storage.readValue('secret')).toBeUndefined()
      expect(await summariesOf(storage)).toEqual([])
    })

    test('bytes kept are copies: changing what was handed in or out changes nothing stored', async () => {
      const { storage } = await makeHarness()
      const mine = bytes('a')
      await storage.append(one, [mine], bytes('s'))
      mine.fill(0)
      const [row] = (await storage.readRows(one)).rows
      row?.bytes.fill(0)
      expect(await rowsOf(storage, one)).toEqual(['a'])
    })

    test('compaction deletes exactly the rows it names and keeps what another tab added meanwhile', async () => {
      const { storage, reopen } = await makeHarness()
      await storage.append(one, [bytes('a'), bytes('b')], bytes('s1'))
      const read = await storage.readRows(one)
      const otherTab = await reopen()
      await otherTab.append(one, [bytes('c')], bytes('s2'))
      const keys = read.rows.map(row => row.key)
      expect(await storage.compact(one, bytes('a+b'), keys, bytes('s3'))).toEqual(done)
      expect((await rowsOf(await reopen(), one)).toSorted()).toEqual(['a+b', 'c'])
      expect(await summariesOf(storage)).toEqual(['s3'])
    })

    test('keys of rows are never used again, so an old compaction cannot hit a new row', async () => {
      const { storage } = await makeHarness()
      await storage.append(one, [bytes('a')], bytes('s'))
      const [first] = (await storage.readRows(one)).rows
      await storage.compact(one, bytes('b'), first ? [first.key] : [], bytes('s'))
      await storage.compact(one, bytes('c'), first ? [first.key] : [], bytes('s'))
      expect((await rowsOf(storage, one)).toSorted()).toEqual(['b', 'c'])
    })

    test('a damaged row is counted and kept; its neighbours live, and compaction leaves it where it is', async () => {
      const { storage, damageRow, reopen } = await makeHarness()
      await storage.append(one, [bytes('a'), bytes('b'), bytes('c')], bytes('s'))
      await damageRow(one, 1)
      const read = await storage.readRows(one)
      expect(read.unreadable).toBe(1)
      expect(await rowsOf(storage, one)).toEqual(['a', 'c'])
      await storage.compact(
        one,
        bytes('a+c'),
        read.rows.map(row => row.key),
        bytes('s'),
      )
      expect((await (await reopen()).readRows(one)).unreadable).toBe(1)
      expect(await rowsOf(storage, one)).toEqual(['a+c'])
    })

    test('a document whose summary is damaged, or not taken, is found by its rows', async () => {
      const { storage, damageSummary } = await makeHarness()
      await storage.append(one, [bytes('a')], bytes('s1'))
      await storage.append(two, [bytes('x')], bytes('s2'))
      await damageSummary(one)
      expect(await summariesOf(storage)).toEqual(['s2'])
      expect(await rowsWithoutSummary(storage)).toEqual([['a']])
      expect((await rowsWithoutSummary(storage, 's2')).sort()).toEqual([['a'], ['x']])
    })

    test('a full store says so as a result, and nothing of the write is there: no row, no summary, no value', async () => {
      const { storage, failWrites, reopen } = await makeHarness()
      await storage.append(one, [bytes('a')], bytes('s1'))
      await storage.writeValue('secret', bytes('old'))
      await storage.keepPhoto(one, photo('a'), bytes('kept'))
      const [row] = (await storage.readRows(one)).rows
      failWrites(FULL)
      const refused = [
        await storage.append(one, [bytes('b')], bytes('s2')),
        await storage.compact(one, bytes('b'), row ? [row.key] : [], bytes('s2')),
        await storage.writeSummaries(new Map([[one, bytes('s2')]])),
        await storage.writeValue('secret', bytes('new')),
        await storage.keepPhoto(one, photo('b'), bytes('new')),
        await storage.removePhotos(one, [photo('a')]),
        await storage.remove(one),
      ]
      expect(refused.map(result => !result.ok && result.failure.type)).toEqual(Array(7).fill('storage-full'))
      for (const store of [storage, await reopen()]) {
        expect(text(await store.readPhoto(one, photo('a')))).toBe('kept')
        expect(await store.readPhoto(one, photo('b'))).toBeUndefined()
        expect(await rowsOf(store, one)).toEqual(['a'])
        expect(await summariesOf(store)).toEqual(['s1'])
        expect(text(await store.readValue('secret'))).toBe('old')
      }
      failWrites(null)
      expect(await storage.append(one, [bytes('b')], bytes('s2'))).toEqual(done)
    })

    test('summaries are replaced without touching rows', async () => {
      const { storage } = await makeHarness()
      await storage.append(one, [bytes('a')], bytes('s1'))
      await storage.append(two, [bytes('x')], bytes('t1'))
      await storage.writeSummaries(
        new Map([
          [one, bytes('s2')],
          [two, bytes('t2')],
        ]),
      )
      expect(await summariesOf(storage)).toEqual(['s2', 't2'])
      expect(await rowsOf(storage, one)).toEqual(['a'])
    })

    test('a removed document is gone whole, damaged rows and summary too, and the others stay', async () => {
      const { storage, damageRow, reopen } = await makeHarness()
      await storage.append(one, [bytes('a'), bytes('b')], bytes('s1'))
      await storage.append(two, [bytes('x')], bytes('s2'))
      await damageRow(one, 0)
      expect(await storage.remove(one)).toEqual(done)
      for (const store of [storage, await reopen()]) {
        expect(await store.readRows(one)).toEqual({ rows: [], unreadable: 0 })
        expect(await rowsWithoutSummary(store)).toEqual([])
        expect(await summariesOf(store)).toEqual(['s2'])
      }
    })

    test('photos come back by case and hash, after a restart too, as copies', async () => {
      const { storage, reopen } = await makeHarness()
      const mine = bytes('seen from the side')
      expect(await storage.keepPhoto(one, photo('a'), mine)).toEqual(done)
      mine.fill(0)
      ;(await storage.readPhoto(one, photo('a')))?.fill(0)
      expect(await storage.keepPhoto(one, photo('b'), bytes('seen from behind'))).toEqual(done)
      for (const store of [storage, await reopen()]) {
        expect(text(await store.readPhoto(one, photo('a')))).toBe('seen from the side')
        expect(text(await store.readPhoto(one, photo('b')))).toBe('seen from behind')
        expect(await store.readPhoto(one, photo('c'))).toBeUndefined()
        expect(await store.readPhoto(two, photo('a'))).toBeUndefined()
      }
    })

    test('the same photo in two cases is kept for each: out of one, it stays in the other', async () => {
      const { storage, reopen } = await makeHarness()
      for (const document of [one, two])
        for (const name of ['a', 'b']) await storage.keepPhoto(document, photo(name), bytes(name))
      expect(await storage.removePhotos(one, [photo('a'), photo('c')])).toEqual(done)
      for (const store of [storage, await reopen()]) {
        expect(await store.readPhoto(one, photo('a'))).toBeUndefined()
        expect(text(await store.readPhoto(one, photo('b')))).toBe('b')
        expect(text(await store.readPhoto(two, photo('a')))).toBe('a')
      }
    })

    test('with a removed document go its photos, all of them and no others', async () => {
      const { storage, reopen } = await makeHarness()
      await storage.append(one, [bytes('a')], bytes('s1'))
      for (const document of [one, two])
        for (const name of ['a', 'b']) await storage.keepPhoto(document, photo(name), bytes(name))
      expect(await storage.remove(one)).toEqual(done)
      for (const store of [storage, await reopen()]) {
        expect(await store.readPhoto(one, photo('a'))).toBeUndefined()
        expect(await store.readPhoto(one, photo('b'))).toBeUndefined()
        expect(text(await store.readPhoto(two, photo('a')))).toBe('a')
        expect(text(await store.readPhoto(two, photo('b')))).toBe('b')
      }
    })

    test('named values are replaced and survive a restart', async () => {
      const { storage, reopen } = await makeHarness()
      await storage.writeValue('secret', bytes('one'))
      await storage.writeValue('secret', bytes('two'))
      expect(text(await (await reopen()).readValue('secret'))).toBe('two')
    })
  })
}
