import { describe, expect, test } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import { exchange } from '../../sync/exchange/exchange.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import { STORAGE_FULL } from '../../sync/storage/storage.ts'
import { type MemoryLinkOptions, memoryLink } from '../../sync/transport/memory.ts'
import { expectOk, foundCasebook, heldBy, invite, type TestDevice, TODAY } from '../support/casebooks.ts'

const hip = (typed: number) => ({ hipWidthMm: { typed, unit: 'mm', how: 'tape' } })

const meet = async (a: TestDevice, b: TestDevice, link: MemoryLinkOptions = {}, aLeads = true) => {
  const { ends, carried } = memoryLink(link)
  const nonce = (leads: boolean) => new Uint8Array(16).fill(leads ? 2 : 1)
  const [one, two] = await Promise.all([
    exchange(a.casebook, ends[0], { nonce: nonce(aLeads) }),
    exchange(b.casebook, ends[1], { nonce: nonce(!aLeads) }),
  ])
  return { one, two, messages: carried().messages }
}

const addCase = async (
  device: TestDevice,
  set: Record<string, unknown> = { personName: 'Invented' },
): Promise<CaseId> => expectOk(await device.casebook.addCase({ kind: 'save', set })).caseId

describe('signed casebooks that meet', () => {
  test('give the same outcome on all devices, whoever met whom', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const eva = await invite(ana, 'Eva')
    const shared = await addCase(ana)
    await meet(ana, ben)
    expectOk(await ana.casebook.save(shared, { kind: 'save', set: hip(400) }))
    expectOk(await ben.casebook.save(shared, { kind: 'save', set: hip(452) }))
    const other = await addCase(eva, { personName: 'Another', ...hip(300) })
    await meet(ben, eva)
    await meet(eva, ana)
    const { one, two } = await meet(ana, ben)
    expect([one.status, two.status, one.refusedCount, two.refusedCount]).toEqual(['equal', 'equal', 0, 0])
    for (const device of [ben, eva]) {
      expect(await heldBy(device.casebook)).toEqual(await heldBy(ana.casebook))
      for (const caseId of [shared, other])
        expect(JSON.stringify(await device.casebook.outcome(caseId, TODAY))).toBe(
          JSON.stringify(await ana.casebook.outcome(caseId, TODAY)),
        )
    }
    expect((await ana.casebook.view(shared))?.differences.map(({ field }) => field)).toEqual(['hipWidthMm'])
  })

  test('what was acknowledged before a cut is in the store after a restart, at every message', async () => {
    const whole = async (link: MemoryLinkOptions) => {
      const ana = await foundCasebook('Ana')
      const ben = await invite(ana, 'Ben')
      for (let index = 0; index < 3; index += 1) await addCase(ana, hip(300 + index))
      await addCase(ben, hip(500))
      const met = await meet(ana, ben, link)
      return { ana, ben, ...met }
    }
    const { messages } = await whole({})
    expect(messages).toBeGreaterThan(8)
    for (let cutAfterMessages = 0; cutAfterMessages <= messages; cutAfterMessages += 1) {
      const { ana, ben, one, two } = await whole({ cutAfterMessages })
      const [anaAgain, benAgain] = [await ana.restart(), await ben.restart()]
      const [heldByAna, heldByBen] = [await heldBy(anaAgain.casebook), await heldBy(benAgain.casebook)]
      const count = (held: Readonly<Record<string, readonly string[]>>) => Object.values(held).flat().length
      // Both held what founding and inviting wrote; on top of it stands at least what the other one was told is there.
      expect(count(heldByBen)).toBeGreaterThanOrEqual(2 + 1 + one.entriesSent)
      expect(count(heldByAna)).toBeGreaterThanOrEqual(2 + 3 + two.entriesSent)
      if (one.peerHasEverything) expect(heldByBen).toEqual(heldByAna)
      if (two.peerHasEverything) expect(heldByAna).toEqual(heldByBen)
      expect((await meet(anaAgain, benAgain)).one.status).toBe('equal')
      expect(await heldBy(anaAgain.casebook)).toEqual(await heldBy(benAgain.casebook))
    }
  })

  test('a full store ends the meeting with its reason; nothing is acknowledged that is not stored', async () => {
    for (const fullLeads of [true, false]) {
      const ana = await foundCasebook('Ana')
      const ben = await invite(ana, 'Ben')
      await addCase(ana)
      ben.memory.failWrites(STORAGE_FULL)
      const before = await heldBy(ben.casebook)
      const { one, two } = await meet(ana, ben, {}, !fullLeads)
      expect(two).toMatchObject({ status: 'refused', reason: STORAGE_FULL, entriesReceived: 0 })
      expect(one).toMatchObject({ status: 'refused', peerHasEverything: false, entriesSent: 0 })
      expect(one.reason?.type).toBe('storage-full')
      expect(await heldBy((await ben.restart()).casebook)).toEqual(before)
      ben.memory.failWrites(null)
      expect((await meet(ana, ben)).one.status).toBe('equal')
    }
  })
})

