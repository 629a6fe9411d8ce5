import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { photosOf } from '../../src/case/photos.ts'
import { type CaseId, type PhotoHash, photoHashSchema } from '../../src/ids.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import type { StorageFailure } from '../../sync/storage/storage.ts'
import { expectOk, foundCasebook, invite, meet, type SmallCasebook, type TestDevice } from '../support/casebooks.ts'

// Bytes stand for a photo drawn anew; what a browser makes of a camera's file is tested in a browser.
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
const sha256 = (of: Uint8Array): PhotoHash => photoHashSchema.parse(createHash('sha256').update(of).digest('base64url'))
const on = toCalendarDate('2026-11-25')
const side = bytes('seen from the side')
const sore = bytes('a sore')

const add = (casebook: SmallCasebook, caseId: CaseId, photo: Uint8Array) =>
  casebook.addPhoto(caseId, { bytes: photo, shows: 'skin', on })
const agree = async (casebook: SmallCasebook, caseId: CaseId, photoAgreed: boolean): Promise<void> => {
  const over = ((await casebook.view(caseId))?.heads.photoAgreed ?? []).map(head => head.id)
  expectOk(await casebook.save(caseId, { kind: 'save', set: { photoAgreed }, over }))
}
const takeBack = async (casebook: SmallCasebook, caseId: CaseId, ...photos: readonly Uint8Array[]): Promise<void> => {
  const photoRemoved = { hashes: photos.map(sha256), on, why: 'asked' }
  expectOk(await casebook.save(caseId, { kind: 'save', set: { photoRemoved } }))
  await casebook.settled()
}
const newCase = async (casebook: SmallCasebook, set: Readonly<Record<string, unknown>> = { photoAgreed: true }) =>
  expectOk(await casebook.addCase({ kind: 'save', set: { personName: 'Invented One', ...set } })).caseId
const listed = async (casebook: SmallCasebook, caseId: CaseId): Promise<readonly string[]> => {
  const view = await casebook.view(caseId)
  if (!view) throw new Error('no such case')
  return photosOf(view).map(({ hash }) => hash)
}
/** What lies in a store, whatever the record says of it. */
const stored = ({ memory }: TestDevice, caseId: CaseId, photo: Uint8Array) =>
  memory.open().readPhoto(caseId, sha256(photo))
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }) => result.failure?.type

/** Two devices, one case, one photo of a sore that Ana took. */
const pair = async () => {
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben')
  await meet(ana.casebook, ben.casebook)
  const caseId = await newCase(ana.casebook)
  expectOk(await add(ana.casebook, caseId, sore))
  await meet(ana.casebook, ben.casebook)
  return { ana, ben, caseId }
}
/** The bytes, as a meeting will bring them. */
const carryPhoto = async (from: TestDevice, to: TestDevice, caseId: CaseId, photo: Uint8Array): Promise<void> => {
  const carried = await from.casebook.photo(caseId, sha256(photo))
  expectOk(await to.casebook.receivePhoto(caseId, sha256(photo), carried ?? new Uint8Array()))
}

