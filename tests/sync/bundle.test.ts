import { createDecipheriv, createHash, hkdfSync } from 'node:crypto'
import { inflateRawSync } from 'node:zlib'
import { beforeAll, describe, expect, test } from 'vitest'
import * as Y from 'yjs'
import type { CaseId } from '../../src/ids.ts'
import type { DocumentKey, Replica } from '../../sync/exchange/replica.ts'
import { joinCasebook } from '../../sync/open-casebook.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { type BundleFailure, makeBundle, readBundle, UNPACKED_LIMIT_BYTES } from '../../sync/transport/bundle.ts'
import { takeBundle, takeBundles } from '../../sync/transport/take-bundle.ts'
import { type CasebookSecret, currentSecret, keyFromSecret } from '../../sync/trust/casebook-secret.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { pack, seal } from '../../sync/trust/sealing.ts'
import { BareReplica } from '../support/bare-replica.ts'
import { expectOk, foundCasebook, heldBy, invite, type TestDevice } from '../support/casebooks.ts'

const HEADER_BYTES = 37
const hip = (typed: number) => ({ hipWidthMm: { typed, unit: 'mm', how: 'tape' } })
const sha256 = (bytes: Uint8Array | string) => createHash('sha256').update(bytes).digest()

const secretOf = (device: TestDevice): CasebookSecret => {
  const secret = currentSecret(device.casebook.secrets())
  if (!secret) throw new Error(`${device.name} has no secret`)
  return secret
}

/** A copy that knows its casebook's id and nothing else, not even the crew. */
const emptyCopy = async (of: TestDevice) => {
  const { deviceKey } = await createDeviceKey()
  const { casebookId } = of.casebook
  const storage = createMemoryStorage().open()
  return expectOk(await joinCasebook({ ...of.options, deviceKey, storage, casebookId }))
}

const addCases = async (device: TestDevice, count: number): Promise<readonly CaseId[]> => {
  const ids: CaseId[] = []
  for (let index = 0; index < count; index += 1) {
    const set = { personName: `Invented ${index}`, ...hip(300 + index) }
    ids.push(expectOk(await device.casebook.addCase({ kind: 'save', set })).caseId)
  }
  return ids
}

/** The file as somebody would leave it who changed a byte and made the checksum fit. */
const withChecksum = (file: Uint8Array): Uint8Array => {
  const body = file.subarray(0, file.length - 32)
  return Buffer.concat([body, sha256(body)])
}
const flipped = (file: Uint8Array, at: number, change: number): Uint8Array => {
  const copy = file.slice()
  copy[at] = (copy[at] ?? 0) ^ change
  return copy
}

/** A bundle with anything inside, under a good seal. */
const sealedFile = async (like: Uint8Array, secret: CasebookSecret, payload: Uint8Array): Promise<Uint8Array> => {
  const header = like.slice(0, HEADER_BYTES)
  const sealed = await seal(await keyFromSecret(secret, 'outspoke bundle 1'), await pack(payload), header)
  const length = Buffer.alloc(4)
  length.writeUInt32BE(sealed.length)
  return withChecksum(Buffer.concat([header, length, sealed, Buffer.alloc(32)]))
}

let ana: TestDevice
let ben: TestDevice
let caseIds: readonly CaseId[]
let file: Uint8Array

beforeAll(async () => {
  ana = await foundCasebook('Ana')
  ben = await invite(ana, 'Ben')
  caseIds = await addCases(ana, 12)
  file = await makeBundle(ana.casebook, secretOf(ana))
})

const failureOf = async (
  bytes: Uint8Array,
  secrets = ana.casebook.secrets(),
): Promise<BundleFailure['type'] | 'none'> => {
  const read = await readBundle(ana.casebook.casebookId, secrets, bytes)
  if (read.ok) return 'none'
  expect(read.failure.message).toContain('Nothing was changed.')
  return read.failure.type
}

