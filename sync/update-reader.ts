// The layout that Yjs 13.6 gives an update in its second format, read the way Yjs reads it, but with limits: run-length
// coding lets some forty bytes announce thousands of millions of parts, which Yjs would all make before it noticed.

/** Parts an update may announce: each of ours takes 80 bytes and more, a deleted one about 25. */
const partsAllowed = (bytes: number): number => 64 + bytes / 8
/** Far beyond any real clock, and safe to add up. */
const CLOCK_LIMIT = 2 ** 40

const BITS_OF_KIND = 0b0001_1111
const HAS_ORIGIN = 0b1000_0000
const HAS_RIGHT_ORIGIN = 0b0100_0000
const HAS_KEY = 0b0010_0000

const KINDS = {
  collected: 0,
  deleted: 1,
  json: 2,
  bytes: 3,
  text: 4,
  embed: 5,
  format: 6,
  type: 7,
  any: 8,
  doc: 9,
  gap: 10,
} as const
const TYPES_WITH_KEY: readonly number[] = [3, 5]

/** One part of an update: who wrote it, where in its writer's count it stands, and what it is to us. */
export interface UpdatePart {
  readonly client: number
  readonly clock: number
  readonly length: number
  /** `value`: bytes. `nothing`: deleted content, or a gap. `foreign`: whatever no document of ours ever holds. */
  readonly kind: 'value' | 'nothing' | 'foreign'
  readonly signed: Uint8Array | null
  /** The name of the root it is put under, where that is said; parts put next to another one do not say it. */
  readonly root: string | null
  readonly key: string | null
  /** Written without knowledge of another value under its key. */
  readonly isFirst: boolean
}

export interface UpdateParts {
  readonly parts: readonly UpdatePart[]
  readonly deletesNothing: boolean
}

/** The decoder of Yjs' second format, as far as it is used here; `case-document.ts` brings it. */
export interface UpdateDecoder {
  readonly restDecoder: { readonly arr: Uint8Array; pos: number }
  readClient(): number
  readInfo(): number
  readLen(): number
  readLeftID(): unknown
  readRightID(): unknown
  readParentInfo(): boolean
  readString(): string
  readTypeRef(): number
  readKey(): string
  readBuf(): Uint8Array
  readAny(): unknown
  readJSON(): unknown
}

class TooMuch extends Error {}

/** The part of the decoder that has no method for plain numbers. */
const readNumber = (rest: { readonly arr: Uint8Array; pos: number }): number => {
  let value = 0
  for (let scale = 1; scale <= 2 ** 49; scale *= 128) {
    const byte = rest.arr[rest.pos]
    if (byte === undefined) throw new TooMuch('ends inside a number')
    rest.pos += 1
    value += (byte & 127) * scale
    if (byte < 128) return value
  }
  throw new TooMuch('a number that is too large')
}

class PartReader {
  readonly #decoder: UpdateDecoder
  #left: number

  constructor(decoder: UpdateDecoder) {
    this.#decoder = decoder
    this.#left = partsAllowed(decoder.restDecoder.arr.length)
  }

  read(): UpdateParts {
    const parts: UpdatePart[] = []
    for (let writers = this.#spend(this.#number()); writers > 0; writers -= 1) {
      const count = this.#spend(this.#number())
      const client = this.#decoder.readClient()
      let clock = this.#number()
      for (let index = 0; index < count; index += 1) {
        const part = this.#part(client, clock)
        clock += part.length
        if (!(clock <= CLOCK_LIMIT) || part.length < 1) throw new TooMuch('a count beyond all sense')
        parts.push(part)
      }
    }
    return { parts, deletesNothing: this.#number() === 0 }
  }

  #number(): number {
    return readNumber(this.#decoder.restDecoder)
  }

  /** Takes what is announced from what is allowed in all, before any of it is made. */
  #spend(count: number): number {
    this.#left -= count
    if (!(this.#left >= 0)) throw new TooMuch('announces more parts than its bytes can hold')
    return count
  }

  #part(client: number, clock: number): UpdatePart {
    const decoder = this.#decoder
    const info = decoder.readInfo()
    const kind = info & BITS_OF_KIND
    const nothing = { client, clock, kind: 'nothing', signed: null, root: null, key: null, isFirst: false } as const
    if (kind === KINDS.collected) return { ...nothing, length: decoder.readLen() }
    if (kind === KINDS.gap) return { ...nothing, length: this.#number() }

    const isFirst = (info & (HAS_ORIGIN | HAS_RIGHT_ORIGIN)) === 0
    if (info & HAS_ORIGIN) decoder.readLeftID()
    if (info & HAS_RIGHT_ORIGIN) decoder.readRightID()
    let root: string | null = null
    let isInside = false
    if (isFirst) {
      if (decoder.readParentInfo()) root = decoder.readString()
      else {
        decoder.readLeftID()
        isInside = true
      }
    }
    const key = isFirst && info & HAS_KEY ? decoder.readString() : null
    const place = { client, clock, root, key, isFirst }
    if (kind === KINDS.bytes) {
      const signed = decoder.readBuf()
      return { ...place, length: 1, kind: isInside ? 'foreign' : 'value', signed }
    }
    if (kind === KINDS.deleted)
      return { ...place, length: decoder.readLen(), kind: isInside ? 'foreign' : 'nothing', signed: null }
    return { ...place, length: this.#passOver(kind), kind: 'foreign', signed: null }
  }

  /** Goes past content that we never write, to what may stand behind it. Gives its length. */
  #passOver(kind: number): number {
    const decoder = this.#decoder
    switch (kind) {
      case KINDS.json: {
        const length = this.#spend(decoder.readLen())
        for (let index = 0; index < length; index += 1) decoder.readString()
        return length
      }
      case KINDS.any: {
        const length = this.#spend(decoder.readLen())
        for (let index = 0; index < length; index += 1) decoder.readAny()
        return length
      }
      case KINDS.text:
        return decoder.readString().length
      case KINDS.embed:
        decoder.readJSON()
        return 1
      case KINDS.format:
        decoder.readKey()
        decoder.readJSON()
        return 1
      case KINDS.type:
        if (TYPES_WITH_KEY.includes(decoder.readTypeRef())) decoder.readKey()
        return 1
      case KINDS.doc:
        decoder.readString()
        decoder.readAny()
        return 1
      default:
        throw new TooMuch(`content of a kind that Yjs does not have: ${kind}`)
    }
  }
}

/** The parts of an update, in order. Undefined for bytes that are no update, or announce more than they can hold. */
export const readUpdateParts = (decoderOf: () => UpdateDecoder): UpdateParts | undefined => {
  try {
    return new PartReader(decoderOf()).read()
  } catch {
    // Whatever the decoder throws for bytes from outside: they are not an update, and nothing was touched.
    return undefined
  }
}
