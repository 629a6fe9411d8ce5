import { describe, expect, it } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { StorageUnreadable } from '../../sync/storage/storage.ts'
import { Meetings, type MetDevice } from '../../sync/transport/meetings.ts'
import { expectOk, foundCasebook, heldBy, invite, type TestDevice } from '../support/casebooks.ts'
import { handTimer, keeperOf, type MemoryChannel, meetAtGate, memoryChannels } from '../support/channels.ts'

const NOW_MS = Date.parse('2026-11-25T09:00:00Z')

interface Phone {
  readonly device: TestDevice
  readonly meetings: Meetings
  /** Comes when what is told of the others is so. */
  until(isSo: (devices: readonly MetDevice[]) => boolean): Promise<void>
}

const timer = handTimer()

const phoneOf = (device: TestDevice): Phone => {
  const meetings = new Meetings({ casebook: device.casebook, timer, clock: () => NOW_MS })
  return {
    device,
    meetings,
    until: isSo =>
      new Promise(resolve => {
        const look = (): void => {
          if (!isSo(meetings.devices)) return
          stop()
          resolve()
        }
        const stop = meetings.subscribe(look)
        look()
      }),
  }
}

const addCase = async ({ device }: Phone, personName: string): Promise<CaseId> =>
  expectOk(await device.casebook.addCase({ kind: 'save', set: { personName } })).caseId

/** Lays a line between two, through the gate, and lets both meet on it. */
const join = async (one: Phone, other: Phone): Promise<readonly [MemoryChannel, MemoryChannel]> => {
  const known = () => [one.device.key.device, other.device.key.device]
  const channels = memoryChannels()
  const { casebookId } = one.device.casebook
  const keepers = [
    await keeperOf(casebookId, known, one.device.key),
    await keeperOf(casebookId, known, other.device.key),
  ] as const
  const [a, b] = await meetAtGate(channels, keepers, timer)
  one.meetings.take(expectOk(a))
  other.meetings.take(expectOk(b))
  return channels
}

const allEqual = (devices: readonly MetDevice[]): boolean => devices.every(({ phase }) => phase === 'equal')

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
    await ana.until(([met]) => met?.phase === 'over')
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
    await ana.until(([met]) => met?.phase === 'over')
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
    await Promise.all([ben, cleo].map(phone => phone.until(([met]) => met?.phase === 'over')))
    await join(ana, ben)
    await ben.until(([met]) => met?.phase === 'over')
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
    await ana.until(([met]) => met?.phase === 'over')
    expect(ana.meetings.devices[0]?.reason?.message).toMatch(/store of this device/)
    await ben.until(([met]) => met?.phase === 'over')
  })
})
