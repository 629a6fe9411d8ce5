import { failure, type Result, success } from '../../../src/result.ts'

/** Enough to see a wound's edge or a part number, about 200 kB. Project value. */
export const PHOTO_LONGEST_SIDE_PX = 1280
/** A larger file is no camera's JPEG, and reading it could take the memory of a small phone. Project value. */
export const LARGEST_FILE_BYTES = 60_000_000
const JPEG_QUALITY = 0.7
const JPEG = 'image/jpeg'

export interface NotDrawn {
  readonly type: 'not-a-photo' | 'too-large'
}

/**
 * Draws a photo anew as a JPEG of at most 1280 px. Only what is seen is drawn: place, time, device and the small preview
 * that cameras write into a file (Exif) are not in the new one. It stands upright, as the camera said it should.
 */
export const drawAnew = async (photo: Blob): Promise<Result<Uint8Array, NotDrawn>> => {
  if (photo.size > LARGEST_FILE_BYTES) return failure({ type: 'too-large' })
  let seen: ImageBitmap
  try {
    seen = await createImageBitmap(photo, { imageOrientation: 'from-image' })
  } catch {
    // The browser tells no more than that it cannot decode these bytes.
    return failure({ type: 'not-a-photo' })
  }
  try {
    const scale = Math.min(1, PHOTO_LONGEST_SIDE_PX / Math.max(seen.width, seen.height))
    const canvas = document.createElement('canvas')
    canvas.width = Math.max(1, Math.round(seen.width * scale))
    canvas.height = Math.max(1, Math.round(seen.height * scale))
    const context = canvas.getContext('2d')
    if (!context) return failure({ type: 'not-a-photo' })
    context.imageSmoothingQuality = 'high'
    // A picture that is clear in places would come out black there.
    context.fillStyle = '#fff'
    context.fillRect(0, 0, canvas.width, canvas.height)
    context.drawImage(seen, 0, 0, canvas.width, canvas.height)
    const drawn = await new Promise<Blob | null>(resolve => canvas.toBlob(resolve, JPEG, JPEG_QUALITY))
    // Its memory is given back now, and not before it was read.
    canvas.width = 0
    return drawn?.type === JPEG ? success(new Uint8Array(await drawn.arrayBuffer())) : failure({ type: 'not-a-photo' })
  } finally {
    seen.close()
  }
}