describe('a bundle', () => {
  test('carries every entry to a device that had none of them, and says what it did', async () => {
    const here = await emptyCopy(ana)
    const account = expectOk(await takeBundle(here, ana.casebook.secrets(), file))
    expect(await heldBy(here)).toEqual(await heldBy(ana.casebook))
    // Who founded, who was added, and one form for each case.
    expect(account).toMatchObject({ entriesNew: 14, unchangedCount: 0, refusedCount: 0, altered: [], stopped: null })
    expect([...account.changed].sort()).toEqual(['team', ...caseIds].sort())

    const again = expectOk(await takeBundle(here, ana.casebook.secrets(), file))
    expect(again).toMatchObject({ entriesNew: 0, changed: [], unchangedCount: 13 })
  })

  test('opens with general tools as its format says: HKDF, AES-256-GCM, deflate', () => {
    // RFC 5869 (HKDF), NIST SP 800-38D (GCM), RFC 1951 (deflate), here by Node's own implementations.
    expect(Buffer.from(file.subarray(0, 16)).toString()).toBe('outspoke bundle\n')
    expect(file[16]).toBe(1)
    const casebookHash = sha256(`outspoke bundle casebook ${ana.casebook.casebookId}`).subarray(0, 16)
    expect(Buffer.from(file.subarray(17, 33))).toEqual(casebookHash)
    expect(Buffer.from(file).readUInt32BE(33)).toBe(0)
    expect(Buffer.from(file).readUInt32BE(37)).toBe(file.length - 41 - 32)
    expect(Buffer.from(file.subarray(-32))).toEqual(sha256(file.subarray(0, -32)))

    const secret = Buffer.from(secretOf(ana).secret, 'base64url')
    const key = Buffer.from(hkdfSync('sha256', secret, '', 'outspoke bundle 1', 32))
    const sealed = file.subarray(41, file.length - 32)
    const decipher = createDecipheriv('aes-256-gcm', key, sealed.subarray(0, 12))
    decipher.setAAD(file.subarray(0, HEADER_BYTES))
    decipher.setAuthTag(sealed.subarray(-16))
    const packed = Buffer.concat([decipher.update(sealed.subarray(12, -16)), decipher.final()])
    const inside = inflateRawSync(packed.subarray(5, 5 + packed.readUInt32BE(1)))
    expect(inside.toString('latin1')).toContain('Invented 7')
    // One team document and twelve cases; the catalogue is empty.
    expect(inside[0]).toBe(13)
  })

  test('shows neither names nor ids nor how many cases there are', () => {
    const clear = Buffer.from(file).toString('latin1')
    for (const word of ['Invented', 'Ana', 'personName', ana.casebook.casebookId, ...caseIds])
      expect(clear).not.toContain(word)
    for (const id of caseIds) expect(Buffer.from(file).includes(Buffer.from(id, 'base64url'))).toBe(false)
  })

  test('holds just the cases asked for, and never one that is not here', async () => {
    const [first, second] = caseIds
    if (!first || !second) throw new Error('no cases')
    const some = await makeBundle(ana.casebook, secretOf(ana), [second, first, 'AAAAAAAAAAAAAAAAAAAAAA' as CaseId])
    const opened = expectOk(await readBundle(ana.casebook.casebookId, ana.casebook.secrets(), some))
    expect(opened.documents.map(({ key }) => key)).toEqual(['team', ...[first, second].sort()])
  })

  test('carries a document that is too large for one update as entries', async () => {
    const [a, b] = [new BareReplica(), new BareReplica()]
    for (let index = 0; index < 100; index += 1) a.write('team', `${index} `.padEnd(15_000, String(index % 7)))
    const account = expectOk(await takeBundle(b, [secretOf(ana)], await makeBundle(a, secretOf(ana))))
    expect(account.entriesNew).toBe(100)
    expect(b.texts('team')).toEqual(a.texts('team'))
  })

  test('of several, every crew list comes before the first case, whatever the order of the files', async () => {
    const founder = await foundCasebook('Founder')
    const added = await invite(founder, 'Added')
    await addCases(added, 2)
    const secret = secretOf(founder)
    const justTeam = await makeBundle(founder.casebook, secret, [])
    const known = await makeBundle(added.casebook, secret)
    // A copy that knows nothing yet, and the file with the cases first.
    const empty = await emptyCopy(founder)
    const open = async (bytes: Uint8Array) => expectOk(await readBundle(founder.casebook.casebookId, [secret], bytes))
    const account = await takeBundles(empty, [await open(known), await open(justTeam)])
    expect(account).toMatchObject({ refusedCount: 0, stopped: null })
    expect(Object.keys(await heldBy(empty))).toHaveLength(3)
  })
})

