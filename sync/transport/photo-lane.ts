import { type CaseId, caseIdSchema, type PhotoHash, photoHashSchema } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { ByteReader, ByteWriter, fromBase64Url, toBase64Url, UnreadableBytes } from '../bytes.ts'
import type { SaveFailure } from '../statement.ts'
import { StorageUnreadable } from '../storage/storage.ts'
import type { Timer } from '../timer.ts'
import { FRAME_BYTES, type FramedTransport, LOBBY } from './frames.ts'

/** A photo drawn anew has some hundred KiB; nothing longer is asked for to its end (project value). */
export const PHOTO_LIMIT_BYTES = 2 * 1024 * 1024
/** One frame of the lobby, and what stands before the bytes in it. */
export const PART_BYTES = FRAME_BYTES - 128
/** The other end may rest, its store may be slow, and the exchange goes first (project value). */
export const PART_LIMIT_MS = 20_000
/** Who asks in turn has one question under way; what comes beyond is not looked at (project value). */
export const MOST_ASKED_AT_ONCE = 4
/** After so many parts it rests, so that whoever asks without end does not keep this device busy (project values). */
export const PARTS_IN_A_ROW = 64
export const REST_MS = 500

const CASE_ID_BYTES = 16
const HASH_BYTES = 32
const NO_BYTES = new Uint8Array()

/** What a device shows and keeps of photos. */
export interface PhotoCasebook {
  /** Undefined where it may not be shown, or is not here. */
  photo(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined>
  /** Refuses bytes that are not those of this hash. */
  receivePhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Result<undefined, SaveFailure>>
}

export interface PhotoLaneOptions {
  readonly timer: Timer
  /** Whether the other device still stands in the crew. */
  admits(): boolean
}

export interface PhotoLaneFailure {
  readonly type: 'photo-not-there' | 'photo-not-in-time' | 'photo-unusable' | 'photo-parted' | SaveFailure['type']
  readonly message: string
}
type Came = Result<undefined, PhotoLaneFailure>

const FAILURES = {
  'photo-not-there': 'The other device does not have this photo either. Nothing is lost; another one of the crew may.',
  'photo-not-in-time': 'The photo did not come in time. Nothing is lost; it can be asked for again.',
  'photo-unusable': 'What came is not this photo. It was not kept. Ask another one of the crew.',
  'photo-parted': 'The connection ended before the photo had come. Nothing is lost; ask again at the next meeting.',
} as const
const failed = (type: keyof typeof FAILURES): Result<never, PhotoLaneFailure> =>
  failure({ type, message: FAILURES[type] })

/** A question for the part of a photo that begins at `from`. */
interface Ask {
  readonly caseId: CaseId
  readonly hash: PhotoHash
  readonly from: number
}

/** Bytes of the photo from there on; it has `of` in all, and 0 where it is not to be had. */
interface Part extends Ask {
  readonly of: number
  readonly bytes: Uint8Array
}

const writeAsk = (kind: number, { caseId, hash, from }: Ask): ByteWriter =>
  new ByteWriter().fixed(Uint8Array.of(kind)).fixed(fromBase64Url(caseId)).fixed(fromBase64Url(hash)).number(from)

const readAsk = (reader: ByteReader): Ask => {
  reader.fixed(1)
  return {
    caseId: caseIdSchema.parse(toBase64Url(reader.fixed(CASE_ID_BYTES))),
    hash: photoHashSchema.parse(toBase64Url(reader.fixed(HASH_BYTES))),
    from: reader.number(),
  }
}

/** Undefined for what cannot be read: it is passed over. */
const read = <Message>(message: Uint8Array, readWith: (reader: ByteReader) => Message): Message | undefined => {
  const reader = new ByteReader(message)
  try {
    const read = readWith(reader)
    reader.end()
    return read
  } catch (error) {
    if (!(error instanceof UnreadableBytes)) throw error
    return undefined
  }
}

/**
 * Photos between two devices of the crew, beside the exchange of one connection: each asks for what it lacks and is answered
 * with what may be shown. A photo comes in parts of one frame, each asked for by itself and sent when little else waits, so
 * that the exchange is held up by one frame at most. Nothing that comes unasked, twice, out of turn or too long is kept.
 */
export class PhotoLane {
  readonly #casebook: PhotoCasebook
  readonly #transport: FramedTransport
  readonly #options: PhotoLaneOptions
  readonly #asked: Ask[] = []
  #isAnswering = false
  #partsSent = 0
  #isOver = false
  /** One photo after the other. */
  #turn: Promise<unknown> = Promise.resolve()
  #hearPart: (part: Part) => void = () => undefined
  #endWaiting: (why: Result<never, PhotoLaneFailure>) => void = () => undefined

