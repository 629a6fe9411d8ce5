import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import { makeBundle, readBundle } from '../../sync/transport/bundle.ts'
import { takeBundle } from '../../sync/transport/take-bundle.ts'
import type { CasebookSecret } from '../../sync/trust/casebook-secret.ts'
import { BareReplica, TEST_CASEBOOK, testCaseId } from '../support/bare-replica.ts'
import { runs } from '../support/seed.ts'

const secret: CasebookSecret = {
  epoch: 0,
  by: testCaseId('device') as unknown as CasebookSecret['by'],
  secret: 'A'.repeat(43),
}
const keyOf = (index: number): DocumentKey => (index === 0 ? 'team' : index === 1 ? 'catalogue' : testCaseId(index))
const everything = (replica: BareReplica) => replica.keys().map(key => [key, replica.texts(key)])

const edit = fc.record({
  what: fc.constant('edit' as const),
  device: fc.nat(2),
  key: fc.nat(10),
  text: fc.string({ unit: 'grapheme' }),
})
const make = fc.record({
  what: fc.constant('make' as const),
  device: fc.nat(2),
  some: fc.option(fc.uniqueArray(fc.integer({ min: 2, max: 10 }))),
})
const take = fc.record({ what: fc.constant('take' as const), device: fc.nat(2), file: fc.nat(20) })

test('bundles made at any time and taken in any order, twice or never, lose nothing and bring everything', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(fc.oneof({ weight: 3, arbitrary: edit }, make, take), { maxLength: 40 }), async steps => {
      const [a, b, c] = [new BareReplica(), new BareReplica(), new BareReplica()] as const
      const files: Uint8Array[] = []
      const written = new Map<DocumentKey, Set<string>>()
      for (const [number, step] of steps.entries()) {
        const device = [a, b, c][step.device] ?? a
        if (step.what === 'edit') {
          const text = `${number} ${step.text}`
          device.write(keyOf(step.key), text)
          written.set(keyOf(step.key), (written.get(keyOf(step.key)) ?? new Set()).add(text))
        } else if (step.what === 'make') {
          files.push(
            await makeBundle(
              device,
              secret,
              step.some?.map(index => keyOf(index) as CaseId),
            ),
          )
        } else {
          const file = files[step.file % Math.max(1, files.length)]
          if (!file) continue
          const before = everything(device).flat(2)
          const taken = await takeBundle(device, [secret], file)
          expect(taken).toMatchObject({ ok: true, value: { refusedCount: 0, altered: [] } })
          expect(everything(device).flat(2)).toEqual(expect.arrayContaining(before))
        }
      }
      for (const [from, to] of [
        [a, b],
        [b, c],
        [c, a],
        [a, b],
      ] as const) {
        const file = await makeBundle(from, secret)
        const opened = await readBundle(TEST_CASEBOOK, [secret], file)
        expect(opened.ok && opened.value.documents.map(({ key }) => key).sort()).toEqual(from.keys())
        await takeBundle(to, [secret], file)
      }
      const all = [...written].map(([key, texts]) => [key, [...texts].sort()]).sort()
      for (const replica of [a, b, c]) expect(everything(replica).sort()).toEqual(all)
    }),
    runs(40),
  )
})
