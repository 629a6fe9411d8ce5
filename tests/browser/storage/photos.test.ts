import { describe, expect, it } from 'vitest'
import { toBase64Url } from '../../../sync/bytes.ts'
import { Database } from '../../../sync/storage/database.ts'
import { Photos } from '../../../sync/storage/photos.ts'
import { expectOk } from '../../support/casebooks.ts'
import { freshName, rawDatabase, testKeys } from '../../support/sealed-stores.ts'

const latin = (bytes: Uint8Array): string => new TextDecoder('latin1').decode(bytes)

/** Left half dark, right half light, so that one can see how it stands. */
const cameraPicture = async (width: number, height: number): Promise<Uint8Array> => {
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const context = canvas.getContext('2d')
  if (!context) throw new Error('no canvas')
  context.fillStyle = '#000'
  context.fillRect(0, 0, width / 2, height)
  context.fillStyle = '#fff'
  context.fillRect(width / 2, 0, width / 2, height)
  const blob = await new Promise<Blob | null>(resolve => canvas.toBlob(resolve, 'image/jpeg', 0.9))
  if (!blob) throw new Error('no picture')
  return new Uint8Array(await blob.arrayBuffer())
}

/**
 * Exif as a phone's camera writes it (CIPA DC-008-2019, 4.6): a TIFF block, big-endian, with orientation 6 ("turn a quarter
 * to the right") and a GPS part that holds 12 degrees 34 minutes 56 seconds north.
 */
const exifSegment = (): Uint8Array => {
  const tiff: number[] = []
  const u16 = (value: number): void => {
    tiff.push(value >> 8, value & 255)
  }
  const u32 = (value: number): void => {
    u16(value >>> 16)
    u16(value & 0xffff)
  }
  tiff.push(0x4d, 0x4d)
  u16(42)
  u32(8)
  // First part at 8: two fields, orientation (0x0112, SHORT) and where the GPS part stands (0x8825, LONG).
  u16(2)
  for (const value of [0x0112, 3]) u16(value)
  u32(1)
  u16(6)
  u16(0)
  for (const value of [0x8825, 4]) u16(value)
  u32(1)
  u32(38)
  u32(0)
  // GPS part at 38: latitude's letter (1, ASCII) and the latitude (2, three RATIONALs at 68).
  u16(2)
  for (const value of [1, 2]) u16(value)
  u32(2)
  tiff.push(0x4e, 0, 0, 0)
  for (const value of [2, 5]) u16(value)
  u32(3)
  u32(68)
  u32(0)
  for (const value of [12, 1, 34, 1, 56, 1]) u32(value)

  const body = [...new TextEncoder().encode('Exif'), 0, 0, ...tiff]
  return new Uint8Array([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255, ...body])
}

/** A camera's file: the picture with Exif directly after the start of the image (ITU-T T.81, B.1.1.3). */
const withExif = (jpeg: Uint8Array): Uint8Array<ArrayBuffer> =>
  new Uint8Array([...jpeg.subarray(0, 2), ...exifSegment(), ...jpeg.subarray(2)])

/** Marker codes of the segments before the picture's own data (ITU-T T.81, table B.1). */
const segmentsOf = (jpeg: Uint8Array): readonly number[] => {
  const found: number[] = []
  let at = 2
  while (jpeg[at] === 0xff && jpeg[at + 1] !== 0xda) {
    found.push(jpeg[at + 1] ?? 0)
    at += 2 + (jpeg[at + 2] ?? 0) * 256 + (jpeg[at + 3] ?? 0)
  }
  return found
}
const EXIF_SEGMENT = 0xe1

const newPhotos = async () => {
  const name = freshName()
  return { name, photos: new Photos(expectOk(await Database.open(indexedDB, name)), await testKeys()) }
}
const asBlob = (bytes: Uint8Array): Blob => new Blob([bytes as Uint8Array<ArrayBuffer>], { type: 'image/jpeg' })
const kept = async (photos: Photos, photo: Blob): Promise<Uint8Array> => {
  const bytes = await photos.get(expectOk(await photos.add(photo)))
  if (!bytes) throw new Error('a photo just added is not there')
  return bytes
}
const brightnessAt = async (jpeg: Uint8Array, x: number, y: number): Promise<number> => {
  // As the bytes are, whatever they say about turning.
  const seen = await createImageBitmap(asBlob(jpeg), { imageOrientation: 'none' })
  const canvas = document.createElement('canvas')
  canvas.width = seen.width
  canvas.height = seen.height
  const context = canvas.getContext('2d')
  context?.drawImage(seen, 0, 0)
  return context?.getImageData(x, y, 1, 1).data[0] ?? -1
}
const sizeOf = async (jpeg: Uint8Array): Promise<readonly [number, number]> => {
  const { width, height } = await createImageBitmap(asBlob(jpeg), { imageOrientation: 'none' })
  return [width, height]
}

