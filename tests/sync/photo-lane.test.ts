import { createHash } from 'node:crypto'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { type CaseId, type PhotoHash, photoHashSchema } from '../../src/ids.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { StorageUnreadable } from '../../sync/storage/storage.ts'
import { FRAME, FRAME_BYTES, framed, LOBBY } from '../../sync/transport/frames.ts'
import {
  MOST_ASKED_AT_ONCE,
  PART_BYTES,
  PART_LIMIT_MS,
  PARTS_IN_A_ROW,
  PHOTO_LIMIT_BYTES,
  PhotoLane,
  REST_MS,
} from '../../sync/transport/photo-lane.ts'
import { expectOk, foundCasebook, heldBy, invite, meet, type TestDevice } from '../support/casebooks.ts'
import { handTimer, keeperOf, meetAtGate, memoryChannels } from '../support/channels.ts'
import { runs } from '../support/seed.ts'

const on = toCalendarDate('2026-11-25')
const sha256 = (of: Uint8Array): PhotoHash => photoHashSchema.parse(createHash('sha256').update(of).digest('base64url'))
/** Bytes that differ by place, so that a lost, doubled or turned part shows. */
const photoOf = (length: number): Uint8Array =>
  Uint8Array.from({ length }, (_, index) => (index * 31 + (index >> 8)) & 255)
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): string =>
  result.failure?.type ?? 'came'
const turns = async (count: number): Promise<void> => {
  for (let turn = 0; turn < count; turn += 1) await Promise.resolve()
}

/** Ana has a case with these photos; Ben has the case and none of them. Each has a lane at its end of one line. */
const lanes = async (photos: readonly Uint8Array[], changed: Parameters<typeof invite>[3] = {}) => {
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben', 'technician', changed)
  await meet(ana.casebook, ben.casebook)
  const set = { personName: 'Invented One', photoAgreed: true }
  const { caseId } = expectOk(await ana.casebook.addCase({ kind: 'save', set }))
  for (const bytes of photos) expectOk(await ana.casebook.addPhoto(caseId, { bytes, shows: 'chair', on }))
  await meet(ana.casebook, ben.casebook)

  const channels = memoryChannels()
  const timer = handTimer()
  const known = () => [ana.key.device, ben.key.device]
  const { casebookId } = ana.casebook
  const keepers = [await keeperOf(casebookId, known, ana.key), await keeperOf(casebookId, known, ben.key)] as const
  const [a, b] = await meetAtGate(channels, keepers, timer)
  const [atAna, atBen] = [expectOk(a).transport, expectOk(b).transport]
  let isAdmitted = true
  const admits = () => isAdmitted
  return {
    ana,
    ben,
    caseId,
    channels,
    timer,
    atAna,
    atBen,
    anas: new PhotoLane(ana.casebook, atAna, { timer, admits }),
    strike: () => {
      isAdmitted = false
    },
    /** Only once a test has no other use for that end. */
    bens: () => new PhotoLane(ben.casebook, atBen, { timer, admits: () => true }),
  }
}
const hasPhoto = async ({ casebook }: TestDevice, caseId: CaseId, photo: Uint8Array): Promise<boolean> => {
  const bytes = await casebook.photo(caseId, sha256(photo))
  return bytes !== undefined && sha256(bytes) === sha256(photo)
}

