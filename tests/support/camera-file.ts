/** Left half dark, right half light, so that one can see how it stands. */
export const cameraPicture = async (width: number, height: number): Promise<Uint8Array> => {
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
export const exifSegment = (): Uint8Array => {
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
export const withExif = (jpeg: Uint8Array): Uint8Array<ArrayBuffer> =>
  new Uint8Array([...jpeg.subarray(0, 2), ...exifSegment(), ...jpeg.subarray(2)])

/** Marker codes of the segments before the picture's own data (ITU-T T.81, table B.1). */
export const segmentsOf = (jpeg: Uint8Array): readonly number[] => {
  const found: number[] = []
  let at = 2
  while (jpeg[at] === 0xff && jpeg[at + 1] !== 0xda) {
    found.push(jpeg[at + 1] ?? 0)
    at += 2 + (jpeg[at + 2] ?? 0) * 256 + (jpeg[at + 3] ?? 0)
  }
  return found
}
export const EXIF_SEGMENT = 0xe1

export const asBlob = (bytes: Uint8Array): Blob => new Blob([bytes as Uint8Array<ArrayBuffer>], { type: 'image/jpeg' })
