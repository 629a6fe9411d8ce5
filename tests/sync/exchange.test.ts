import { describe, expect, test } from 'vitest'
import { type ExchangeOptions, exchange } from '../../sync/exchange/exchange.ts'
import { type MemoryLinkOptions, memoryLink } from '../../sync/transport/memory.ts'
import { BareReplica, testCaseId } from '../support/bare-replica.ts'

const nonce = (value: number): Uint8Array => new Uint8Array(16).fill(value)

/** Two devices meet. The first one leads. */
const meet = async (a: BareReplica, b: BareReplica, link: MemoryLinkOptions = {}, options: ExchangeOptions = {}) => {
  const { ends, carried } = memoryLink(link)
  const [one, two] = await Promise.all([
    exchange(a, ends[0], { nonce: nonce(2), ...options }),
    exchange(b, ends[1], { nonce: nonce(1) }),
  ])
  return { one, two, carried: carried() }
}

const everything = (replica: BareReplica) => replica.keys().map(key => [key, replica.texts(key)])

const filled = (cases: number): BareReplica => {
  const replica = new BareReplica()
  replica.write('team', 'founder')
  replica.write('catalogue', 'chair')
  for (let index = 0; index < cases; index += 1) {
    replica.write(testCaseId(index), `name ${index}`)
    replica.write(testCaseId(index), `width ${index}`)
  }
  return replica
}

describe('two devices that meet', () => {
  test('have the same entries afterwards, whoever had them before', async () => {
    const a = filled(30)
    const b = new BareReplica()
    await meet(a, b)
    a.write(testCaseId(3), 'measured by a')
    b.write(testCaseId(3), 'measured by b')
    b.write(testCaseId('new'), 'only at b')
    a.write('team', 'a second device')
    const { one, two } = await meet(a, b)
    expect(everything(a)).toEqual(everything(b))
    expect(a.texts(testCaseId(3))).toEqual(['measured by a', 'measured by b', 'name 3', 'width 3'])
    expect(one).toMatchObject({ status: 'equal', weHaveEverything: true, peerHasEverything: true })
    expect(two).toMatchObject({ status: 'equal', weHaveEverything: true, peerHasEverything: true })
    expect([one.entriesReceived, one.entriesSent]).toEqual([2, 2])
    expect([two.entriesReceived, two.entriesSent]).toEqual([2, 2])
    expect([...one.changed].sort()).toEqual([testCaseId(3), testCaseId('new')].sort())
    expect([...two.changed].sort()).toEqual(['team', testCaseId(3)].sort())
  })

  test('say so in five short messages when nothing differs', async () => {
    const a = filled(200)
    const b = new BareReplica()
    await meet(a, b)
    const { one, two, carried } = await meet(a, b)
    expect([one.status, two.status]).toEqual(['equal', 'equal'])
    expect(carried.messages).toBe(5)
    expect(carried.bytes).toBeLessThan(400)
  })

  test('count the same messages and bytes as the line carried', async () => {
    const { one, two, carried } = await meet(filled(50), new BareReplica())
    expect(one.messagesSent + two.messagesSent).toBe(carried.messages)
    expect(one.bytesSent + two.bytesSent).toBe(carried.bytes)
    expect([one.messagesReceived, one.bytesReceived]).toEqual([two.messagesSent, two.bytesSent])
  })

  test('heal a document in which two devices wrote under one client number', async () => {
    const [a, b] = [new BareReplica(), new BareReplica()]
    const key = testCaseId('clash')
    a.pinClient(key, 7)
    b.pinClient(key, 7)
    a.write(key, 'written by a')
    b.write(key, 'written by b')
    const { one, two } = await meet(a, b)
    expect([one.status, two.status]).toEqual(['equal', 'equal'])
    expect(a.texts(key)).toEqual(['written by a', 'written by b'])
    expect(b.texts(key)).toEqual(a.texts(key))
  })

  test('hand over a document that is too large for one update, entry by entry', async () => {
    const a = new BareReplica()
    for (let index = 0; index < 150; index += 1) a.write('team', `${index} `.padEnd(15_000, String(index % 7)))
    for (const [first, second] of [
      [a, new BareReplica()],
      [new BareReplica(), a],
    ] as const) {
      const { one } = await meet(first, second)
      expect(one.status).toBe('equal')
      expect(everything(first)).toEqual(everything(second))
      expect(first.texts('team')).toHaveLength(150)
    }
  })

  test('tell how far they are, up to all of what differs', async () => {
    const seen: { done: number; of: number }[] = []
    await meet(filled(900), new BareReplica(), {}, { onProgress: progress => seen.push(progress) })
    expect(seen.at(-1)).toMatchObject({ done: 902, of: 902 })
    expect(seen.every(({ done }, index) => index === 0 || done > (seen[index - 1]?.done ?? 0))).toBe(true)
  })

  test.each([
    ['leads', 2],
    ['follows', 0],
  ] as const)('tell which of the two lacks how many cases: the one that %s', async (_, first) => {
    // 30 and 50 cases, of which the first 30 are the same but one that has more said about it.
    const [few, many] = [filled(30), filled(50)]
    few.write(testCaseId('another'), 'only with the few')
    few.write(testCaseId(3), 'more about one')
    const seen: { onlyHere: number; onlyThere: number }[] = []
    const { ends } = memoryLink()
    await Promise.all([
      exchange(few, ends[0], { nonce: new Uint8Array(16).fill(first), onProgress: progress => seen.push(progress) }),
      exchange(many, ends[1], { nonce: new Uint8Array(16).fill(1) }),
    ])
    expect(seen.at(-1)).toMatchObject({ of: 22, onlyHere: 1, onlyThere: 20 })
  })

  test('exchange what a person writes while they meet', async () => {
    const [a, b] = [filled(40), filled(20)]
    let writes = 0
    b.beforeCommit = () => {
      if (writes < 3) a.write(testCaseId(writes), `written meanwhile ${writes++}`)
    }
    const { one } = await meet(a, b)
    expect(one.status).toBe('equal')
    expect(b.texts(testCaseId(2))).toContain('written meanwhile 2')
    expect(everything(a)).toEqual(everything(b))
  })
})

