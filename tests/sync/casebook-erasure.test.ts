import { describe, expect, test } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import { expectOk, foundCasebook, heldBy, invite, meet, type TestDevice } from '../support/casebooks.ts'

const words = (place: string) => ({ kind: 'save' as const, set: { place, personName: 'Invented One' } })

/** Three devices that all hold one case of two entries, and a fourth that never hears of anything. */
const team = async () => {
  const ana = await foundCasebook('Ana')
  const [ben, cleo, deaf] = [await invite(ana, 'Ben'), await invite(ana, 'Cleo'), await invite(ana, 'Deaf')]
  await meet(ana.casebook, ben.casebook)
  const { caseId } = expectOk(await ana.casebook.addCase(words('Low Ford')))
  expectOk(await ana.casebook.save(caseId, words('Mill')))
  for (const other of [ben, cleo, deaf]) await meet(ana.casebook, other.casebook)
  return { ana, ben, cleo, deaf, caseId }
}

/** Hands a case over by every carrier there is, without the team document. */
const pressOn = async (from: TestDevice, to: TestDevice, caseId: CaseId): Promise<readonly string[]> => {
  const update = await from.casebook.updateSince(caseId, new Uint8Array([0]))
  const entries = await from.casebook.entries(caseId, await from.casebook.entryIds(caseId))
  if (entries.length === 0) throw new Error('nothing to press on')
  const reports = [await to.casebook.admitUpdate(caseId, update), await to.casebook.admitEntries(caseId, entries)]
  return reports.flatMap(({ added, refused }) => [...added, ...refused.map(({ type }) => type)])
}

describe('one word', () => {
  test('hides a case at once: not shown, not handed over, nothing taken; what is here stays in the store', async () => {
    const { ana, deaf, caseId } = await team()
    expectOk(await ana.casebook.eraseCase(caseId, 'asked'))
    expect(ana.casebook.erasures().get(caseId)).toEqual({
      reasons: ['asked'],
      state: 'hidden',
      askedBy: [ana.key.device],
    })
    expect(ana.casebook.summaries()).toEqual([])
    expect(await ana.casebook.view(caseId)).toBeUndefined()
    expect([...ana.casebook.hashes().keys()]).toEqual(['team'])
    expect(await ana.casebook.entryIds(caseId)).toEqual([])
    expect(await ana.casebook.entries(caseId, await deaf.casebook.entryIds(caseId))).toEqual([])
    expect(await ana.casebook.record(caseId)).toEqual([])
    expect(await pressOn(deaf, ana, caseId)).toEqual(['hidden-case', 'hidden-case'])
    const refused = await ana.casebook.save(caseId, words('Weir'))
    expect(!refused.ok && refused.failure.type).toBe('hidden-case')
    expect((await ana.memory.open().readRows(caseId)).rows.length).toBeGreaterThan(0)
  })

  test('said again by the same device is still one word', async () => {
    const { ana, caseId } = await team()
    expectOk(await ana.casebook.eraseCase(caseId))
    const again = await ana.restart()
    expectOk(await again.casebook.eraseCase(caseId))
    expect(again.casebook.erasures().get(caseId)?.state).toBe('hidden')
  })

  test('of a stolen phone that was struck off and that nobody heard before is none: the case is there again', async () => {
    const { ana, ben, caseId } = await team()
    expectOk(await ana.casebook.strike(ben.key.device))
    expectOk(await ben.casebook.eraseCase(caseId))
    await meet(ana.casebook, ben.casebook)
    expect(ana.casebook.erasures().size).toBe(0)
    expect((await ana.casebook.view(caseId))?.values.personName).toBe('Invented One')
  })
})

describe('hole 9: two words', () => {
  const erased = async () => {
    const all = await team()
    const { ana, ben, cleo, caseId } = all
    const putBackOldRows = ana.memory.copyRows(caseId)
    // Cleo writes one more entry that nobody has seen, at the same time.
    expectOk(await cleo.casebook.save(caseId, words('Weir')))
    expectOk(await ana.casebook.eraseCase(caseId))
    expectOk(await ben.casebook.eraseCase(caseId))
    await meet(ana.casebook, ben.casebook)
    return { ...all, putBackOldRows }
  }

  test('remove document, rows and summary whole, on every device that hears, with the concurrent entry too', async () => {
    const { ana, ben, cleo, caseId } = await erased()
    await meet(ana.casebook, cleo.casebook)
    for (const device of [ana, ben, cleo]) {
      expect(device.casebook.erasures().get(caseId)?.state).toBe('erased')
      expect(await device.memory.open().readRows(caseId)).toEqual({ rows: [], unreadable: 0 })
      const summaries: string[] = []
      await device.memory.open().readSummaries(bytes => summaries.push(new TextDecoder().decode(bytes)) > 0)
      const kept = summaries.join()
      expect(kept).not.toContain(caseId)
      expect(kept).not.toContain('Invented One')
      expect(Object.keys(await heldBy(device.casebook))).toEqual(['team'])
    }
  })

  test('the case comes back by no update, no entries, and no save, before and after a restart', async () => {
    const { ana, deaf, caseId } = await erased()
    for (const device of [ana, await ana.restart()]) {
      expect(await pressOn(deaf, device, caseId)).toEqual(['erased-case', 'erased-case'])
      const refused = await device.casebook.save(caseId, words('Weir'))
      expect(!refused.ok && refused.failure.type).toBe('erased-case')
      expect((await device.memory.open().readRows(caseId)).rows).toEqual([])
    }
  })

  test('an old stored row put back on the disk is gone after the restart, and was never shown', async () => {
    const { ana, caseId, putBackOldRows } = await erased()
    putBackOldRows()
    expect((await ana.memory.open().readRows(caseId)).rows.length).toBeGreaterThan(0)
    const again = await ana.restart()
    expect(again.casebook.summaries()).toEqual([])
    expect([...again.casebook.hashes().keys()]).toEqual(['team'])
    expect((await ana.memory.open().readRows(caseId)).rows).toEqual([])
  })

  test('stopped between hearing the second word and deleting, a device deletes at the next start; the case is neither shown nor shared', async () => {
    const { ana, ben, caseId } = await team()
    expectOk(await ben.casebook.eraseCase(caseId))
    const update = await ben.casebook.updateSince('team', await ana.casebook.stateVector('team'))
    expectOk(await ana.casebook.eraseCase(caseId))
    const putBack = ana.memory.copyRows(caseId)
    await ana.casebook.admitUpdate('team', update)
    putBack()
    expect([...ana.casebook.hashes().keys()]).toEqual(['team'])
    await ana.restart()
    expect((await ana.memory.open().readRows(caseId)).rows).toEqual([])
  })

  test('the strike of one of the two afterwards brings nothing back: whoever heard the words vouches for them', async () => {
    const { ana, ben, deaf, caseId } = await erased()
    expectOk(await ana.casebook.strike(ben.key.device))
    expect(ana.casebook.erasures().get(caseId)?.state).toBe('erased')
    expect(await pressOn(deaf, ana, caseId)).toEqual(['erased-case', 'erased-case'])
    await meet(ana.casebook, deaf.casebook)
    expect(deaf.casebook.erasures().get(caseId)?.state).toBe('erased')
    expect((await deaf.memory.open().readRows(caseId)).rows).toEqual([])
  })
})
