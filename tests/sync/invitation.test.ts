import { describe, expect, it } from 'vitest'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { makeBundle, readBundle } from '../../sync/transport/bundle.ts'
import type { Opened } from '../../sync/transport/gate.ts'
import { joinInvited, takeWelcome, welcome } from '../../sync/transport/invitation.ts'
import { meet } from '../../sync/transport/meeting.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { expectOk, foundCasebook, heldBy, invite, smallRules, type TestDevice, TODAY } from '../support/casebooks.ts'
import { handTimer, keeperOf, meetAtGate, memoryChannels } from '../support/channels.ts'

const newcomer = async () => {
  const memory = createMemoryStorage()
  const { deviceKey } = await createDeviceKey()
  const options = {
    storage: memory.open(),
    deviceKey,
    rules: smallRules,
    clock: () => 1_790_000_000_000,
    today: () => TODAY,
  }
  return { memory, deviceKey, options }
}
type Newcomer = Awaited<ReturnType<typeof newcomer>>

/** Behind the gate of a pairing, seen by the inviter and by the newcomer. */
const paired = async (inviter: TestDevice, { deviceKey }: Newcomer): Promise<readonly [Opened, Opened]> => {
  const keepers = [
    await keeperOf(inviter.casebook.casebookId, () => [deviceKey.device], inviter.key),
    await keeperOf(undefined, () => [inviter.key.device], deviceKey),
  ] as const
  const [a, b] = await meetAtGate(memoryChannels(), keepers)
  return [expectOk(a), expectOk(b)]
}

const meeting = (casebook: Parameters<typeof meet>[0], { transport }: Opened) => {
  const first = new Promise<string>(resolve => {
    meet(casebook, transport, { timer: handTimer(), admits: () => true, onAccount: ({ status }) => resolve(status) })
  })
  return first
}

