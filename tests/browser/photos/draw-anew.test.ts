import { describe, expect, it } from 'vitest'
import { drawAnew } from '../../../components/case/photos/draw-anew.ts'
import { asBlob, cameraPicture, EXIF_SEGMENT, exifSegment, segmentsOf, withExif } from '../../support/camera-file.ts'

const latin = (bytes: Uint8Array): string => new TextDecoder('latin1').decode(bytes)
const drawn = async (photo: Blob): Promise<Uint8Array> => {
  const made = await drawAnew(photo)
  if (!made.ok) throw new Error(made.failure.type)
  return made.value
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

    const bytes = await drawn(asBlob(taken))
    expect(segmentsOf(bytes)).not.toContain(EXIF_SEGMENT)
    expect(latin(bytes)).not.toContain('Exif')
    expect(latin(bytes)).not.toContain(latin(exifSegment().subarray(-24)))
    // What is left is what the browser writes into every picture, also into one that never saw a camera.
    expect(segmentsOf(bytes)).toEqual(segmentsOf(await cameraPicture(300, 400)))
  })

  it('stands upright without being told how', async () => {
    const bytes = await drawn(asBlob(withExif(await cameraPicture(400, 300))))
    expect(await sizeOf(bytes)).toEqual([300, 400])
    // Dark was left; turned a quarter to the right it is above.
    expect(await brightnessAt(bytes, 150, 20)).toBeLessThan(40)
    expect(await brightnessAt(bytes, 150, 380)).toBeGreaterThan(215)
  })

  it('is at most 1280 px long, in its proportions, and a small one is not blown up', async () => {
    expect(await sizeOf(await drawn(asBlob(await cameraPicture(4000, 3000))))).toEqual([1280, 960])
    expect(await sizeOf(await drawn(asBlob(await cameraPicture(900, 3600))))).toEqual([320, 1280])
    expect(await sizeOf(await drawn(asBlob(await cameraPicture(640, 480))))).toEqual([640, 480])
  })

  it.each([
    ['a text', new TextEncoder().encode('not a photo')],
    ['nothing', new Uint8Array()],
  ])('that is none is refused: %s', async (_what, bytes) => {
    const refused = await drawAnew(asBlob(bytes as Uint8Array))
    expect(!refused.ok && refused.failure.type).toBe('not-a-photo')
  })

  it('that is too large for a camera is refused before it is read', async () => {
    const parts = Array.from({ length: 61 }, () => new Uint8Array(1_000_000))
    const refused = await drawAnew(new Blob(parts, { type: 'image/jpeg' }))
    expect(!refused.ok && refused.failure.type).toBe('too-large')
  })

  it('that is clear in places comes out white there, not black', async () => {
    const canvas = document.createElement('canvas')
    canvas.width = canvas.height = 20
    const png = await new Promise<Blob | null>(resolve => canvas.toBlob(resolve, 'image/png'))
    expect(await brightnessAt(await drawn(png ?? new Blob()), 10, 10)).toBeGreaterThan(250)
  })
})