describe('a meeting that breaks off', () => {
  test('after any message keeps what was taken over, and the next meeting ends it', async () => {
    const whole = (await meet(filled(60), new BareReplica())).carried.messages
    for (let cut = 0; cut < whole; cut += 1) {
      const [a, b] = [filled(60), new BareReplica()]
      b.write(testCaseId(1), 'from b')
      const before = [everything(a), everything(b)].map(all => JSON.stringify(all).length)
      const { one, two } = await meet(a, b, { cutAfterMessages: cut })
      for (const account of [one, two].filter(each => each.status !== 'equal')) {
        expect(account.status).toBe('broken-off')
        expect(account.reason?.message).toMatch(/kept/)
        expect([account.weHaveEverything, account.peerHasEverything]).toEqual([false, false])
      }
      expect(JSON.stringify(everything(a)).length).toBeGreaterThanOrEqual(before[0] ?? 0)
      expect(JSON.stringify(everything(b)).length).toBeGreaterThanOrEqual(before[1] ?? 0)
      expect((await meet(a, b)).one.status).toBe('equal')
      expect(everything(a)).toEqual(everything(b))
    }
  })

  test('does not fetch again what was acknowledged before the cut', async () => {
    const cases = 1200
    const a = filled(cases)
    const b = new BareReplica()
    const whole = (await meet(filled(cases), new BareReplica())).carried
    await meet(a, b, { cutAfterMessages: Math.floor(whole.messages / 2) })
    const taken = b.keys().length
    expect(taken).toBeGreaterThan(0)
    expect(taken).toBeLessThan(cases)
    const { one } = await meet(a, b)
    expect(one.status).toBe('equal')
    expect(one.entriesSent).toBe(2 * (cases + 2 - taken))
  })

  test('acknowledges nothing that the store did not commit', async () => {
    const [a, b] = [filled(10), new BareReplica()]
    b.beforeCommit = () => {
      throw new Error('the disk is full')
    }
    const { ends } = memoryLink()
    const [one, two] = await Promise.allSettled([
      exchange(a, ends[0], { nonce: nonce(2) }),
      exchange(b, ends[1], { nonce: nonce(1) }),
    ])
    expect(two).toMatchObject({ status: 'rejected', reason: { message: 'the disk is full' } })
    expect(one).toMatchObject({
      value: { status: 'refused', peerHasEverything: false, entriesSent: 0, reason: { type: 'stopped-working' } },
    })
    b.beforeCommit = () => {}
    expect((await meet(a, b)).one.status).toBe('equal')
  })
})

describe('erased cases', () => {
  test('do not come back from a device that has not heard of it, whichever one leads', async () => {
    for (const eraserLeads of [true, false]) {
      const [a, b] = [filled(12), new BareReplica()]
      await meet(a, b)
      a.write('team', `erase ${testCaseId(5)}`)
      b.write(testCaseId(5), 'written later by b')
      const { one, two } = eraserLeads ? await meet(a, b) : await meet(b, a)
      expect([one.status, two.status]).toEqual(['equal', 'equal'])
      expect([one.refusedCount, two.refusedCount]).toEqual([0, 0])
      for (const replica of [a, b]) expect(replica.keys()).not.toContain(testCaseId(5))
    }
  })
})

describe('a copy that was altered', () => {
  test('changes nothing here; ours stands and the difference is told', async () => {
    const [a, b] = [filled(3), new BareReplica()]
    await meet(a, b)
    const id = a.write(testCaseId(1), 'hip 400')
    await meet(a, b)
    b.alter(testCaseId(1), id, 'hip 500')
    b.write(testCaseId(1), 'an honest one')
    const { one } = await meet(a, b)
    expect(one.altered).toEqual([testCaseId(1)])
    expect(a.texts(testCaseId(1))).toEqual(['an honest one', 'hip 400', 'name 1', 'width 1'])
  })

  test('of an entry under a wrong hash is refused by name and counted, and nobody claims to have everything', async () => {
    const [a, b] = [filled(3), filled(3)]
    const id = b.write(testCaseId(1), 'a good one')
    b.alter(testCaseId(1), id, 'another text')
    const { one, two } = await meet(a, b)
    expect(one).toMatchObject({ status: 'unequal', weHaveEverything: false, peerHasEverything: true })
    expect(two).toMatchObject({ status: 'unequal', weHaveEverything: true, peerHasEverything: false })
    expect(one.refused[0]).toMatchObject({ key: testCaseId(1), type: 'wrong-hash' })
    expect(one.refusedCount).toBeGreaterThan(0)
    expect(a.texts(testCaseId(1))).not.toContain('another text')
  })
})