describe('an invitation', () => {
  it('makes a newcomer one of the crew, under the name that the inviter typed, and hands over everything', async () => {
    const ana = await foundCasebook('Ana')
    expectOk(await ana.casebook.addCase({ kind: 'save', set: { personName: 'Invented' } }))
    const ben = await newcomer()
    const [here, there] = await paired(ana, ben)
    const taking = takeWelcome(there)
    expectOk(await welcome(ana.casebook, here, { name: 'Ben', role: 'therapist' }))
    const taken = expectOk(await taking)
    expect(taken).toMatchObject({ casebookId: ana.casebook.casebookId, name: 'Ben', role: 'therapist' })
    const casebook = expectOk(await joinInvited(ben.options, taken))
    expect(await Promise.all([meeting(ana.casebook, here), meeting(casebook, there)])).toEqual(['equal', 'equal'])
    expect(await heldBy(casebook)).toEqual(await heldBy(ana.casebook))
    expect(casebook.crew().members.get(ben.deviceKey.device)).toMatchObject({
      name: 'Ben',
      role: 'therapist',
      depth: 1,
    })
    expect(expectOk(await casebook.addCase({ kind: 'save', set: { personName: 'Another' } })).counts).toBe(true)
  })

  it('hands the secrets over before the first exchange, so that a bundle opens even if the line breaks then', async () => {
    const ana = await foundCasebook('Ana')
    const lost = await invite(ana, 'Lost')
    expectOk(await ana.casebook.strike(lost.key.device))
    const ben = await newcomer()
    const [here, there] = await paired(ana, ben)
    expectOk(await welcome(ana.casebook, here, { name: 'Ben', role: 'visitor' }))
    const casebook = expectOk(await joinInvited(ben.options, expectOk(await takeWelcome(there))))
    expect(casebook.secrets()).toEqual(ana.casebook.secrets())
    const secret = currentSecret(ana.casebook.secrets())
    if (!secret) throw new Error('a founder without a secret')
    expect(secret.epoch).toBe(1)
    const bundle = await makeBundle(ana.casebook, secret)
    expectOk(await readBundle(casebook.casebookId, casebook.secrets(), bundle))
  })

  it('that broke off is taken up again without a second name in the crew list', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await newcomer()
    const [first] = await paired(ana, ben)
    expectOk(await welcome(ana.casebook, first, { name: 'Ben', role: 'technician' }))
    const [here, there] = await paired(ana, ben)
    expectOk(await welcome(ana.casebook, here, { name: 'Benjamin', role: 'visitor' }))
    expect(expectOk(await takeWelcome(there))).toMatchObject({ name: 'Ben', role: 'technician' })
    expect(ana.casebook.crew().differences).toEqual([])
    expect(await ana.casebook.entryIds('team')).toHaveLength(2)
  })

  it('that cannot be written is told to the inviter, and the newcomer is told nothing', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await newcomer()
    const [here, there] = await paired(ana, ben)
    const refused = await welcome(ana.casebook, here, { name: ' ', role: 'technician' })
    expect(!refused.ok && refused.failure).toMatchObject({ type: 'invalid-value' })
    here.transport.close({ type: 'ended', message: 'not today after all' })
    const taken = await takeWelcome(there)
    expect(!taken.ok && taken.failure.type).toBe('not-invited')
    expect(ana.casebook.crew().members.size).toBe(1)
  })

  it('is not given to a device that was struck off since the gate opened: no name is added, no secret goes out', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await newcomer()
    const [here, there] = await paired(ana, ben)
    const { device, publicKey: key } = ben.deviceKey
    expectOk(await ana.casebook.addMember({ device, key, name: 'Ben', role: 'technician' }))
    expectOk(await ana.casebook.strike(device))
    const before = await heldBy(ana.casebook)
    const refused = await welcome(ana.casebook, here, { name: 'Ben', role: 'technician' })
    expect(!refused.ok && refused.failure).toMatchObject({
      type: 'not-in-crew',
      message: expect.stringMatching(/struck off/),
    })
    expect(await heldBy(ana.casebook)).toEqual(before)
    here.transport.close({ type: 'ended', message: 'not to this device' })
    const taken = await takeWelcome(there)
    expect(!taken.ok && taken.failure.type).toBe('not-invited')
  })

  it('is not given by a visitor', async () => {
    const ana = await foundCasebook('Ana')
    const guest = await invite(ana, 'Guest', 'visitor')
    const [here] = await paired(guest, await newcomer())
    const refused = await welcome(guest.casebook, here, { name: 'Ben', role: 'technician' })
    expect(!refused.ok && refused.failure.type).toBe('visitor')
  })

  it.each([
    ['nothing', ''],
    ['no JSON', '{'],
    ['another word', '{"welcome":2,"name":"Ben","role":"technician","secrets":""}'],
    ['an unknown role', '{"welcome":1,"name":"Ben","role":"king","secrets":""}'],
    ['secrets that are none', '{"welcome":1,"name":"Ben","role":"technician","secrets":"AAAA"}'],
    ['secrets that are no base64url', '{"welcome":1,"name":"Ben","role":"technician","secrets":"!"}'],
  ])('that says %s is refused in words, and nothing is kept', async (_, words) => {
    const ana = await foundCasebook('Ana')
    const ben = await newcomer()
    const [here, there] = await paired(ana, ben)
    await here.transport.send(new TextEncoder().encode(words))
    const taken = await takeWelcome(there)
    expect(!taken.ok && taken.failure.type).toBe('unreadable-welcome')
    expect((await there.transport.closed).message).toMatch(/Nothing was kept/)
    expect(await ben.options.storage.readValue('casebook')).toBeUndefined()
  })

  it('leaves a store alone that holds a casebook already', async () => {
    const ana = await foundCasebook('Ana')
    const other = await foundCasebook('Other')
    const [here, there] = await paired(ana, await newcomer())
    expectOk(await welcome(ana.casebook, here, { name: 'Ben', role: 'technician' }))
    const joined = await joinInvited(other.options, expectOk(await takeWelcome(there)))
    expect(!joined.ok && joined.failure.type).toBe('casebook-exists')
    expect((await other.restart()).casebook.casebookId).toBe(other.casebook.casebookId)
  })
})