describe('a file that is not a good bundle is named and changes nothing:', () => {
  test('cut short at any length', async () => {
    const seen = new Map<string, number>()
    for (let length = 0; length < file.length; length += 1) {
      const type = await failureOf(file.slice(0, length))
      seen.set(type, (seen.get(type) ?? 0) + 1)
    }
    expect([...seen]).toEqual([
      ['not-a-bundle', 1],
      ['truncated', file.length - 1],
    ])
  })

  test('any bit of the head changed, with or without a checksum that fits', async () => {
    const before = await heldBy(ben.casebook)
    const named: Record<string, number> = {}
    for (let at = 0; at < HEADER_BYTES; at += 1)
      for (let bit = 0; bit < 8; bit += 1)
        for (const bytes of [flipped(file, at, 1 << bit), withChecksum(flipped(file, at, 1 << bit))]) {
          const taken = await takeBundle(ben.casebook, ana.casebook.secrets(), bytes)
          const type = taken.ok ? 'none' : taken.failure.type
          named[type] = (named[type] ?? 0) + 1
        }
    expect(named).toEqual({
      'not-a-bundle': 16 * 8 * 2,
      // Bit 0 makes version 0, every other one a later version.
      'newer-format': 7 * 2,
      damaged: 1 * 2 + 20 * 8,
      'other-casebook': 16 * 8,
      'unknown-epoch': 4 * 8,
    })
    expect(await heldBy(ben.casebook)).toEqual(before)
  })

  test('any byte of the seal changed', async () => {
    for (let at = HEADER_BYTES + 4; at < file.length - 32; at += 3) {
      const changed = flipped(file, at, 1 + (at % 255))
      expect(await failureOf(changed)).toBe('damaged')
      expect(await failureOf(withChecksum(changed))).toBe('wrong-secret')
    }
    for (let at = HEADER_BYTES; at < HEADER_BYTES + 4; at += 1)
      expect(['truncated', 'damaged']).toContain(await failureOf(withChecksum(flipped(file, at, 1))))
    expect(await failureOf(Uint8Array.of(...file, 0))).toBe('damaged')
  })

  test('another casebook, an unknown epoch, a wrong secret', async () => {
    const stranger = await foundCasebook('Stranger')
    expect(await failureOf(await makeBundle(stranger.casebook, secretOf(stranger)))).toBe('other-casebook')
    const renewed = { ...secretOf(stranger), epoch: 1 }
    expect(await failureOf(await makeBundle(ana.casebook, renewed))).toBe('unknown-epoch')
    expect(await failureOf(file, [])).toBe('unknown-epoch')
    expect(await failureOf(file, [secretOf(stranger)])).toBe('wrong-secret')
    // Two who struck apart from each other may both have made a secret of one epoch.
    expect(await failureOf(file, [secretOf(stranger), secretOf(ana)])).toBe('none')
  })

  test('something else under a good seal: nothing, noise, a document of an unknown kind, far too much', async () => {
    const secret = secretOf(ana)
    for (const payload of [[], [9], [1, 7], [200, 1, 0], Array.from({ length: 300 }, (_, index) => index % 251)])
      expect(await failureOf(await sealedFile(file, secret, Uint8Array.from(payload)))).toBe('unreadable-inside')
    const noise = Uint8Array.of(1, 0, ...new Uint8Array(32), 0, 5, 1, 2, 3, 4, 5)
    expect(await failureOf(await sealedFile(file, secret, noise))).toBe('unreadable-inside')
    const swollen = await sealedFile(file, secret, new Uint8Array(UNPACKED_LIMIT_BYTES + 1))
    expect(swollen.length).toBeLessThan(UNPACKED_LIMIT_BYTES / 500)
    expect(await failureOf(swollen)).toBe('too-large')
  })

  test('a document that builds on what is not in it', async () => {
    const [first] = caseIds
    if (!first) throw new Error('no case')
    const early = await ana.casebook.stateVector(first)
    expectOk(await ana.casebook.save(first, { kind: 'save', set: hip(444) }))
    const halved = replicaThat(ana.casebook, {
      updateSince: async (key, vector) => ana.casebook.updateSince(key, key === first ? early : vector),
    })
    const before = await heldBy(ben.casebook)
    const taken = await takeBundle(ben.casebook, ana.casebook.secrets(), await makeBundle(halved, secretOf(ana)))
    expect(taken).toMatchObject({ ok: false, failure: { type: 'partial' } })
    expect(await heldBy(ben.casebook)).toEqual(before)
  })
})

