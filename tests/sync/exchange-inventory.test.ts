import fc from 'fast-check'
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import { bitsFor, Inventory } from '../../sync/exchange/inventory.ts'
import { sha256, testCaseId } from '../support/bare-replica.ts'
import { runs } from '../support/seed.ts'

const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')
const hashesOf = (cases: ReadonlyMap<number, number>): ReadonlyMap<CaseId, Uint8Array> =>
  new Map([...cases].map(([index, version]) => [testCaseId(index), sha256(`${index} ${version}`)]))
const inventoryOf = (cases: ReadonlyMap<number, number>): Inventory => {
  const inventory = new Inventory()
  inventory.refresh(hashesOf(cases))
  return inventory
}
const numbered = (count: number) => new Map(Array.from({ length: count }, (_, index) => [index, 0]))

afterEach(() => {
  vi.restoreAllMocks()
})

describe('an inventory', () => {
  test('of nothing is the SHA-256 of the SHA-256 of nothing', async () => {
    // SHA-256 applied twice to the empty string, a value known from the literature on hash chains (from memory).
    expect(hex(await new Inventory().root())).toBe('5df6e0e2761359d30a8275058e299fcc0381534545f55cf43e41983f5d4c9456')
  })

  test('has 2^ceil(log2(n / 10)) buckets', () => {
    const published = { 0: 0, 10: 0, 11: 1, 20: 1, 21: 2, 1000: 7, 5000: 9, 10000: 10, 10240: 10, 10241: 11, 1e9: 16 }
    for (const [count, bits] of Object.entries(published)) expect(bitsFor(Number(count)), count).toBe(bits)
  })

  test('hashes one bucket again after one change, and none when nothing changed', async () => {
    const cases = numbered(2000)
    const inventory = inventoryOf(cases)
    await inventory.root()
    const digest = vi.spyOn(globalThis.crypto.subtle, 'digest')
    inventory.refresh(hashesOf(cases))
    await inventory.root()
    expect(digest).toHaveBeenCalledTimes(1)
    inventory.refresh(hashesOf(new Map(cases).set(77, 1)))
    await inventory.root()
    expect(digest).toHaveBeenCalledTimes(3)
  })

  test('puts each case into the bucket of its first bits, so that every case stands in exactly one', () => {
    const inventory = inventoryOf(numbered(500))
    for (const bits of [0, 1, 6, 11]) {
      const found = new Map<string, number>()
      for (let bucket = 0; bucket < 2 ** bits; bucket += 1)
        for (const { caseId } of inventory.bucket(bits, bucket)) {
          const firstTwoBytes = Buffer.from(caseId, 'base64url').readUInt16BE()
          expect(bucket).toBe(Math.floor(firstTwoBytes / 2 ** (16 - bits)))
          found.set(caseId, (found.get(caseId) ?? 0) + 1)
        }
      expect([...found.values()]).toEqual(Array(500).fill(1))
    }
  })

  test('kept through any changes is the same as one made anew', async () => {
    const change = fc.tuple(fc.nat(60), fc.option(fc.nat(5), { nil: undefined }))
    await fc.assert(
      fc.asyncProperty(fc.array(fc.array(change, { maxLength: 30 }), { maxLength: 6 }), async rounds => {
        const cases = new Map<number, number>()
        const kept = new Inventory()
        for (const round of rounds) {
          for (const [index, version] of round)
            if (version === undefined) cases.delete(index)
            else cases.set(index, version)
          kept.refresh(hashesOf(cases))
          const fresh = inventoryOf(cases)
          expect(kept.caseCount).toBe(cases.size)
          expect(hex(await kept.root())).toBe(hex(await fresh.root()))
          expect((await kept.bucketHashes(5)).map(hex)).toEqual((await fresh.bucketHashes(5)).map(hex))
        }
      }),
      runs(100),
    )
  })

  test('of other cases, or of the same cases with other hashes, has another root', async () => {
    const roots = new Set<string>()
    for (let index = 0; index < 40; index += 1)
      roots.add(hex(await inventoryOf(new Map(numbered(40)).set(index, 1)).root()))
    for (let count = 0; count < 40; count += 1) roots.add(hex(await inventoryOf(numbered(count)).root()))
    expect(roots.size).toBe(80)
  })
})
