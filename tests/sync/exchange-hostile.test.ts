import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { exchange } from '../../sync/exchange/exchange.ts'
import { decodeMessage, encodeMessage, type Message } from '../../sync/exchange/messages.ts'
import { memoryLink } from '../../sync/transport/memory.ts'
import type { Transport } from '../../sync/transport/transport.ts'
import { BareReplica, TEST_CASEBOOK, testCaseId } from '../support/bare-replica.ts'
import { runs } from '../support/seed.ts'

const nonce = (value: number): Uint8Array => new Uint8Array(16).fill(value)
const hello = (over: Partial<Extract<Message, { kind: 'hello' }>> = {}): Message => ({
  kind: 'hello',
  lowest: 1,
  highest: 1,
  casebookId: TEST_CASEBOOK,
  nonce: nonce(9),
  ...over,
})
const noHash = new Uint8Array(32)
const compare = (team: Uint8Array = noHash): Message => ({
  kind: 'compare',
  team,
  catalogue: noHash,
  caseCount: 0,
  root: noHash,
})

const filled = (cases: number): BareReplica => {
  const replica = new BareReplica()
  replica.write('team', 'founder')
  for (let index = 0; index < cases; index += 1) replica.write(testCaseId(index), `width ${index}`)
  return replica
}
const everything = (replica: BareReplica) => replica.keys().map(key => [key, replica.texts(key)])

/** Plays messages at an honest device, one after each of its answers, and gives its account and all that it said. */
const playAt = async (replica: BareReplica, messages: readonly (Message | Uint8Array)[]) => {
  const [honest, hostile] = memoryLink().ends
  const account = exchange(replica, honest, { nonce: nonce(1) })
  const said: Message[] = []
  /** The next message, where one has come or will: an honest device answers everything but a greeting and a farewell. */
  const hear = async () => {
    const bytes = await hostile.receive()
    const message = bytes && decodeMessage(bytes)
    if (message?.ok) said.push(message.value)
  }
  for (const message of messages) {
    await hostile.send(message instanceof Uint8Array ? message : encodeMessage(message))
    if (message !== messages.at(-1)) await hear()
  }
  // Every play ends the exchange, by a farewell or by what must be refused.
  await account
  hostile.close({ type: 'ended', message: 'the hostile device went away' })
  for (let left = 3; left > 0; left -= 1) await hear()
  return { account: await account, said }
}

describe('a device that is not what it should be', () => {
  test('is told by name and in words what was wrong; nothing changes and the line is closed', async () => {
    const team = filled(3).hashes().get('team')
    const caseKey = testCaseId(1)
    const offer: Message = {
      kind: 'offer',
      done: 0,
      of: 1,
      onlyLead: 0,
      onlyOther: 0,
      documents: [{ key: caseKey, stateVector: Uint8Array.of(0) }],
    }
    const refusals: Record<string, readonly (Message | Uint8Array)[]> = {
      'other-casebook': [hello({ casebookId: testCaseId('other') as unknown as typeof TEST_CASEBOOK })],
      'no-common-version': [hello({ lowest: 2, highest: 9 })],
      'own-echo': [hello({ nonce: nonce(1) })],
      'unexpected-message': [compare()],
      'unreadable-message': [hello(), Uint8Array.of(99)],
      'team-first': [hello(), offer],
    }
    refusals['team-first '] = [hello(), compare(), offer]
    refusals['team-first  '] = [hello(), compare(), { kind: 'fetch', key: caseKey, ids: [] }]
    refusals['unexpected-message '] = [hello(), compare(team), hello()]
    refusals['unexpected-message  '] = [
      hello(),
      compare(team),
      { kind: 'buckets', bits: 40, hashBytes: 8, from: 0, hashes: [new Uint8Array(8)] },
    ]
    refusals['unreadable-message '] = [hello(), new Uint8Array(0)]
    refusals['unreadable-message  '] = [
      hello(),
      compare(team),
      { ...offer, documents: [{ key: caseKey, stateVector: Uint8Array.of(7, 1) }] },
    ]
    for (const [type, messages] of Object.entries(refusals)) {
      const replica = filled(3)
      const { account, said } = await playAt(replica, messages)
      expect(account, type).toMatchObject({ status: 'refused', reason: { type: type.trim() }, entriesReceived: 0 })
      expect(said.at(-1), type).toMatchObject({ kind: 'refuse', type: type.trim() })
      expect(account.reason?.message).toMatch(/othing (here )?was (exchanged|changed)/)
      expect(everything(replica)).toEqual(everything(filled(3)))
    }
  })

  test('and one that believes that this one leads, while this one believes the reverse, end by the limit of silence', async () => {
    const { ends } = memoryLink({ endsWhenSilent: true })
    const other = spoiled(ends[1], 0, bytes => {
      // The first byte of the nonce in its hello: 255 there makes it seem the larger one.
      bytes.set([255], bytes.length - 16)
      return [bytes]
    })
    const accounts = await Promise.all([
      exchange(filled(3), ends[0], { nonce: nonce(2) }),
      exchange(filled(3), other, { nonce: nonce(1) }),
    ])
    for (const account of accounts) expect(account).toMatchObject({ status: 'broken-off', reason: { type: 'silent' } })
  })

  test('that asks without end is stopped', async () => {
    const team = filled(3).hashes().get('team')
    const { account } = await playAt(filled(3), [hello(), ...Array.from({ length: 1100 }, () => compare(team))])
    expect(account).toMatchObject({ status: 'refused', reason: { type: 'too-many-questions' } })
  })

  test('that claims a million million cases is stopped', async () => {
    const { account } = await playAt(filled(3), [
      hello({ nonce: nonce(0) }),
      { ...compare(), caseCount: 1e12 } as Message,
    ])
    expect(account).toMatchObject({ status: 'refused', reason: { type: 'too-many-cases' } })
  })

  test('that speaks a later version too, and says more in its hello, is understood', async () => {
    const later = encodeMessage(hello({ highest: 7 }))
    const { account } = await playAt(filled(3), [
      Uint8Array.of(...later, 1, 2, 3),
      { kind: 'done', leadHasEverything: true, otherHasEverything: true },
    ])
    expect(account.status).toBe('unequal')
  })

  test('cannot make this one believe that both are equal by saying so', async () => {
    const { account } = await playAt(filled(3), [
      hello(),
      compare(),
      { kind: 'done', leadHasEverything: false, otherHasEverything: false },
    ])
    expect(account).toMatchObject({ status: 'unequal', weHaveEverything: false, peerHasEverything: false })
  })

  test('that asks by name for an erased case gets nothing of it, and cannot bring it back', async () => {
    const replica = filled(3)
    const key = testCaseId(1)
    const stolen = await replica.updateSince(key, Uint8Array.of(0))
    const entries = await replica.entries(key, await replica.entryIds(key))
    replica.write('team', `erase ${key}`)
    const team = replica.hashes().get('team')
    const { account, said } = await playAt(replica, [
      hello(),
      compare(team),
      { kind: 'offer', done: 0, of: 1, onlyLead: 0, onlyOther: 0, documents: [{ key, stateVector: Uint8Array.of(0) }] },
      { kind: 'ids', key, ids: [] },
      { kind: 'give', documents: [{ key, hash: noHash, update: stolen, stateVector: new Uint8Array(), added: 0 }] },
      { kind: 'entries', key, dealt: 1, entries },
      { kind: 'done', leadHasEverything: true, otherHasEverything: true },
    ])
    expect(said.find(message => message.kind === 'give')).toMatchObject({ documents: [{ update: new Uint8Array() }] })
    expect(said.find(message => message.kind === 'ids')).toMatchObject({ ids: [] })
    expect(account.refused.map(({ type }) => type)).toEqual(['erased', 'erased'])
    expect(replica.keys()).not.toContain(key)
  })
})