  constructor(casebook: PhotoCasebook, transport: FramedTransport, options: PhotoLaneOptions) {
    this.#casebook = casebook
    this.#transport = transport
    this.#options = options
    transport.lobby.listen(LOBBY.photoAsked, message => this.#takeAsk(read(message, readAsk)))
    transport.lobby.listen(LOBBY.photoPart, message => {
      const part = read(message, reader => ({
        ...readAsk(reader),
        of: reader.number(),
        bytes: reader.fixed(reader.left),
      }))
      if (part) this.#hearPart(part)
    })
    void transport.closed.then(() => {
      this.#isOver = true
      this.#endWaiting(failed('photo-parted'))
    })
  }

  /** Asks for a photo, after those asked for before. Comes when it is kept here, or says why not. */
  ask(caseId: CaseId, hash: PhotoHash): Promise<Came> {
    const coming = this.#turn.then(() => this.#fetch(caseId, hash))
    // A store that fails is told to whoever asked; the next one has its turn all the same.
    this.#turn = coming.catch(() => undefined)
    return coming
  }

  async #fetch(caseId: CaseId, hash: PhotoHash): Promise<Came> {
    let photo = NO_BYTES
    for (let from = 0; from === 0 || from < photo.length; ) {
      const part = await this.#part({ caseId, hash, from })
      if (!part.ok) return part
      const { of, bytes } = part.value
      if (of === 0) return failed('photo-not-there')
      if (of > PHOTO_LIMIT_BYTES || bytes.length !== Math.min(PART_BYTES, of - from)) return failed('photo-unusable')
      if (from === 0) photo = new Uint8Array(of)
      if (of !== photo.length) return failed('photo-unusable')
      photo.set(bytes, from)
      from += bytes.length
    }
    return this.#casebook.receivePhoto(caseId, hash, photo)
  }

  #part(ask: Ask): Promise<Result<Part, PhotoLaneFailure>> {
    if (this.#isOver) return Promise.resolve(failed('photo-parted'))
    return new Promise(resolve => {
      const settle = (result: Result<Part, PhotoLaneFailure>): void => {
        callOff()
        this.#hearPart = () => undefined
        this.#endWaiting = () => undefined
        resolve(result)
      }
      const callOff = this.#options.timer.later(() => settle(failed('photo-not-in-time')), PART_LIMIT_MS)
      this.#endWaiting = settle
      this.#hearPart = part => {
        if (part.caseId === ask.caseId && part.hash === ask.hash && part.from === ask.from) settle(success(part))
      }
      this.#transport.lobby.send(writeAsk(LOBBY.photoAsked, ask).done())
    })
  }

  #takeAsk(ask: Ask | undefined): void {
    if (!ask || this.#asked.length === MOST_ASKED_AT_ONCE) return
    this.#asked.push(ask)
    if (!this.#isAnswering) void this.#answer()
  }

  async #answer(): Promise<void> {
    this.#isAnswering = true
    const { lobby } = this.#transport
    for (let ask = this.#asked[0]; ask && !this.#isOver; ask = this.#asked[0]) {
      const photo = (await this.#shown(ask)) ?? NO_BYTES
      await lobby.drained()
      const bytes = photo.subarray(ask.from, ask.from + PART_BYTES)
      lobby.send(writeAsk(LOBBY.photoPart, ask).number(photo.length).fixed(bytes).done())
      this.#partsSent += 1
      if (this.#partsSent % PARTS_IN_A_ROW === 0)
        await new Promise<void>(rest => this.#options.timer.later(rest, REST_MS))
      this.#asked.shift()
    }
    this.#isAnswering = false
  }

  async #shown({ caseId, hash }: Ask): Promise<Uint8Array | undefined> {
    if (!this.#options.admits()) return undefined
    try {
      return await this.#casebook.photo(caseId, hash)
    } catch (error) {
      if (!(error instanceof StorageUnreadable)) throw error
      // This device's own trouble, told where it shows its store; to the other one the photo is not here.
      return undefined
    }
  }
}
