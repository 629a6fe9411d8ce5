import {
  type CasebookId,
  type CaseId,
  casebookIdSchema,
  caseIdSchema,
  type EntryId,
  entryIdSchema,
} from '../../src/ids.ts'
import { failure, type ReadFailure, type Result, success } from '../../src/result.ts'
import { ByteReader, ByteWriter, fromBase64Url, toBase64Url, UnreadableBytes } from '../bytes.ts'
import { HASH_BYTES } from './inventory.ts'
import type { DocumentKey } from './replica.ts'

/** Versions of this protocol that this program speaks. */
export const LOWEST_VERSION = 1
export const HIGHEST_VERSION = 1

const ID_BYTES = 16
const NONCE_BYTES = 16
const REFUSAL_TEXT_BYTES = 2000

/** One document of a batch: what the sender gives, and from where on it wants to be given. */
export interface GivenDocument {
  readonly key: DocumentKey
  /** The sender's hash of it at this moment. */
  readonly hash: Uint8Array
  /** Empty when there is nothing to give, or too much for one message: then the entries are compared. */
  readonly update: Uint8Array
  /** The sender's own state; empty when nothing is wanted back. */
  readonly stateVector: Uint8Array
  /** How many entries the sender took over from the other side's copy. */
  readonly added: number
}

/**
 * The whole protocol. The lead asks, the other answers each message with one message: `hello` both ways first; `compare`
 * with `compare`; `buckets` with `lists`; `offer` with `give`; `give` and `entries` with `have` (sent once the store has
 * committed); `ids` with `ids`; `fetch` with `entries`. `done` ends it. `refuse` may stand anywhere and ends it too.
 */
export type Message =
  | {
      readonly kind: 'hello'
      readonly lowest: number
      readonly highest: number
      readonly casebookId: CasebookId
      readonly nonce: Uint8Array
    }
  | {
      readonly kind: 'compare'
      readonly team: Uint8Array
      readonly catalogue: Uint8Array
      readonly caseCount: number
      readonly root: Uint8Array
    }
  | {
      readonly kind: 'buckets'
      readonly bits: number
      readonly hashBytes: number
      /** Number of the first bucket in `hashes`; those before it were compared already. */
      readonly from: number
      readonly hashes: readonly Uint8Array[]
    }
  | {
      readonly kind: 'lists'
      /** Buckets before this one are dealt with. */
      readonly next: number
      readonly lists: readonly {
        readonly bucket: number
        readonly items: readonly { readonly caseId: CaseId; readonly hash: Uint8Array }[]
      }[]
    }
  | {
      readonly kind: 'offer'
      readonly done: number
      readonly of: number
      /** Cases that only the lead has, and that only the other one has, of those that differed so far. */
      readonly onlyLead: number
      readonly onlyOther: number
      readonly documents: readonly { readonly key: DocumentKey; readonly stateVector: Uint8Array }[]
    }
  | { readonly kind: 'give'; readonly documents: readonly GivenDocument[] }
  | {
      readonly kind: 'have'
      readonly documents: readonly { readonly key: DocumentKey; readonly hash: Uint8Array; readonly added: number }[]
    }
  | { readonly kind: 'ids'; readonly key: DocumentKey; readonly ids: readonly EntryId[] }
  | { readonly kind: 'fetch'; readonly key: DocumentKey; readonly ids: readonly EntryId[] }
  | {
      readonly kind: 'entries'
      readonly key: DocumentKey
      /** How many of the ids asked for are dealt with: those not here any more are left out. */
      readonly dealt: number
      readonly entries: readonly Uint8Array[]
    }
  | { readonly kind: 'done'; readonly leadHasEverything: boolean; readonly otherHasEverything: boolean }
  | { readonly kind: 'refuse'; readonly type: string; readonly message: string }

export type MessageKind = Message['kind']
export type MessageOf<Kind extends MessageKind> = Extract<Message, { readonly kind: Kind }>

/** The first byte of a message. A number is never given a second meaning. */
const NUMBERS: { readonly [Kind in MessageKind]: number } = {
  hello: 1,
  compare: 2,
  buckets: 3,
  lists: 4,
  offer: 5,
  give: 6,
  have: 7,
  ids: 8,
  fetch: 9,
  entries: 10,
  done: 11,
  refuse: 12,
}

const writeId = (writer: ByteWriter, id: string): void => {
  writer.fixed(fromBase64Url(id))
}
const readId = (reader: ByteReader): string => toBase64Url(reader.fixed(ID_BYTES))

/** A document's key in bytes: 0 team, 1 catalogue, 2 and 16 bytes of case id. */
export const writeKey = (writer: ByteWriter, key: DocumentKey): void => {
  writer.number(key === 'team' ? 0 : key === 'catalogue' ? 1 : 2)
  if (key !== 'team' && key !== 'catalogue') writeId(writer, key)
}
export const readKey = (reader: ByteReader): DocumentKey => {
  const kind = reader.number()
  if (kind === 0) return 'team'
  if (kind === 1) return 'catalogue'
  if (kind === 2) return caseIdSchema.parse(readId(reader))
  throw new UnreadableBytes(`a document of kind ${kind}`)
}

const writeMany = <Thing>(writer: ByteWriter, things: readonly Thing[], write: (thing: Thing) => void): void => {
  writer.number(things.length)
  for (const thing of things) write(thing)
}
const readMany = <Thing>(reader: ByteReader, bytesEach: number, read: () => Thing): Thing[] =>
  Array.from({ length: reader.count(bytesEach) }, read)

const writeIds = (writer: ByteWriter, ids: readonly EntryId[]): void =>
  writeMany(writer, ids, id => writeId(writer, id))