describe('photos between two devices', () => {
  it.each([1, PART_BYTES - 1, PART_BYTES, PART_BYTES + 1, 10 * PART_BYTES, 400_000])(
    'of %i bytes come whole, in frames of the usual size',
    async length => {
      const photo = photoOf(length)
      const { ben, caseId, channels, bens } = await lanes([photo])
      expectOk(await bens().ask(caseId, sha256(photo)))
      expect(await hasPhoto(ben, caseId, photo)).toBe(true)
      const parts = channels[0].sent.filter(frame => frame[0] === FRAME.lobby)
      expect(parts).toHaveLength(Math.ceil(length / PART_BYTES))
      expect(Math.max(...parts.map(frame => frame.length))).toBeLessThanOrEqual(FRAME_BYTES + 1)
    },
  )

  it('come one after the other, whatever is asked at once, and are told of', async () => {
    const photos = [photoOf(40_000), photoOf(50_000), photoOf(60_000)]
    const { ben, caseId, bens } = await lanes(photos)
    const came: string[] = []
    ben.casebook.subscribe(change => {
      if (change.type === 'photo-came') came.push(change.hash)
    })
    const lane = bens()
    for (const result of await Promise.all(photos.map(photo => lane.ask(caseId, sha256(photo))))) expectOk(result)
    expect(came).toEqual(photos.map(sha256))
  })

  it('wait while much else waits to be sent, and add one frame to it at most', async () => {
    const photo = photoOf(200_000)
    const { atAna, caseId, channels, bens } = await lanes([photo])
    channels[0].isHeld = true
    const sending = atAna.send(new Uint8Array(900_000))
    const coming = bens().ask(caseId, sha256(photo))
    await turns(500)
    const waiting = channels[0].waitingBytes()
    expect(waiting).toBeLessThan(900_000 + 1000)
    channels[0].isHeld = false
    channels[0].release()
    await sending
    expectOk(await coming)
  })

  it.each<[string, (setting: Awaited<ReturnType<typeof lanes>>) => Promise<void> | void]>([
    [
      'agreement was taken back there',
      async ({ ana, caseId }) => {
        const over = ((await ana.casebook.view(caseId))?.heads.photoAgreed ?? []).map(head => head.id)
        expectOk(await ana.casebook.save(caseId, { kind: 'save', set: { photoAgreed: false }, over }))
      },
    ],
    [
      'it was taken out of the case there',
      async ({ ana, caseId }) => {
        const photoRemoved = { hashes: [sha256(photoOf(9))], on, why: 'asked' }
        expectOk(await ana.casebook.save(caseId, { kind: 'save', set: { photoRemoved } }))
        await ana.casebook.settled()
      },
    ],
    [
      'the case was erased there',
      async ({ ana, caseId }) => {
        expectOk(await ana.casebook.eraseCase(caseId))
      },
    ],
    ['the asker was struck off', ({ strike }) => strike()],
  ])('are not given where %s', async (_, change) => {
    const setting = await lanes([photoOf(9)])
    await change(setting)
    expect(typeOf(await setting.bens().ask(setting.caseId, sha256(photoOf(9))))).toBe('photo-not-there')
    const given = setting.channels[0].sent.filter(frame => frame[0] === FRAME.lobby)
    // Kind of the frame, kind of the word, case, hash, from 0, of 0: and not one byte of the photo.
    expect(given.map(frame => frame.length)).toEqual([1 + 1 + 16 + 32 + 1 + 1])
  })

  it('that no store can read are not there, and others still come', async () => {
    const { ana, caseId, bens } = await lanes([photoOf(9), photoOf(10)])
    const { photo } = ana.casebook
    let isBroken = true
    ana.casebook.photo = (...asked) =>
      isBroken ? Promise.reject(new StorageUnreadable('this store is gone')) : photo.apply(ana.casebook, asked)
    const lane = bens()
    expect(typeOf(await lane.ask(caseId, sha256(photoOf(9))))).toBe('photo-not-there')
    isBroken = false
    expectOk(await lane.ask(caseId, sha256(photoOf(10))))
  })

  it('that this device has no room for are told so, and the lane goes on', async () => {
    let isFull = false
    const memory = createMemoryStorage()
    const storage = memory.open()
    const { keepPhoto } = storage
    storage.keepPhoto = async (...kept) =>
      isFull
        ? { ok: false, failure: { type: 'storage-full', message: 'No room is left. Nothing was kept.' } }
        : keepPhoto.apply(storage, kept)
    const { ben, caseId, bens } = await lanes([photoOf(9)], { storage })
    const lane = bens()
    isFull = true
    expect(typeOf(await lane.ask(caseId, sha256(photoOf(9))))).toBe('storage-full')
    isFull = false
    expectOk(await lane.ask(caseId, sha256(photoOf(9))))
    expect(await hasPhoto(ben, caseId, photoOf(9))).toBe(true)
  })

  it('are given up in words when nothing comes, and when the connection ends', async () => {
    const { caseId, channels, timer, bens } = await lanes([photoOf(9)])
    channels[0].onTheWay = frame => (frame[0] === FRAME.lobby ? undefined : frame)
    const lane = bens()
    const coming = lane.ask(caseId, sha256(photoOf(9)))
    await turns(50)
    timer.pass(PART_LIMIT_MS)
    const late = await coming
    expect(typeOf(late)).toBe('photo-not-in-time')
    expect(!late.ok && late.failure.message).toMatch(/Nothing is lost/)
    const another = lane.ask(caseId, sha256(photoOf(9)))
    await turns(50)
    channels[0].close()
    expect(typeOf(await another)).toBe('photo-parted')
    expect(typeOf(await lane.ask(caseId, sha256(photoOf(9))))).toBe('photo-parted')
  })
})