describe('signed casebooks and what must not pass', () => {
  test('an erased case comes back by no meeting, from a device that wrote to it meanwhile or missed it all', async () => {
    for (const eraserLeads of [true, false]) {
      const ana = await foundCasebook('Ana')
      const ben = await invite(ana, 'Ben')
      const eva = await invite(ana, 'Eva')
      const [kept, erased] = [await addCase(ana), await addCase(ana)]
      await meet(ana, ben)
      await meet(ana, eva)
      expectOk(await ana.casebook.eraseCase(erased))
      // One device's word: hidden and not shared any more, but not destroyed anywhere.
      await meet(ana, ben, {}, eraserLeads)
      expect(ben.casebook.summaries().map(({ caseId }) => caseId)).toEqual([kept])
      expectOk(await ben.casebook.eraseCase(erased))
      expectOk(await eva.casebook.save(erased, { kind: 'save', set: hip(333) }))
      await meet(ben, ana, {}, eraserLeads)
      const { one, two } = await meet(ana, eva, {}, eraserLeads)
      expect([one.status, two.status]).toEqual(['equal', 'equal'])
      for (const device of [ana, ben, eva, await eva.restart()]) {
        if (device === ben) await meet(ana, ben, {}, eraserLeads)
        expect(Object.keys(await heldBy(device.casebook)).sort()).toEqual(['team', kept].sort())
      }
    }
  })

  test('a struck device’s late entries travel and are kept, and count nowhere until somebody vouches', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const lost = await invite(ana, 'Lost')
    const caseId = await addCase(ana, hip(400))
    await meet(ana, lost)
    expectOk(await ana.casebook.strike(lost.key.device))
    await meet(ana, ben)
    const { id } = expectOk(await lost.casebook.save(caseId, { kind: 'save', set: hip(555) }))
    const { two } = await meet(lost, ben)
    expect(two).toMatchObject({ status: 'equal', entriesReceived: 1, refusedCount: 0 })
    await meet(ben, ana)
    for (const device of [ana, ben]) {
      const late = (await device.casebook.record(caseId)).filter(({ notCounting }) => notCounting !== null)
      expect(late.map(({ counted }) => counted.id)).toEqual([id])
      expect((await device.casebook.view(caseId))?.values.hipWidthMm).toBe(400)
    }
    expectOk(await ana.casebook.vouch(lost.key.device, [id]))
    await meet(ben, ana)
    for (const device of [ana, ben])
      expect((await device.casebook.view(caseId))?.differences.map(({ field }) => field)).toEqual(['hipWidthMm'])
  })

  test('what a struck device handed over before the news came counts: whoever holds it vouches in the same meeting', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const lost = await invite(ana, 'Lost')
    const caseId = await addCase(ana, hip(400))
    await meet(ana, lost)
    await meet(ana, ben)
    expectOk(await lost.casebook.save(caseId, { kind: 'save', set: hip(555) }))
    await meet(lost, ben)
    expectOk(await ana.casebook.strike(lost.key.device))
    const { one } = await meet(ana, ben)
    expect(one.status).toBe('equal')
    expect(await heldBy(ben.casebook)).toEqual(await heldBy(ana.casebook))
    for (const device of [ana, ben])
      expect((await device.casebook.view(caseId))?.differences.map(({ field }) => field)).toEqual(['hipWidthMm'])
  })

  test('an entry that is not what its signer wrote is named, counted and left out, and nobody claims to have everything', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const caseId = await addCase(ana, hip(400))
    await meet(ana, ben)
    const [id] = await ben.casebook.entryIds(caseId)
    if (!id) throw new Error('no entry')
    const [good] = await ben.casebook.entries(caseId, [id])
    if (!good) throw new Error('no entry')
    const forged = good.slice()
    forged[0] = (forged[0] ?? 0) ^ 1
    const extra = 'AAAAAAAAAAAAAAAAAAAAAA' as typeof id
    const liar = Object.assign(Object.create(null), {
      casebookId: ben.casebook.casebookId,
      hashes: () => new Map(ben.casebook.hashes()).set(caseId, new Uint8Array(32).fill(7)),
      stateVector: (key: DocumentKey) => ben.casebook.stateVector(key),
      updateSince: () => Promise.resolve(Uint8Array.of(1, 2, 3)),
      entryIds: () => Promise.resolve([id, extra]),
      entries: () => Promise.resolve([forged]),
      admitUpdate: (key: DocumentKey, update: Uint8Array) => ben.casebook.admitUpdate(key, update),
      admitEntries: (key: DocumentKey, entries: readonly Uint8Array[]) => ben.casebook.admitEntries(key, entries),
    })
    const before = await heldBy(ana.casebook)
    const { ends } = memoryLink()
    const [one] = await Promise.all([
      exchange(ana.casebook, ends[0], { nonce: new Uint8Array(16).fill(2) }),
      exchange(liar, ends[1], { nonce: new Uint8Array(16).fill(1) }),
    ])
    expect(one).toMatchObject({ status: 'unequal', weHaveEverything: false, entriesReceived: 0 })
    expect(one.refused.map(({ type }) => type)).toContain('garbage')
    expect(one.refusedCount).toBeGreaterThan(1)
    expect(await heldBy(ana.casebook)).toEqual(before)
  })
})
