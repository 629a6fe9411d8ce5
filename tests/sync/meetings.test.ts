import { describe, expect, it } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { StorageUnreadable } from '../../sync/storage/storage.ts'
import { expectOk, foundCasebook, heldBy, invite } from '../support/casebooks.ts'
import { addCase, allEqual, isOver, join, NOW_MS, type Phone, phoneOf, restarted } from '../support/phones.ts'

const holdsAll =
  ({ device }: Phone, cases: readonly CaseId[]) =>
  (): boolean =>
    cases.every(caseId => device.casebook.hashes().has(caseId))

/** Ana, Ben and Cleo of one crew, each with the crew list. */
const threePhones = async (): Promise<readonly [Phone, Phone, Phone]> => {
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben')
  const cleo = await invite(ana, 'Cleo')
  return [phoneOf(ana), phoneOf(ben), phoneOf(cleo)]
}

describe('the meetings of one device', () => {
  it('exchange with whoever is taken, and tell how it stands', async () => {
    const [ana, ben] = await threePhones()
    const caseId = await addCase(ana, 'Invented')
    await join(ana, ben)
    expect(ana.meetings.devices).toMatchObject([
      { device: ben.device.key.device, sinceMs: NOW_MS, phase: 'exchanging', reason: null },
    ])
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    expect(ben.device.casebook.summaries().map(summary => summary.caseId)).toEqual([caseId])
    expect(ana.meetings.devices[0]?.account).toMatchObject({ status: 'equal', peerHasEverything: true })
    expect(await heldBy(ben.device.casebook)).toEqual(await heldBy(ana.device.casebook))
  })

  it('hand on what was just written, and what came from one to the others', async () => {
    const [ana, ben, cleo] = await threePhones()
    await join(ana, ben)
    await join(ben, cleo)
    await Promise.all([ana, ben, cleo].map(phone => phone.until(allEqual)))
    // Ana and Cleo have no line between them.
    const cases = [await addCase(ana, 'Invented'), await addCase(cleo, 'Another')]
    await Promise.all([ana, ben, cleo].map(phone => phone.until(holdsAll(phone, cases))))
    await Promise.all([ana, ben, cleo].map(phone => phone.until(allEqual)))
    expect(await heldBy(cleo.device.casebook)).toEqual(await heldBy(ana.device.casebook))
  })

  it('come to rest: what a round brought is not handed back', async () => {
    const [ana, ben] = await threePhones()
    const [channel] = await join(ana, ben)
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    const caseId = await addCase(ana, 'Invented')
    await ben.until(holdsAll(ben, [caseId]))
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    const sent = channel.sent.length
    for (let turn = 0; turn < 100; turn += 1) await Promise.resolve()
    expect(channel.sent.length).toBe(sent)
    expect(ben.meetings.devices[0]?.account?.entriesReceived).toBe(1)
  })

  it('keep one connection to a device that comes a second time: the newer, which goes on', async () => {
    const [ana, ben] = await threePhones()
    await join(ana, ben)
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    await join(ana, ben)
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    expect(ana.meetings.devices).toHaveLength(1)
    expect(ana.meetings.devices[0]?.reason).toBeNull()
    const caseId = await addCase(ben, 'Invented')
    await ana.until(holdsAll(ana, [caseId]))
  })

  it('say why a connection is over, and take the device again', async () => {
    const [ana, ben] = await threePhones()
    const [channel] = await join(ana, ben)
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    channel.close()
    await ana.until(isOver)
    expect(ana.meetings.devices[0]?.reason).toMatchObject({ type: 'cut', message: expect.stringMatching(/is kept/) })
    const caseId = await addCase(ana, 'Invented')
    await join(ana, ben)
    await ben.until(holdsAll(ben, [caseId]))
  })

  it('part from a device once it is struck off', async () => {
    const [ana, ben] = await threePhones()
    await join(ana, ben)
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    expectOk(await ana.device.casebook.strike(ben.device.key.device))
    await ana.until(isOver)
    expect(ana.meetings.devices[0]?.reason).toMatchObject({
      type: 'refused',
      message: expect.stringMatching(/struck off/),
    })
  })

  it('end all at once, and take nobody afterwards', async () => {
    const [ana, ben, cleo] = await threePhones()
    await Promise.all([join(ana, ben), join(ana, cleo)])
    await ana.until(allEqual)
    await ana.meetings.close()
    await Promise.all([ben, cleo].map(phone => phone.until(isOver)))
    await join(ana, ben)
    await ben.until(isOver)
    expect(ana.meetings.devices.map(({ phase }) => phase)).toEqual(['over', 'over'])
  })

  it('end in words when the store of this device cannot be read any more', async () => {
    let isLocked = false
    const storage = createMemoryStorage().open()
    const founder = await foundCasebook('Ana', {
      loadedLimit: 1,
      storage: {
        ...storage,
        readRows: async document => {
          if (isLocked) throw new StorageUnreadable('locked meanwhile')
          return storage.readRows(document)
        },
      },
    })
    const [ana, ben] = [phoneOf(founder), phoneOf(await invite(founder, 'Ben'))]
    const caseId = await addCase(ana, 'Invented')
    await join(ana, ben)
    await ben.until(holdsAll(ben, [caseId]))
    await Promise.all([ana.until(allEqual), ben.until(allEqual)])
    isLocked = true
    expectOk(await ben.device.casebook.save(caseId, { kind: 'save', set: { ground: 'mixed' } }))
    await ana.until(isOver)
    expect(ana.meetings.devices[0]?.reason?.message).toMatch(/store of this device/)
    await ben.until(isOver)
  })
})