/** A part as the lane writes it: kind, case, hash, where from, how many bytes in all, the bytes. */
const partOf = (caseId: CaseId, hash: PhotoHash, from: number, of: number, bytes: Uint8Array): Uint8Array => {
  const number = (value: number): number[] =>
    value < 128 ? [value] : [(value % 128) | 128, ...number(Math.floor(value / 128))]
  return Uint8Array.from([
    LOBBY.photoPart,
    ...Buffer.from(caseId, 'base64url'),
    ...Buffer.from(hash, 'base64url'),
    ...number(from),
    ...number(of),
    ...bytes,
  ])
}

describe('a device that answers with what was not asked for', () => {
  const photo = photoOf(PART_BYTES + 1000)
  const hash = sha256(photo)
  const first = photo.subarray(0, PART_BYTES)
  const second = photo.subarray(PART_BYTES)
  it.each<[string, (caseId: CaseId) => readonly Uint8Array[], string]>([
    [
      'the photo itself (the control)',
      id => [partOf(id, hash, 0, photo.length, first), partOf(id, hash, PART_BYTES, photo.length, second)],
      'came',
    ],
    [
      'other bytes of the same length',
      id => [
        partOf(id, hash, 0, photo.length, new Uint8Array(PART_BYTES)),
        partOf(id, hash, PART_BYTES, photo.length, second),
      ],
      'wrong-hash',
    ],
    ['more than any photo has', id => [partOf(id, hash, 0, PHOTO_LIMIT_BYTES + 1, first)], 'photo-unusable'],
    ['a length beyond all numbers', id => [partOf(id, hash, 0, Number.MAX_SAFE_INTEGER, first)], 'photo-unusable'],
    ['a byte at a time', id => [partOf(id, hash, 0, photo.length, photo.subarray(0, 1))], 'photo-unusable'],
    ['an empty part', id => [partOf(id, hash, 0, photo.length, new Uint8Array())], 'photo-unusable'],
    ['more than it says', id => [partOf(id, hash, 0, 5, first)], 'photo-unusable'],
    [
      'another length halfway',
      id => [
        partOf(id, hash, 0, photo.length, first),
        partOf(id, hash, PART_BYTES, photo.length + 1, photo.subarray(PART_BYTES - 1)),
      ],
      'photo-unusable',
    ],
    [
      'no photo halfway',
      id => [partOf(id, hash, 0, photo.length, first), partOf(id, hash, PART_BYTES, 0, new Uint8Array())],
      'photo-not-there',
    ],
  ])('%s: %s', async (_, answers, expected) => {
    const { ben, caseId, channels, atAna, bens } = await lanes([photo])
    const left = [...answers(caseId)]
    // In the place of the lane at that end.
    atAna.lobby.listen(LOBBY.photoAsked, () => {
      const next = left.shift()
      if (next) channels[0].send(framed(FRAME.lobby, next))
    })
    expect(typeOf(await bens().ask(caseId, hash))).toBe(expected)
    expect(left).toEqual([])
    expect(await hasPhoto(ben, caseId, photo)).toBe(expected === 'came')
  })

  it('puts nothing into a case, and nothing in the place of what comes later', async () => {
    const { ben, caseId, channels, bens } = await lanes([photo])
    const lane = bens()
    // Before anything was asked, and of another photo and another part while something is.
    const unasked = [partOf(caseId, hash, 0, 4, photoOf(4)), partOf(caseId, sha256(photoOf(4)), 0, 4, photoOf(4))]
    for (const part of unasked) channels[0].send(framed(FRAME.lobby, part))
    await turns(20)
    expect(await hasPhoto(ben, caseId, photo)).toBe(false)
    const coming = lane.ask(caseId, hash)
    for (const part of [unasked[1], partOf(caseId, hash, PART_BYTES, photo.length, second)])
      if (part) channels[0].send(framed(FRAME.lobby, part))
    expectOk(await coming)
    expect(await hasPhoto(ben, caseId, photo)).toBe(true)
    expect(await ben.casebook.photo(caseId, sha256(photoOf(4)))).toBeUndefined()
  })
})