describe('a photo added to a case', () => {
  test('is named by the SHA-256 of its bytes, and is there again after a restart', async () => {
    const ana = await foundCasebook('Ana')
    const caseId = await newCase(ana.casebook)
    const added = expectOk(await add(ana.casebook, caseId, side))
    expect(added.hash).toBe(sha256(side))
    for (const { casebook } of [ana, await ana.restart()]) {
      expect(await listed(casebook, caseId)).toEqual([sha256(side)])
      expect(await casebook.photo(caseId, sha256(side))).toEqual(side)
    }
  })

  test.each([
    ['nobody asked', {}],
    ['the answer was no', { photoAgreed: false }],
  ])('is refused with nothing kept where %s; so is an entry that only names one', async (_what, set) => {
    const ana = await foundCasebook('Ana')
    const caseId = await newCase(ana.casebook, set)
    expect(typeOf(await add(ana.casebook, caseId, side))).toBe('photo-not-agreed')
    const named = { kind: 'save' as const, set: { photo: { hash: sha256(side), shows: 'skin', on } } }
    expect(typeOf(await ana.casebook.save(caseId, named))).toBe('photo-not-agreed')
    expect(typeOf(await ana.casebook.addCase(named))).toBe('photo-not-agreed')
    expect(await listed(ana.casebook, caseId)).toEqual([])
    expect(await stored(ana, caseId, side)).toBeUndefined()
  })

  test('a second time is one photo; said to show something else, it shows that', async () => {
    const ana = await foundCasebook('Ana')
    const caseId = await newCase(ana.casebook)
    const first = expectOk(await add(ana.casebook, caseId, side))
    expect(expectOk(await add(ana.casebook, caseId, side)).id).toBe(first.id)
    expectOk(await ana.casebook.addPhoto(caseId, { bytes: side, shows: 'seated-side', on }))
    const view = await ana.casebook.view(caseId)
    expect(view && photosOf(view).map(({ shows }) => shows)).toEqual(['seated-side'])
  })

  test('on a full device says so in words, and neither bytes nor entry are there', async () => {
    const ana = await foundCasebook('Ana')
    const caseId = await newCase(ana.casebook)
    const full: StorageFailure = { type: 'storage-full', message: 'Not saved: no room.' }
    ana.memory.failWrites(full)
    expect(await add(ana.casebook, caseId, side)).toEqual({ ok: false, failure: full })
    ana.memory.failWrites(null)
    expect(await listed(ana.casebook, caseId)).toEqual([])
    expect(await stored(ana, caseId, side)).toBeUndefined()
    expectOk(await add(ana.casebook, caseId, side))
  })

  test('whose entry the store does not take leaves no bytes; when it takes it, the bytes came first', async () => {
    const memory = createMemoryStorage()
    const written: string[] = []
    let full = false
    const store = memory.open()
    const ana = await foundCasebook('Ana', {
      storage: {
        ...store,
        append: async (...what) => {
          written.push('entry')
          return full ? { ok: false, failure: { type: 'storage-full', message: 'no room' } } : store.append(...what)
        },
        keepPhoto: async (...what) => {
          written.push('bytes')
          return store.keepPhoto(...what)
        },
      },
    })
    const caseId = await newCase(ana.casebook)
    written.length = 0
    full = true
    expect(typeOf(await add(ana.casebook, caseId, side))).toBe('storage-full')
    expect(await memory.open().readPhoto(caseId, sha256(side))).toBeUndefined()
    expect(await listed(ana.casebook, caseId)).toEqual([])
    full = false
    expectOk(await add(ana.casebook, caseId, side))
    expect(written).toEqual(['bytes', 'entry', 'bytes', 'entry'])
    expect(await memory.open().readPhoto(caseId, sha256(side))).toEqual(side)
  })

  test('that this version refuses in its words leaves no bytes', async () => {
    const ana = await foundCasebook('Ana')
    const caseId = await newCase(ana.casebook)
    const refused = await ana.casebook.addPhoto(caseId, { bytes: side, shows: 'tail' as 'skin', on })
    expect(typeOf(refused)).toBe('invalid-value')
    expect(await stored(ana, caseId, side)).toBeUndefined()
  })
})

describe('a photo that another device took', () => {
  test('stands in the case before its bytes come, and is shown once they came', async () => {
    const { ana, ben, caseId } = await pair()
    expect(await listed(ben.casebook, caseId)).toEqual([sha256(sore)])
    expect(await ben.casebook.photo(caseId, sha256(sore))).toBeUndefined()
    const came: unknown[] = []
    ben.casebook.subscribe(change => {
      if (change.type === 'photo-came') came.push(change)
    })
    await carryPhoto(ana, ben, caseId, sore)
    await Promise.resolve()
    expect(came).toEqual([{ type: 'photo-came', caseId, hash: sha256(sore) }])
    expect(await ben.casebook.photo(caseId, sha256(sore))).toEqual(sore)
  })

  test('is taken in only with its own bytes, and only where the case names it', async () => {
    const { ben, caseId } = await pair()
    expect(typeOf(await ben.casebook.receivePhoto(caseId, sha256(sore), bytes('another')))).toBe('wrong-hash')
    expect(typeOf(await ben.casebook.receivePhoto(caseId, sha256(side), side))).toBe('unknown-photo')
    expect(await stored(ben, caseId, sore)).toBeUndefined()
    expect(await stored(ben, caseId, side)).toBeUndefined()
  })
})

