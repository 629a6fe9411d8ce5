import { type CaseId, compareText } from '../../src/ids.ts'
import { equalBytes } from '../bytes.ts'
import { sha256 } from '../trust/digest.ts'
import type { DocumentKey } from './replica.ts'

export const HASH_BYTES = 32
/** 65,536 buckets serve 655,360 cases; the plan is 10,000. */
export const BITS_LIMIT = 16
/** Cases a bucket holds at most on average: 1,024 buckets at 10,000 cases moved the fewest bytes (measured). */
const CASES_PER_BUCKET = 10
/** The own level and that of a peer with many more or fewer cases. */
const LEVELS_KEPT = 2

export interface InventoryItem {
  readonly caseId: CaseId
  /** SHA-256 of the case's sorted entry ids. */
  readonly hash: Uint8Array
}

interface Bucket {
  /** Sorted by case id. */
  items: InventoryItem[]
  /** Absent after a change, until somebody asks. */
  hash?: Uint8Array
}

/** Buckets are 2 to the power of this. `caseCount` is the larger one of two devices that compare. */
export const bitsFor = (caseCount: number): number =>
  caseCount <= CASES_PER_BUCKET ? 0 : Math.min(BITS_LIMIT, Math.ceil(Math.log2(caseCount / CASES_PER_BUCKET)))

const BASE64URL = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'

/** The first 18 bits of an id, shortened to `bits` (at most 16). */
const bucketOf = (caseId: CaseId, bits: number): number => {
  let prefix = 0
  for (let at = 0; at < 3; at += 1) prefix = prefix * 64 + BASE64URL.indexOf(caseId.charAt(at))
  return prefix >> (18 - bits)
}

/** SHA-256 over id text and hash of each case, in order of the ids: a list, so that no set of cases can pose as another. */
const hashOfItems = (items: readonly InventoryItem[]): Promise<Uint8Array> => {
  const width = 22 + HASH_BYTES
  const bytes = new Uint8Array(items.length * width)
  const encoder = new TextEncoder()
  for (const [index, { caseId, hash }] of items.entries()) {
    encoder.encodeInto(caseId, bytes.subarray(index * width))
    bytes.set(hash, index * width + 22)
  }
  return sha256(bytes)
}

/**
 * What a device holds, as hashes in buckets by the first bits of the case id: two devices find what differs without
 * naming what is equal. After a change only the bucket of the changed case is hashed again. Opens no case.
 */
export class Inventory {
  #hashes: Map<CaseId, Uint8Array> = new Map()
  readonly #levels: Map<number, Bucket[]> = new Map()

  get caseCount(): number {
    return this.#hashes.size
  }

  hashOf(caseId: CaseId): Uint8Array | undefined {
    return this.#hashes.get(caseId)
  }

  /** Takes over the present hashes of a replica. Costs one comparison a case, and hashing later where one differs. */
  refresh(hashes: ReadonlyMap<DocumentKey, Uint8Array>): void {
    const next = new Map<CaseId, Uint8Array>()
    for (const [key, hash] of hashes) {
      if (key === 'team' || key === 'catalogue') continue
      if (hash.length !== HASH_BYTES) throw new Error(`a case hash of ${hash.length} bytes`)
      next.set(key, hash)
      const known = this.#hashes.get(key)
      if (!known || !equalBytes(known, hash)) this.#put(key, hash)
    }
    for (const caseId of this.#hashes.keys()) if (!next.has(caseId)) this.#put(caseId, undefined)
    this.#hashes = next
  }

  #put(caseId: CaseId, hash: Uint8Array | undefined): void {
    for (const [bits, buckets] of this.#levels) {
      const bucket = buckets[bucketOf(caseId, bits)]
      if (!bucket) throw new Error(`no bucket for ${caseId} at ${bits} bits`)
      const others = bucket.items.filter(item => item.caseId !== caseId)
      bucket.items = hash ? [...others, { caseId, hash }].sort((a, b) => compareText(a.caseId, b.caseId)) : others
      delete bucket.hash
    }
  }

  #level(bits: number): Bucket[] {
    const kept = this.#levels.get(bits)
    if (kept) return kept
    const buckets = Array.from({ length: 2 ** bits }, (): Bucket => ({ items: [] }))
    for (const [caseId, hash] of this.#hashes) buckets[bucketOf(caseId, bits)]?.items.push({ caseId, hash })
    for (const bucket of buckets) bucket.items.sort((a, b) => compareText(a.caseId, b.caseId))
    for (const oldest of this.#levels.keys()) {
      if (this.#levels.size < LEVELS_KEPT) break
      this.#levels.delete(oldest)
    }
    this.#levels.set(bits, buckets)
    return buckets
  }

  /** Cases of one bucket, sorted by id. */
  bucket(bits: number, index: number): readonly InventoryItem[] {
    return this.#level(bits)[index]?.items ?? []
  }

  async bucketHashes(bits: number): Promise<readonly Uint8Array[]> {
    return Promise.all(
      this.#level(bits).map(async bucket => {
        if (bucket.hash) return bucket.hash
        const hash = await hashOfItems(bucket.items)
        bucket.hash = hash
        return hash
      }),
    )
  }

  /** One hash for all cases: equal exactly when two devices hold the same entries in the same cases. */
  async root(): Promise<Uint8Array> {
    const hashes = await this.bucketHashes(bitsFor(this.caseCount))
    const all = new Uint8Array(hashes.length * HASH_BYTES)
    for (const [index, hash] of hashes.entries()) all.set(hash, index * HASH_BYTES)
    return sha256(all)
  }
}