describe('a device that asks without end', () => {
  it('is answered in turn, with a rest now and then, and nothing is piled up for it', async () => {
    const { caseId, channels, timer } = await lanes([photoOf(9)])
    const question = Uint8Array.from([
      LOBBY.photoAsked,
      ...Buffer.from(caseId, 'base64url'),
      ...Buffer.from(sha256(photoOf(9)), 'base64url'),
      0,
    ])
    const answers = (): number => channels[0].sent.filter(frame => frame[0] === FRAME.lobby).length
    for (let count = 0; count < 1000; count += 1) channels[1].send(framed(FRAME.lobby, question))
    const until = async (count: number): Promise<void> => {
      while (answers() < count) await new Promise(setImmediate)
    }
    await until(MOST_ASKED_AT_ONCE)
    // One at a time from here on, as somebody does who waits for each answer.
    for (let count = MOST_ASKED_AT_ONCE + 1; count <= PARTS_IN_A_ROW; count += 1) {
      await turns(20)
      channels[1].send(framed(FRAME.lobby, question))
      await until(count)
    }
    for (let count = 0; count < 1000; count += 1) channels[1].send(framed(FRAME.lobby, question))
    await turns(500)
    expect(answers()).toBe(PARTS_IN_A_ROW)
    timer.pass(REST_MS)
    await until(PARTS_IN_A_ROW + MOST_ASKED_AT_ONCE - 1)
    await turns(500)
    expect(answers()).toBeLessThanOrEqual(PARTS_IN_A_ROW + MOST_ASKED_AT_ONCE)
  })
})

describe('hostile words of photos', () => {
  it('change nothing, end nothing, and a photo still comes', async () => {
    const photo = photoOf(20_000)
    const setting = await lanes([photo])
    const { ana, ben, caseId, channels } = setting
    const lane = setting.bens()
    const before = [await heldBy(ana.casebook), await heldBy(ben.casebook)]
    const good = partOf(caseId, sha256(photo), 0, photo.length, photo.subarray(0, 200))
    const said = fc.sample(
      fc.oneof(
        fc
          .tuple(fc.constantFrom(LOBBY.photoAsked, LOBBY.photoPart), fc.uint8Array({ maxLength: 120 }))
          .map(([kind, rest]) => Uint8Array.of(kind, ...rest)),
        fc.tuple(fc.nat(good.length), fc.nat(255), fc.boolean()).map(([at, byte, cuts]) => {
          const spoiled = good.slice(0, cuts ? at : good.length)
          spoiled[Math.max(1, at)] = byte
          spoiled[0] = byte % 2 === 0 ? LOBBY.photoPart : LOBBY.photoAsked
          return spoiled
        }),
      ),
      runs(1000),
    )
    const coming = lane.ask(caseId, sha256(photo))
    for (const message of said)
      for (const channel of channels) {
        channel.send(framed(FRAME.lobby, message))
        await turns(3)
        setting.timer.pass(REST_MS / 100)
      }
    await turns(50)
    await coming
    setting.timer.pass(REST_MS)
    expectOk(await lane.ask(caseId, sha256(photo)))
    expect(await hasPhoto(ben, caseId, photo)).toBe(true)
    expect([await heldBy(ana.casebook), await heldBy(ben.casebook)]).toEqual(before)
    console.log(`hostile words of photos: ${2 * said.length}`)
  })
})
