import { describe, expect, test } from 'vitest'
import * as Y from 'yjs'
import { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { STORAGE_FULL } from '../../sync/storage/storage.ts'
import { expectOk, foundCasebook, heldBy, invite, meet, TODAY } from '../support/casebooks.ts'

const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })

describe('saved means stored', () => {
  test('a full store: the save says so in words, nothing of it is here, and it can be saved again', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const before = await heldBy(ana.casebook)
    ana.memory.failWrites(STORAGE_FULL)
    const refused = await ana.casebook.save(caseId, place('Mill'))
    expect(!refused.ok && refused.failure).toMatchObject({ type: 'storage-full' })
    expect(!refused.ok && refused.failure.message).toMatch(/Not saved.*Everything saved before is safe/)
    expect(await heldBy(ana.casebook)).toEqual(before)
    expect((await ana.casebook.view(caseId))?.values.place).toBe('Low Ford')
    const newCase = await ana.casebook.addCase(place('Weir'))
    expect(newCase.ok).toBe(false)
    ana.memory.failWrites(null)
    expectOk(await ana.casebook.save(caseId, { ...place('Mill'), over: [...(await ana.casebook.entryIds(caseId))] }))
    expect((await ana.casebook.view(caseId))?.values.place).toBe('Mill')
    expect((await (await ana.restart()).casebook.view(caseId))?.values.place).toBe('Mill')
  })

  test('what comes from a peer into a full store is told as not taken, and is taken later', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    ben.memory.failWrites(STORAGE_FULL)
    const update = await ana.casebook.updateSince(caseId, await ben.casebook.stateVector(caseId))
    const report = await ben.casebook.admitUpdate(caseId, update)
    expect(report).toMatchObject({ added: [], refused: [{ type: 'storage-full' }] })
    expect(ben.casebook.hashes().has(caseId)).toBe(false)
    ben.memory.failWrites(null)
    expect(await meet(ana.casebook, ben.casebook)).toEqual([])
    expect(await heldBy(ben.casebook)).toEqual(await heldBy(ana.casebook))
  })

  test('founding in a full store founds nothing, and the next founding there starts clean', async () => {
    const ana = await foundCasebook('Ana')
    const memory = createMemoryStorage()
    memory.failWrites(STORAGE_FULL)
    const options = { ...ana.options, storage: memory.open(), founderName: 'Ana' }
    const refused = await createCasebook(options)
    expect(!refused.ok && refused.failure.type).toBe('storage-full')
    const none = await openCasebook(options)
    expect(!none.ok && none.failure.type).toBe('no-casebook')
    memory.failWrites(null)
    expectOk(await createCasebook(options))
    const again = await createCasebook(options)
    expect(!again.ok && again.failure.type).toBe('casebook-exists')
  })

  test('a store of a later version is named and left as it is', async () => {
    const ana = await foundCasebook('Ana')
    const storage = ana.memory.open()
    const value = { store: 2, casebookId: ana.casebook.casebookId, somethingNew: true }
    await storage.writeValue('casebook', new TextEncoder().encode(JSON.stringify(value)))
    const writes = ana.memory.writes()
    const refused = await openCasebook(ana.options)
    expect(!refused.ok && refused.failure.type).toBe('newer-store')
    expect(ana.memory.writes()).toBe(writes)
  })
})