describe('a good bundle with bad things in it', () => {
  test('brings no erased case back, however old it is', async () => {
    const founder = await foundCasebook('One')
    const second = await invite(founder, 'Two')
    const [kept, erased] = await addCases(founder, 2)
    if (!kept || !erased) throw new Error('no cases')
    const old = await makeBundle(founder.casebook, secretOf(founder))
    expectOk(await takeBundle(second.casebook, founder.casebook.secrets(), old))
    expectOk(await founder.casebook.eraseCase(erased))
    const hiding = await makeBundle(founder.casebook, secretOf(founder))
    expectOk(await takeBundle(second.casebook, founder.casebook.secrets(), hiding))
    expectOk(await second.casebook.eraseCase(erased))
    for (const device of [second, await second.restart()]) {
      const account = expectOk(await takeBundle(device.casebook, founder.casebook.secrets(), old))
      expect(account.refused.map(({ key, type }) => [key, type])).toEqual([[erased, 'erased-case']])
      expect(account.entriesNew).toBe(0)
      expect(Object.keys(await heldBy(device.casebook))).toEqual(['team', kept])
    }
  })

  test('keeps what a struck device wrote later, and does not count it', async () => {
    const founder = await foundCasebook('One')
    const lost = await invite(founder, 'Lost')
    const [caseId] = await addCases(founder, 1)
    if (!caseId) throw new Error('no case')
    const secret = secretOf(founder)
    expectOk(await takeBundle(lost.casebook, [secret], await makeBundle(founder.casebook, secret)))
    expectOk(await founder.casebook.strike(lost.key.device))
    expectOk(await lost.casebook.save(caseId, { kind: 'save', set: hip(555) }))
    const account = expectOk(await takeBundle(founder.casebook, [secret], await makeBundle(lost.casebook, secret)))
    expect(account.entriesNew).toBe(1)
    expect((await founder.casebook.view(caseId))?.values.hipWidthMm).toBe(300)
    const late = (await founder.casebook.record(caseId)).filter(({ notCounting }) => notCounting !== null)
    expect(late).toHaveLength(1)
    // And the struck device cannot open what is sealed from now on.
    const later = await makeBundle(founder.casebook, secretOf(founder))
    expect(await takeBundle(lost.casebook, [secret], later)).toMatchObject({ failure: { type: 'unknown-epoch' } })
  })

  test('altered, deleted or foreign entries are refused and counted; ours stand and good ones are taken', async () => {
    const founder = await foundCasebook('One')
    const other = await invite(founder, 'Two')
    const [altered, deleted, added] = await addCases(founder, 3)
    if (!altered || !deleted || !added) throw new Error('no cases')
    const secret = secretOf(founder)
    expectOk(await takeBundle(other.casebook, [secret], await makeBundle(founder.casebook, secret)))
    const before = await heldBy(founder.casebook)
    const good = expectOk(await other.casebook.save(added, { kind: 'save', set: hip(320) }))
    const spoil = async (key: DocumentKey): Promise<Uint8Array> => {
      const document = new Y.Doc()
      Y.applyUpdateV2(document, await other.casebook.updateSince(key, Uint8Array.of(0)))
      const entries = document.getMap<Uint8Array>('entries')
      const [id, value] = [...entries][0] ?? []
      if (!id || !value) throw new Error('no entry')
      if (key === altered) entries.set(id, Uint8Array.of(...value.subarray(0, 64), ...Buffer.from('{"v":1}')))
      if (key === deleted) entries.delete(id)
      if (key === added) entries.set('AAAAAAAAAAAAAAAAAAAAAA', value)
      return Y.encodeStateAsUpdateV2(document)
    }
    // A copy that was spoiled says that it differs; one that says it is equal is not looked at.
    const claimed = new Map(
      [...other.casebook.hashes()].map(([key, hash]) => [key, key === 'team' ? hash : new Uint8Array(32)]),
    )
    const spoiled = replicaThat(other.casebook, { updateSince: spoil, hashes: () => claimed })
    const account = expectOk(await takeBundle(founder.casebook, [secret], await makeBundle(spoiled, secret)))
    expect(account).toMatchObject({ entriesNew: 1, changed: [added] })
    expect([...account.altered].sort()).toEqual([altered, deleted].sort())
    expect(account.refusedCount).toBeGreaterThanOrEqual(3)
    expect(await heldBy(founder.casebook)).toEqual({ ...before, [added]: [...(before[added] ?? []), good.id].sort() })
  })
})

/** A replica of which some answers are not what they should be. */
const replicaThat = (replica: Replica, changed: Partial<Replica>): Replica => ({
  casebookId: replica.casebookId,
  hashes: () => replica.hashes(),
  stateVector: key => replica.stateVector(key),
  updateSince: (key, vector) => replica.updateSince(key, vector),
  entryIds: key => replica.entryIds(key),
  entries: (key, ids) => replica.entries(key, ids),
  admitUpdate: (key, update) => replica.admitUpdate(key, update),
  admitEntries: (key, entries) => replica.admitEntries(key, entries),
  ...changed,
})
