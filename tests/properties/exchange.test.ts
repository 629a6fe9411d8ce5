import fc from 'fast-check'
import { expect, test } from 'vitest'
import { exchange } from '../../sync/exchange/exchange.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import { memoryLink } from '../../sync/transport/memory.ts'
import { BareReplica, testCaseId } from '../support/bare-replica.ts'
import { runs } from '../support/seed.ts'

const keyOf = (index: number): DocumentKey => (index === 0 ? 'team' : index === 1 ? 'catalogue' : testCaseId(index))

const devices = 5
const edit = fc.record({ what: fc.constant('edit' as const), device: fc.nat(devices - 1), key: fc.nat(14) })
const meeting = fc.record({
  what: fc.constant('meet' as const),
  device: fc.nat(devices - 1),
  other: fc.nat(devices - 1),
  leads: fc.boolean(),
  /** Most meetings break off at some message. */
  cutAfterMessages: fc.option(fc.nat(16), { nil: 1000, freq: 4 }),
})

const nonces = (leads: boolean): readonly [Uint8Array, Uint8Array] => [
  new Uint8Array(16).fill(leads ? 2 : 1),
  new Uint8Array(16).fill(leads ? 1 : 2),
]

const meet = async (a: BareReplica, b: BareReplica, leads: boolean, cutAfterMessages: number) => {
  const { ends } = memoryLink({ cutAfterMessages })
  const [first, second] = nonces(leads)
  return Promise.all([exchange(a, ends[0], { nonce: first }), exchange(b, ends[1], { nonce: second })])
}

const everything = (replica: BareReplica) => replica.keys().map(key => [key, replica.texts(key)])

test('devices that edit apart and meet in random pairs, cut anywhere, lose nothing and end the same', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 3, max: devices }),
      fc.array(fc.oneof({ weight: 3, arbitrary: edit }, { weight: 2, arbitrary: meeting }), { maxLength: 60 }),
      async (count, steps) => {
        const replicas = Array.from({ length: count }, () => new BareReplica())
        const at = (index: number): BareReplica => replicas[index % count] ?? new BareReplica()
        const written = new Map<DocumentKey, Set<string>>()
        for (const [number, step] of steps.entries()) {
          if (step.what === 'edit') {
            const key = keyOf(step.key)
            const text = `entry ${number} of ${step.device}`
            at(step.device).write(key, text)
            written.set(key, (written.get(key) ?? new Set()).add(text))
          } else if (at(step.device) !== at(step.other)) {
            const known = everything(at(step.device)).flat(2)
            const [one, two] = await meet(at(step.device), at(step.other), step.leads, step.cutAfterMessages)
            expect(everything(at(step.device)).flat(2)).toEqual(expect.arrayContaining(known))
            if (one.peerHasEverything && one.weHaveEverything)
              expect(everything(at(step.device))).toEqual(everything(at(step.other)))
            expect(['equal', 'broken-off']).toContain(one.status)
            expect(['equal', 'broken-off']).toContain(two.status)
          }
        }
        // Everybody meets the first device, then again: it carries everything to everybody.
        for (const other of [...replicas.slice(1), ...replicas.slice(1)]) await meet(at(0), other, true, 1000)
        const all = [...written].map(([key, texts]) => [key, [...texts].sort()]).sort()
        for (const replica of replicas) expect(everything(replica).sort()).toEqual(all)
        for (const replica of replicas) {
          expect([...replica.hashes()].sort()).toEqual([...at(0).hashes()].sort())
        }
      },
    ),
    runs(60),
  )
})