describe('a photo taken back', () => {
  test('on one device is gone from the stores of all that hear of it, and only that one', async () => {
    const { ana, ben, caseId } = await pair()
    expectOk(await add(ana.casebook, caseId, side))
    await meet(ana.casebook, ben.casebook)
    for (const photo of [sore, side]) await carryPhoto(ana, ben, caseId, photo)
    await takeBack(ben.casebook, caseId, sore)
    await meet(ana.casebook, ben.casebook)
    await ana.casebook.settled()
    for (const device of [ana, ben]) {
      expect(await listed(device.casebook, caseId)).toEqual([sha256(side)])
      expect(await device.casebook.photo(caseId, sha256(sore))).toBeUndefined()
      expect(await stored(device, caseId, sore)).toBeUndefined()
      expect(await stored(device, caseId, side)).toEqual(side)
    }
  })

  test('comes back by no adding and no sending', async () => {
    const { ana, ben, caseId } = await pair()
    await takeBack(ana.casebook, caseId, sore)
    await meet(ana.casebook, ben.casebook)
    expect(typeOf(await add(ana.casebook, caseId, sore))).toBe('photo-removed')
    expect(typeOf(await ben.casebook.receivePhoto(caseId, sha256(sore), sore))).toBe('unknown-photo')
    for (const device of [ana, ben]) expect(await stored(device, caseId, sore)).toBeUndefined()
  })

  test('from one case stays in another that has the same photo', async () => {
    const { ana, caseId } = await pair()
    const other = await newCase(ana.casebook)
    expectOk(await add(ana.casebook, other, sore))
    await takeBack(ana.casebook, caseId, sore)
    expect(await stored(ana, caseId, sore)).toBeUndefined()
    expect(await ana.casebook.photo(other, sha256(sore))).toEqual(sore)
  })

  test('while the store takes nothing is hidden at once, told as a problem, and deleted at the next start', async () => {
    const memory = createMemoryStorage()
    const store = memory.open()
    let fails = true
    const refusal: StorageFailure = { type: 'storage-failed', message: 'not deleted' }
    const ana = await foundCasebook('Ana', {
      storage: {
        ...store,
        removePhotos: async (...what) => (fails ? { ok: false, failure: refusal } : store.removePhotos(...what)),
      },
    })
    const caseId = await newCase(ana.casebook)
    expectOk(await add(ana.casebook, caseId, sore))
    await takeBack(ana.casebook, caseId, sore)
    expect(await ana.casebook.photo(caseId, sha256(sore))).toBeUndefined()
    expect(ana.casebook.problems()).toContainEqual(refusal)
    expect(await memory.open().readPhoto(caseId, sha256(sore))).toEqual(sore)
    // The case is in the list all the same.
    expect(ana.casebook.summaries().map(({ name }) => name)).toEqual(['Invented One'])
    fails = false
    const { casebook } = await ana.restart()
    casebook.refresh()
    await casebook.settled()
    expect(await memory.open().readPhoto(caseId, sha256(sore))).toBeUndefined()
    expect(casebook.problems()).toEqual([])
  })

  test('by a phone that was struck off before anybody heard of it stays: nothing is deleted on the word of a thief', async () => {
    const { ana, ben, caseId } = await pair()
    expectOk(await ana.casebook.strike(ben.key.device))
    await takeBack(ben.casebook, caseId, sore)
    await meet(ana.casebook, ben.casebook)
    await ana.casebook.settled()
    expect(await ana.casebook.photo(caseId, sha256(sore))).toEqual(sore)
  })
})

describe('agreement taken back', () => {
  test('by a merge: no photo is shown or handed on, none is deleted, and all are there when they agree again', async () => {
    const { ana, ben, caseId } = await pair()
    await agree(ben.casebook, caseId, false)
    await meet(ana.casebook, ben.casebook)
    await ana.casebook.settled()
    expect(await ana.casebook.photo(caseId, sha256(sore))).toBeUndefined()
    expect(typeOf(await ben.casebook.receivePhoto(caseId, sha256(sore), sore))).toBe('photo-not-agreed')
    expect(typeOf(await add(ana.casebook, caseId, side))).toBe('photo-not-agreed')
    expect(await stored(ana, caseId, sore)).toEqual(sore)
    expect(await listed(ana.casebook, caseId)).toEqual([sha256(sore)])
    await agree(ana.casebook, caseId, true)
    expect(await ana.casebook.photo(caseId, sha256(sore))).toEqual(sore)
  })

  test('on one phone while another says yes is a difference: hidden until a person decides', async () => {
    const { ana, ben, caseId } = await pair()
    await agree(ben.casebook, caseId, false)
    await agree(ana.casebook, caseId, true)
    await meet(ana.casebook, ben.casebook)
    const open = (await ana.casebook.view(caseId))?.differences.map(({ field }) => field)
    expect(open).toEqual(['photoAgreed'])
    expect(await ana.casebook.photo(caseId, sha256(sore))).toBeUndefined()
    expect(await stored(ana, caseId, sore)).toEqual(sore)
  })

  test('still lets all photos be taken out, in one entry', async () => {
    const { ana, caseId } = await pair()
    expectOk(await add(ana.casebook, caseId, side))
    await agree(ana.casebook, caseId, false)
    const before = (await ana.casebook.entryIds(caseId)).length
    await takeBack(ana.casebook, caseId, sore, side)
    expect(await ana.casebook.entryIds(caseId)).toHaveLength(before + 1)
    for (const photo of [sore, side]) expect(await stored(ana, caseId, photo)).toBeUndefined()
  })
})

describe('an erased case', () => {
  test('hides its photos at one word, and at two its bytes are gone from every device that hears', async () => {
    const { ana, ben, caseId } = await pair()
    await carryPhoto(ana, ben, caseId, sore)
    const other = await newCase(ana.casebook)
    expectOk(await add(ana.casebook, other, sore))
    expectOk(await ana.casebook.eraseCase(caseId))
    expect(await ana.casebook.photo(caseId, sha256(sore))).toBeUndefined()
    expect(typeOf(await add(ana.casebook, caseId, side))).toBe('hidden-case')
    expect(await stored(ana, caseId, sore)).toEqual(sore)
    expectOk(await ben.casebook.eraseCase(caseId))
    await meet(ana.casebook, ben.casebook)
    for (const device of [ana, ben]) {
      expect(device.casebook.erasures().get(caseId)?.state).toBe('erased')
      expect(await stored(device, caseId, sore)).toBeUndefined()
      expect(typeOf(await device.casebook.receivePhoto(caseId, sha256(sore), sore))).toBe('erased-case')
    }
    expect(await ana.casebook.photo(other, sha256(sore))).toEqual(sore)
  })
})