/** Spoils the message with number `at` on its way out; everything else passes. */
const spoiled = (
  end: Transport,
  at: number,
  spoil: (bytes: Uint8Array, earlier: readonly Uint8Array[]) => Uint8Array[],
) => {
  const earlier: Uint8Array[] = []
  return {
    ...end,
    closed: end.closed,
    async send(bytes: Uint8Array) {
      const outgoing = earlier.length === at ? spoil(bytes.slice(), earlier) : [bytes]
      earlier.push(bytes)
      for (const message of outgoing) await end.send(message)
    },
  }
}

describe('messages spoiled on the way', () => {
  test('never throw, hang or lose anything; a clean meeting afterwards makes both equal', async () => {
    const counted: Record<string, number> = {}
    await fc.assert(
      fc.asyncProperty(
        fc.boolean(),
        fc.nat(9),
        fc.constantFrom('flip', 'cut short', 'twice', 'replay', 'noise', 'longer'),
        fc.nat(),
        fc.integer({ min: 1, max: 255 }),
        async (leadSpoils, at, how, place, change) => {
          const [a, b] = [filled(6), filled(3)]
          a.write(testCaseId(1), 'from a')
          b.write(testCaseId(1), 'from b')
          b.write(testCaseId('new'), 'only b')
          const [wantedA, wantedB] = [everything(a).flat(2), everything(b).flat(2)]
          const spoil = (bytes: Uint8Array, earlier: readonly Uint8Array[]): Uint8Array[] => {
            const index = place % Math.max(1, bytes.length)
            if (how === 'flip') bytes[index] = (bytes[index] ?? 0) ^ change
            if (how === 'cut short') return [bytes.slice(0, index)]
            if (how === 'twice') return [bytes, bytes]
            if (how === 'replay') return [earlier[place % Math.max(1, earlier.length)] ?? bytes]
            if (how === 'noise') return [Uint8Array.from(bytes, (byte, i) => byte ^ ((i * change + place) & 255))]
            if (how === 'longer') return [Uint8Array.of(...bytes, change)]
            return [bytes]
          }
          const { ends, cut } = memoryLink({ endsWhenSilent: true })
          // Who is done leaves, as a device does: after a spoiled "done" the other would wait on.
          const [one, two] = await Promise.all([
            exchange(a, leadSpoils ? spoiled(ends[0], at, spoil) : ends[0], { nonce: nonce(2) }).finally(cut),
            exchange(b, leadSpoils ? ends[1] : spoiled(ends[1], at, spoil), { nonce: nonce(1) }).finally(cut),
          ])
          for (const { status, reason } of [one, two]) {
            counted[`${status} ${reason?.type ?? ''}`] = (counted[`${status} ${reason?.type ?? ''}`] ?? 0) + 1
            if (status !== 'equal' && status !== 'unequal') expect(reason?.message).toMatch(/\w+ \w+ \w+/)
          }
          expect(everything(a).flat(2)).toEqual(expect.arrayContaining(wantedA))
          expect(everything(b).flat(2)).toEqual(expect.arrayContaining(wantedB))
          const clean = memoryLink({ endsWhenSilent: true }).ends
          const [after] = await Promise.all([exchange(a, clean[0]), exchange(b, clean[1])])
          expect(after.status).toBe('equal')
          expect(everything(a)).toEqual(everything(b))
        },
      ),
      runs(600),
    )
    expect(Object.keys(counted).length).toBeGreaterThan(5)
    console.log('spoiled meetings ended as', counted)
  })
})