describe('a photo', () => {
  it('comes out without the place where it was taken, and without anything else the camera wrote', async () => {
    const taken = withExif(await cameraPicture(400, 300))
    // The control: the file has its place in it, and the browser understands the block (it turns the picture by it).
    expect(segmentsOf(taken)).toContain(EXIF_SEGMENT)
    const turned = await createImageBitmap(asBlob(taken))
    expect([turned.width, turned.height]).toEqual([300, 400])

    const { photos } = await newPhotos()
    const bytes = await kept(photos, asBlob(taken))
    expect(segmentsOf(bytes)).not.toContain(EXIF_SEGMENT)
    expect(latin(bytes)).not.toContain('Exif')
    expect(latin(bytes)).not.toContain(latin(exifSegment().subarray(-24)))
    // What is left is what the browser writes into every picture, also into one that never saw a camera.
    expect(segmentsOf(bytes)).toEqual(segmentsOf(await cameraPicture(300, 400)))
  })

  it('stands upright without being told how', async () => {
    const { photos } = await newPhotos()
    const bytes = await kept(photos, asBlob(withExif(await cameraPicture(400, 300))))
    expect(await sizeOf(bytes)).toEqual([300, 400])
    // Dark was left; turned a quarter to the right it is above.
    expect(await brightnessAt(bytes, 150, 20)).toBeLessThan(40)
    expect(await brightnessAt(bytes, 150, 380)).toBeGreaterThan(215)
  })

  it('is at most 1280 px long, in its proportions, and a small one is not blown up', async () => {
    const { photos } = await newPhotos()
    expect(await sizeOf(await kept(photos, asBlob(await cameraPicture(4000, 3000))))).toEqual([1280, 960])
    expect(await sizeOf(await kept(photos, asBlob(await cameraPicture(900, 3600))))).toEqual([320, 1280])
    expect(await sizeOf(await kept(photos, asBlob(await cameraPicture(640, 480))))).toEqual([640, 480])
  })

  it('is named by the SHA-256 of its bytes and lies sealed on the disk', async () => {
    const { name, photos } = await newPhotos()
    const hash = expectOk(await photos.add(asBlob(await cameraPicture(640, 480))))
    const bytes = (await photos.get(hash)) ?? new Uint8Array()
    const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>))
    expect(toBase64Url(digest)).toBe(hash)
    const [names, sealed] = await rawDatabase(name, ['photos'], transaction => {
      const store = transaction.objectStore('photos')
      const asked = [store.getAllKeys(), store.getAll()] as const
      return () => [asked[0].result, asked[1].result] as const
    })
    expect(names).toHaveLength(1)
    expect(names).not.toContain(hash)
    expect(latin(sealed[0])).not.toContain(latin(bytes.subarray(0, 40)))
  })

  it('of a peer is taken only when it is the one asked for', async () => {
    const [ana, ben] = [(await newPhotos()).photos, (await newPhotos()).photos]
    const hash = expectOk(await ana.add(asBlob(await cameraPicture(640, 480))))
    const bytes = (await ana.get(hash)) ?? new Uint8Array()
    const altered = bytes.slice()
    altered[100] = (altered[100] ?? 0) ^ 1
    const refused = await ben.receive(hash, altered)
    expect(!refused.ok && refused.failure.type).toBe('wrong-hash')
    expect(await ben.get(hash)).toBeUndefined()
    expectOk(await ben.receive(hash, bytes))
    expect(await ben.get(hash)).toEqual(bytes)
  })

  it('is gone when it was removed, and only that one', async () => {
    const { photos } = await newPhotos()
    const first = expectOk(await photos.add(asBlob(await cameraPicture(640, 480))))
    const second = expectOk(await photos.add(asBlob(await cameraPicture(320, 240))))
    expectOk(await photos.remove(first))
    expect(await photos.get(first)).toBeUndefined()
    expect((await photos.get(second))?.length).toBeGreaterThan(0)
  })

  it.each([
    ['a text', new TextEncoder().encode('not a photo')],
    ['nothing', new Uint8Array()],
  ])('that is none is refused in words: %s', async (_what, bytes) => {
    const { photos } = await newPhotos()
    const refused = await photos.add(asBlob(bytes as Uint8Array))
    expect(!refused.ok && refused.failure.type).toBe('not-a-photo')
    expect(!refused.ok && refused.failure.message).toMatch(/cannot be read.*Nothing was added.*again/)
  })
})