describe('rows', () => {
  test('are merged from 32 on behind the saves, and everything is there afterwards and after a restart', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    for (let save = 0; save < 70; save += 1) expectOk(await ana.casebook.save(caseId, place(`Place ${save}`)))
    await ana.casebook.settled()
    expect((await ana.memory.open().readRows(caseId)).rows.length).toBeLessThan(32)
    expect(await ana.casebook.entryIds(caseId)).toHaveLength(71)
    expect(await heldBy((await ana.restart()).casebook)).toEqual(await heldBy(ana.casebook))
  })

  test('of another tab written meanwhile survive the merging', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const tab = await ana.restart()
    for (let save = 0; save < 40; save += 1) {
      expectOk(await ana.casebook.save(caseId, place(`Here ${save}`)))
      expectOk(await tab.casebook.save(caseId, place(`There ${save}`)))
    }
    await Promise.all([ana.casebook.settled(), tab.casebook.settled()])
    const after = await ana.restart()
    expect(await after.casebook.entryIds(caseId)).toHaveLength(81)
    expect((await ana.memory.open().readRows(caseId)).rows.length).toBeLessThan(64)
  })

  test('one that does not open is counted and shown, the others live, it is never merged away, and a peer heals the case', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    expectOk(await ana.casebook.save(caseId, place('Mill')))
    expectOk(await ana.casebook.save(caseId, place('Weir')))
    await meet(ana.casebook, ben.casebook)
    ana.memory.damageRow(caseId, 1)
    const again = await ana.restart()
    const places = ((await again.casebook.view(caseId))?.heads.place ?? []).map(({ value }) => value)
    expect(places.toSorted()).toEqual(['Low Ford', 'Weir'])
    expect(again.casebook.problems()).toEqual([{ type: 'unreadable-rows', document: caseId, unreadableRows: 1 }])
    for (let save = 0; save < 40; save += 1) expectOk(await again.casebook.save(caseId, place(`Place ${save}`)))
    expect((await ana.memory.open().readRows(caseId)).unreadable).toBe(1)
    expect(await meet(again.casebook, ben.casebook)).toEqual([])
    expect(await heldBy(again.casebook)).toEqual(await heldBy(ben.casebook))
    expect(await again.casebook.entryIds(caseId)).toHaveLength(43)
    expect(await heldBy((await again.restart()).casebook)).toEqual(await heldBy(ben.casebook))
  })

  test('hold bytes that Yjs alone gives back: no form of ours stands between the store and the entries', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const bare = new Y.Doc()
    for (const { bytes } of (await ana.memory.open().readRows(caseId)).rows) Y.applyUpdateV2(bare, bytes)
    const [text = ''] = [...bare.getMap('entries').values()].map(value =>
      Buffer.from((value as Uint8Array).subarray(64)).toString(),
    )
    expect(JSON.parse(text)).toMatchObject({ v: 1, case: caseId, set: { place: 'Low Ford' } })
  })
})

describe('summaries', () => {
  test('say what lists need without any row being read', async () => {
    const ana = await foundCasebook('Ana')
    expectOk(await ana.casebook.addCase({ kind: 'save', set: { personName: 'Invented One' } }))
    await ana.casebook.settled()
    const storage = ana.memory.open()
    const reads: string[] = []
    const watched = {
      ...storage,
      readRows: (key: Parameters<typeof storage.readRows>[0]) => {
        reads.push(key)
        return storage.readRows(key)
      },
    }
    const again = expectOk(await openCasebook({ ...ana.options, storage: watched }))
    expect(again.summaries()).toMatchObject([{ name: 'Invented One', open: true, entryCount: 1, on: TODAY }])
    await again.settled()
    expect(reads).toEqual(['team'])
  })

  test('of another version of the app hide no case: they are made anew from its rows', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const strange = new TextEncoder().encode(JSON.stringify({ summary: 2, document: caseId, somethingNew: true }))
    await ana.memory.open().writeSummaries(new Map([[caseId, strange]]))
    const again = await ana.restart()
    expect(again.casebook.summaries().map(one => one.caseId)).toEqual([caseId])
    expect(await heldBy(again.casebook)).toEqual(await heldBy(ana.casebook))
  })

  test('a damaged one is made anew from the rows, and the case is in the list again', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase({ kind: 'save', set: { personName: 'Invented One' } }))
    await ana.casebook.settled()
    const before = ana.casebook.hashes()
    ana.memory.damageSummary(caseId)
    ana.memory.damageSummary('team')
    const again = await ana.restart()
    await again.casebook.settled()
    expect(again.casebook.summaries()).toMatchObject([{ caseId, name: 'Invented One', entryCount: 1 }])
    expect(again.casebook.hashes()).toEqual(before)
    expect(again.casebook.crew().members.size).toBe(1)
  })

  test('at most as many documents stay open as allowed, and every case can still be read', async () => {
    const ana = await foundCasebook('Ana', { loadedLimit: 3 })
    const ids = []
    for (let index = 0; index < 12; index += 1)
      ids.push(expectOk(await ana.casebook.addCase(place(`Place ${index}`))).caseId)
    for (const [index, caseId] of ids.entries())
      expect((await ana.casebook.view(caseId))?.values.place).toBe(`Place ${index}`)
    await ana.casebook.settled()
    expect(ana.casebook.summaries()).toHaveLength(12)
  })
})