const handedOn = ({ device }: Phone) => device.casebook.notHandedOn()

describe('what no other device is known to hold', () => {
  it('is everything that was written here, until a device was found to hold the same', async () => {
    const [ana, ben] = await threePhones()
    // Ana founded the casebook and invited two: three entries of the team.
    expect(await handedOn(ana)).toEqual({ entries: 3, cases: [] })
    const cases = [await addCase(ana, 'Invented'), await addCase(ana, 'Another')].sort()
    expect(await handedOn(ana)).toEqual({ entries: 5, cases })
    expect(await handedOn(ben)).toEqual({ entries: 0, cases: [] })
    await join(ana, ben)
    await ana.until(async () => (await handedOn(ana)).entries === 0)
    expect(await handedOn(ben)).toEqual({ entries: 0, cases: [] })
    expect(await heldBy(ben.device.casebook)).toEqual(await heldBy(ana.device.casebook))
  })

  it('is known after a restart, and grows with what is written then', async () => {
    const [ana, ben] = await threePhones()
    const first = await addCase(ana, 'Invented')
    await join(ana, ben)
    await ana.until(async () => (await handedOn(ana)).entries === 0)
    await ana.meetings.close()
    const later = await addCase(ana, 'Another')
    expectOk(await ana.device.casebook.save(first, { kind: 'save', set: { ground: 'mixed' } }))
    const again = await restarted(ana)
    expect(await handedOn(again)).toEqual({ entries: 2, cases: [first, later].sort() })
  })

  it('is nothing of what came from others, whoever wrote it', async () => {
    const [ana, ben, cleo] = await threePhones()
    await addCase(ana, 'Invented')
    await join(ana, ben)
    await ben.until(allEqual)
    await join(ben, cleo)
    await cleo.until(devices => allEqual(devices) && cleo.device.casebook.summaries().length === 1)
    expect(await handedOn(ben)).toEqual({ entries: 0, cases: [] })
    expect(await handedOn(cleo)).toEqual({ entries: 0, cases: [] })
  })

  it('holds the vouches that news of a strike asked for', async () => {
    const [ana, ben, cleo] = await threePhones()
    const caseId = await addCase(cleo, 'Invented')
    for (const phone of [ana, ben]) {
      const [channel] = await join(cleo, phone)
      await phone.until(devices => allEqual(devices) && phone.device.casebook.hashes().has(caseId))
      await cleo.until(async () => (await handedOn(cleo)).entries === 0)
      channel.close()
    }
    expectOk(await ana.device.casebook.strike(cleo.device.key.device))
    await Promise.all([ana.until(isOver), ben.until(isOver)])
    // Word of the strike reaches Ben by a file, so that nobody is connected to say what came of it.
    const { casebook } = ben.device
    const since = await casebook.stateVector('team')
    await casebook.admitUpdate('team', await ana.device.casebook.updateSince('team', since))
    expect(casebook.crew().members.get(cleo.device.key.device)?.struckBy).not.toBeNull()
    const own = (await casebook.record('team')).filter(({ counted }) => counted.entry.by === casebook.device)
    expect((await handedOn(ben)).entries).toBe(own.length)
  })

  it('is told again in full where a summary was lost', async () => {
    const [ana] = await threePhones()
    const caseId = await addCase(ana, 'Invented')
    ana.device.memory.damageSummary(caseId)
    expect(await handedOn(await restarted(ana))).toEqual({ entries: 4, cases: [caseId] })
  })
})

describe('the last meeting with each device', () => {
  it('is told with the day and the number of cases, and survives a restart', async () => {
    const [ana, ben] = await threePhones()
    await addCase(ana, 'Invented')
    await addCase(ben, 'Another')
    await join(ana, ben)
    const isNoted = (): boolean => ana.meetings.lastMet.size === 1
    await ana.until(isNoted)
    const told = [
      [ben.device.key.device, { device: ben.device.key.device, on: '2026-11-25', atMs: NOW_MS, caseCount: 2 }],
    ]
    expect([...ana.meetings.lastMet]).toEqual(told)
    const again = await restarted(ana)
    await again.until(() => again.meetings.lastMet.size === 1)
    expect([...again.meetings.lastMet]).toEqual(told)
  })

  it('is not told of a meeting that broke off before both held the same', async () => {
    const [ana, ben] = await threePhones()
    await addCase(ana, 'Invented')
    const [channel] = await join(ana, ben)
    channel.close()
    await ana.until(isOver)
    expect((await restarted(ana)).meetings.lastMet.size).toBe(0)
  })
})
