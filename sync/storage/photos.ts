import { failure, type Result, success } from '../../src/result.ts'
import { toBase64Url } from '../bytes.ts'
import type { DataKeys } from '../trust/data-keys.ts'
import { sha256 } from '../trust/digest.ts'
import type { Database } from './database.ts'
import type { StorageFailure, Stored } from './storage.ts'

/** Enough to see a wound's edge or a part number, about 200 kB. Project value. */
export const PHOTO_LONGEST_SIDE_PX = 1280
const JPEG_QUALITY = 0.7
const JPEG = 'image/jpeg'

export interface PhotoFailure {
  readonly type: 'not-a-photo' | 'wrong-hash' | StorageFailure['type']
  readonly message: string
}

const NOT_A_PHOTO: PhotoFailure = {
  type: 'not-a-photo',
  message: 'This file cannot be read as a photo. Nothing was added. Take the photo again, or choose another file.',
}

/**
 * Draws a photo anew as a JPEG of at most 1280 px. Only what is seen is drawn: place, time, device and the small preview
 * that cameras write into a file (Exif) are not in the new one. It stands upright, as the camera said it should.
 */
export const drawAnew = async (photo: Blob): Promise<Result<Blob, PhotoFailure>> => {
  let seen: ImageBitmap
  try {
    seen = await createImageBitmap(photo, { imageOrientation: 'from-image' })
  } catch {
    // The browser tells no more than that it cannot decode these bytes.
    return failure(NOT_A_PHOTO)
  }
  try {
    const scale = Math.min(1, PHOTO_LONGEST_SIDE_PX / Math.max(seen.width, seen.height))
    const canvas = document.createElement('canvas')
    canvas.width = Math.max(1, Math.round(seen.width * scale))
    canvas.height = Math.max(1, Math.round(seen.height * scale))
    const context = canvas.getContext('2d')
    if (!context) return failure(NOT_A_PHOTO)
    context.imageSmoothingQuality = 'high'
    context.drawImage(seen, 0, 0, canvas.width, canvas.height)
    const drawn = await new Promise<Blob | null>(resolve => canvas.toBlob(resolve, JPEG, JPEG_QUALITY))
    return drawn?.type === JPEG ? success(drawn) : failure(NOT_A_PHOTO)
  } finally {
    seen.close()
  }
}

/** Photos on this device: sealed, and known by what they show. An entry names a photo by its hash, never by a file name. */
export class Photos {
  readonly #database: Database
  readonly #keys: DataKeys

  constructor(database: Database, keys: DataKeys) {
    this.#database = database
    this.#keys = keys
  }

  /** Draws a photo anew and keeps it; gives its hash once it is stored. */
  async add(photo: Blob): Promise<Result<string, PhotoFailure>> {
    const drawn = await drawAnew(photo)
    if (!drawn.ok) return drawn
    const bytes = new Uint8Array(await drawn.value.arrayBuffer())
    const hash = toBase64Url(await sha256(bytes))
    const stored = await this.#put(hash, bytes)
    return stored.ok ? success(hash) : stored
  }

  /** Keeps a photo that one of the crew sent: these bytes and no others have that hash. */
  async receive(hash: string, bytes: Uint8Array): Promise<Result<undefined, PhotoFailure>> {
    if (toBase64Url(await sha256(bytes)) !== hash)
      return failure({
        type: 'wrong-hash',
        message:
          'The photo that came is not the one that was asked for. It was not kept. Ask again at the next meeting.',
      })
    return this.#put(hash, bytes)
  }

  /** JPEG bytes. Undefined when it is not here, or cannot be read any more: one of the crew may have it. */
  async get(hash: string): Promise<Uint8Array | undefined> {
    const name = await this.#keys.nameOf('photo', hash)
    const sealed: unknown = await this.#database.read(['photos'], transaction => {
      const found = transaction.objectStore('photos').get(name)
      return () => found.result
    })
    return sealed instanceof Uint8Array ? this.#keys.open('photo', name, sealed) : undefined
  }

  async remove(hash: string): Promise<Stored> {
    const name = await this.#keys.nameOf('photo', hash)
    return this.#database.write(['photos'], transaction => {
      transaction.objectStore('photos').delete(name)
    })
  }

  async #put(hash: string, bytes: Uint8Array): Promise<Stored> {
    const name = await this.#keys.nameOf('photo', hash)
    const sealed = await this.#keys.seal('photo', name, bytes)
    return this.#database.write(['photos'], transaction => {
      transaction.objectStore('photos').put(sealed, name)
    })
  }
}
