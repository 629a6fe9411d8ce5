import type { CaseId } from '../../src/ids.ts'
import { ByteReader, ByteWriter, fromBase64Url, toBase64Url } from '../../sync/bytes.ts'
import { exchange } from '../../sync/exchange/exchange.ts'
import { Inventory } from '../../sync/exchange/inventory.ts'
import { decodeMessage, type MessageKind } from '../../sync/exchange/messages.ts'
import { memoryLink } from '../../sync/transport/memory.ts'
import type { Transport } from '../../sync/transport/transport.ts'
import { BareReplica, testCaseId } from '../support/bare-replica.ts'
import { median, printTable, ratio, round, timed } from './measure.ts'

const RUNS = 9
const WARM_UP = 3
const INVENTORY_KINDS: ReadonlySet<MessageKind> = new Set(['compare', 'buckets', 'lists'])

interface Device {
  readonly replica: BareReplica
  readonly inventory: Inventory
}

const devicesWith = async (caseCount: number): Promise<readonly [Device, Device]> => {
  const [a, b] = [new BareReplica(), new BareReplica()]
  for (const replica of [a, b])
    for (const key of [
      'team',
      'catalogue',
      ...Array.from({ length: caseCount }, (_, index) => testCaseId(index)),
    ] as const)
      replica.write(key, `{"first":"${key}"}`)
  return [
    { replica: a, inventory: new Inventory() },
    { replica: b, inventory: new Inventory() },
  ]
}

/** An end that also counts the bytes of what is needed to find the differences, and of what is handed over. */
const counting = (end: Transport, counted: { messages: number; inventory: number; documents: number }): Transport => ({
  receive: () => end.receive(),
  close: reason => end.close(reason),
  closed: end.closed,
  send: message => {
    const read = decodeMessage(message)
    const isInventory = read.ok && INVENTORY_KINDS.has(read.value.kind)
    counted.messages += 1
    counted[isInventory ? 'inventory' : 'documents'] += message.length
    return end.send(message)
  },
})

const meet = async (a: Device, b: Device) => {
  const counted = { messages: 0, inventory: 0, documents: 0 }
  const { ends } = memoryLink()
  const { ms, value } = await timed(() =>
    Promise.all([
      exchange(a.replica, counting(ends[0], counted), { inventory: a.inventory }),
      exchange(b.replica, counting(ends[1], counted), { inventory: b.inventory }),
    ]),
  )
  for (const { status, reason } of value) if (status !== 'equal') throw new Error(`ended ${status}: ${reason?.message}`)
  return { ...counted, ms }
}

/** The plain way to find what differs: one side sends id and 8 bytes of hash of every case, the other compares. */
const flatList = async (a: Device, b: Device): Promise<{ bytes: number; ms: number; found: number }> => {
  const { ends } = memoryLink()
  const { ms, value } = await timed(async () => {
    const writer = new ByteWriter()
    for (const [key, hash] of a.replica.hashes())
      if (key !== 'team' && key !== 'catalogue') writer.fixed(fromBase64Url(key)).fixed(hash.subarray(0, 8))
    const list = writer.done()
    await ends[0].send(list)
    const reader = new ByteReader((await ends[1].receive()) ?? new Uint8Array())
    const theirs = b.replica.hashes()
    let found = 0
    while (reader.left > 0) {
      const mine = theirs.get(toBase64Url(reader.fixed(16)) as CaseId)
      const hash = reader.fixed(8)
      if (!mine || hash.some((byte, index) => byte !== mine[index])) found += 1
    }
    return { bytes: list.length, found }
  })
  return { ...value, ms }
}

const measure = async (caseCount: number, changedCount: number) => {
  const [a, b] = await devicesWith(caseCount)
  const cold = await meet(a, b)
  const meetings: Awaited<ReturnType<typeof meet>>[] = []
  const lists: Awaited<ReturnType<typeof flatList>>[] = []
  for (let run = 0; run < WARM_UP + RUNS; run += 1) {
    for (let index = 0; index < changedCount; index += 1) {
      const changed = testCaseId((run * 7919 + index * 104_729) % caseCount)
      const writer = index % 2 === 0 ? a : b
      writer.replica.write(changed, `{"hipWidthMm":{"typed":${400 + run},"unit":"mm"},"run":${run},"index":${index}}`)
    }
    const list = await flatList(a, b)
    if (list.found === 0) throw new Error('the flat list found no difference')
    const meeting = await meet(a, b)
    if (run < WARM_UP) continue
    lists.push(list)
    meetings.push(meeting)
  }
  const of = <Row, Key extends keyof Row>(rows: readonly (Row & Record<Key, number>)[], key: Key): number =>
    median(rows.map(row => row[key]))
  const flatBytes = of(lists, 'bytes')
  return {
    cases: caseCount,
    changed: changedCount,
    messages: of(meetings, 'messages'),
    'bytes to find them': of(meetings, 'inventory'),
    'bytes handed over': of(meetings, 'documents'),
    ms: round(of(meetings, 'ms')),
    'first meeting ms': round(cold.ms),
    'flat list bytes': flatBytes,
    'flat list ms': round(of(lists, 'ms')),
    'fewer bytes to find them': ratio(flatBytes, of(meetings, 'inventory')),
  }
}

/** Exchange of a day's changes between two devices: bytes and time follow what changed, not what is there. */
export const run = async (): Promise<void> => {
  const rows = [await measure(1000, 20), await measure(10_000, 20), await measure(10_000, 200)]
  printTable(`Exchange over the memory link, both devices in one process, median of ${RUNS} meetings`, rows)
  const [small, large, more] = rows
  if (!small || !large || !more) throw new Error('a row is missing')
  printTable('What it follows', [
    {
      '': '10 times the cases, same changes',
      'bytes in all': ratio(total(large), total(small)),
      ms: ratio(large.ms, small.ms),
    },
    {
      '': '10 times the changes, same cases',
      'bytes in all': ratio(total(more), total(large)),
      ms: ratio(more.ms, large.ms),
    },
  ])
}

const total = (row: Awaited<ReturnType<typeof measure>>): number => row['bytes to find them'] + row['bytes handed over']