const readIds = (reader: ByteReader): EntryId[] => readMany(reader, ID_BYTES, () => entryIdSchema.parse(readId(reader)))

export const encodeMessage = (message: Message): Uint8Array => {
  const writer = new ByteWriter().number(NUMBERS[message.kind])
  switch (message.kind) {
    case 'hello':
      writer.number(message.lowest).number(message.highest)
      writeId(writer, message.casebookId)
      writer.fixed(message.nonce)
      break
    case 'compare':
      writer.fixed(message.team).fixed(message.catalogue).number(message.caseCount).fixed(message.root)
      break
    case 'buckets':
      writer.number(message.bits).number(message.hashBytes).number(message.from)
      writeMany(writer, message.hashes, hash => writer.fixed(hash))
      break
    case 'lists':
      writer.number(message.next)
      writeMany(writer, message.lists, ({ bucket, items }) => {
        writer.number(bucket)
        writeMany(writer, items, item => {
          writeId(writer, item.caseId)
          writer.piece(item.hash)
        })
      })
      break
    case 'offer':
      writer.number(message.done).number(message.of).number(message.onlyLead).number(message.onlyOther)
      writeMany(writer, message.documents, ({ key, stateVector }) => {
        writeKey(writer, key)
        writer.piece(stateVector)
      })
      break
    case 'give':
      writeMany(writer, message.documents, ({ key, hash, update, stateVector, added }) => {
        writeKey(writer, key)
        writer.fixed(hash).piece(update).piece(stateVector).number(added)
      })
      break
    case 'have':
      writeMany(writer, message.documents, ({ key, hash, added }) => {
        writeKey(writer, key)
        writer.fixed(hash).number(added)
      })
      break
    case 'ids':
    case 'fetch':
      writeKey(writer, message.key)
      writeIds(writer, message.ids)
      break
    case 'entries':
      writeKey(writer, message.key)
      writer.number(message.dealt)
      writeMany(writer, message.entries, entry => writer.piece(entry))
      break
    case 'done':
      writer.number((message.leadHasEverything ? 1 : 0) + (message.otherHasEverything ? 2 : 0))
      break
    case 'refuse':
      writer.text(message.type).text(message.message)
      break
  }
  return writer.done()
}

const KINDS = new Map(Object.entries(NUMBERS).map(([kind, number]) => [number, kind as MessageKind]))

const read = (reader: ByteReader): Message => {
  const number = reader.number()
  const kind = KINDS.get(number)
  switch (kind) {
    case 'hello': {
      const hello = {
        kind,
        lowest: reader.number(),
        highest: reader.number(),
        casebookId: casebookIdSchema.parse(readId(reader)),
        nonce: reader.fixed(NONCE_BYTES),
      } as const
      // A later version may say more in its hello; all else must end where it ends.
      reader.fixed(reader.left)
      return hello
    }
    case 'compare':
      return {
        kind,
        team: reader.fixed(HASH_BYTES),
        catalogue: reader.fixed(HASH_BYTES),
        caseCount: reader.number(),
        root: reader.fixed(HASH_BYTES),
      }
    case 'buckets': {
      const [bits, hashBytes, from] = [reader.number(), reader.number(), reader.number()]
      if (hashBytes < 1 || hashBytes > HASH_BYTES) throw new UnreadableBytes(`hashes of ${hashBytes} bytes`)
      return { kind, bits, hashBytes, from, hashes: readMany(reader, hashBytes, () => reader.fixed(hashBytes)) }
    }
    case 'lists':
      return {
        kind,
        next: reader.number(),
        lists: readMany(reader, 2, () => ({
          bucket: reader.number(),
          items: readMany(reader, ID_BYTES + 1, () => ({
            caseId: caseIdSchema.parse(readId(reader)),
            hash: reader.piece(),
          })),
        })),
      }
    case 'offer':
      return {
        kind,
        done: reader.number(),
        of: reader.number(),
        onlyLead: reader.number(),
        onlyOther: reader.number(),
        documents: readMany(reader, 2, () => ({ key: readKey(reader), stateVector: reader.piece() })),
      }
    case 'give':
      return {
        kind,
        documents: readMany(reader, 4 + HASH_BYTES, () => ({
          key: readKey(reader),
          hash: reader.fixed(HASH_BYTES),
          update: reader.piece(),
          stateVector: reader.piece(),
          added: reader.number(),
        })),
      }
    case 'have':
      return {
        kind,
        documents: readMany(reader, 2 + HASH_BYTES, () => ({
          key: readKey(reader),
          hash: reader.fixed(HASH_BYTES),
          added: reader.number(),
        })),
      }
    case 'ids':
    case 'fetch':
      return { kind, key: readKey(reader), ids: readIds(reader) }
    case 'entries':
      return { kind, key: readKey(reader), dealt: reader.number(), entries: readMany(reader, 1, () => reader.piece()) }
    case 'done': {
      const flags = reader.number()
      return { kind, leadHasEverything: flags % 2 === 1, otherHasEverything: flags >= 2 }
    }
    case 'refuse':
      return { kind, type: reader.text(REFUSAL_TEXT_BYTES), message: reader.text(REFUSAL_TEXT_BYTES) }
    default:
      throw new UnreadableBytes(`a message of kind ${number}`)
  }
}

/** Reads a message that came from another device. Never throws; the pieces in it are views of `bytes`. */
export const decodeMessage = (bytes: Uint8Array): Result<Message, ReadFailure> => {
  const reader = new ByteReader(bytes)
  try {
    const message = read(reader)
    reader.end()
    return success(message)
  } catch (error) {
    if (!(error instanceof UnreadableBytes)) throw error
    return failure({ type: 'unreadable-message', message: error.message })
  }
}
