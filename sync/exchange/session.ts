import type { EntryId } from '../../src/ids.ts'
import type { ReadFailure } from '../../src/result.ts'
import { UPDATE_LIMIT_BYTES } from '../admit.ts'
import { ByteReader, equalBytes, UnreadableBytes } from '../bytes.ts'
import type { Transport } from '../transport/transport.ts'
import { HASH_BYTES, type Inventory } from './inventory.ts'
import { decodeMessage, encodeMessage, type Message, type MessageKind, type MessageOf } from './messages.ts'
import type { AdmitReport, DocumentKey, Replica } from './replica.ts'
import { Tally } from './tally.ts'

/** A message is filled up to about this many bytes: small enough that a cut loses little (project value). */
export const BATCH_BYTES = 256 * 1024
/** An entry's text has at most 16 KiB, so that this many overshoot a batch by 256 KiB at most. */
const ENTRIES_AT_ONCE = 16
/** Ids of one document in one message. A case has tens, the team document a few thousand. */
export const IDS_LIMIT = 60_000
/** More cases than this is no casebook (the plan is 10,000). */
export const CASES_LIMIT = 1_000_000
/** Stands for a document without entries. */
export const NO_HASH = new Uint8Array(HASH_BYTES)
const NOTHING_LOST = 'Nothing here was changed by it, and all that was taken over before is kept.'

/** Cases that one of the two has and the other lacks altogether, as their hashes told; seen from here. */
export interface Lacks {
  readonly onlyHere: number
  readonly onlyThere: number
}

/** How far something has come, in documents. `of` grows when more is found to differ. */
export interface Progress {
  readonly done: number
  readonly of: number
}
export interface RoundProgress extends Progress, Lacks {}

/** Whose copy still lacks something of the other's. */
export interface Lacking {
  readonly here: boolean
  readonly there: boolean
}

export const isSame = (a: MessageOf<'compare'>, b: MessageOf<'compare'>): boolean =>
  equalBytes(a.team, b.team) && equalBytes(a.catalogue, b.catalogue) && equalBytes(a.root, b.root)

/** Ends an exchange early, from wherever it stands. Caught in `exchange` only. */
export class Stopped extends Error {
  readonly status: 'broken-off' | 'refused'
  readonly reason: ReadFailure
  constructor(status: 'broken-off' | 'refused', reason: ReadFailure) {
    super(reason.message)
    this.status = status
    this.reason = reason
  }
}

/** Whether bytes are a state vector: pairs of client and clock. Asked before they reach the record. */
const isStateVector = (bytes: Uint8Array): boolean => {
  const reader = new ByteReader(bytes)
  try {
    for (let left = reader.count(2) * 2; left > 0; left -= 1) reader.number()
    reader.end()
    return true
  } catch (error) {
    if (!(error instanceof UnreadableBytes)) throw error
    return false
  }
}

/** One meeting over one connection: sends, receives, takes over, and keeps count of all of it. */
export class Session {
  readonly replica: Replica
  readonly inventory: Inventory
  readonly #transport: Transport
  readonly #onProgress: (progress: RoundProgress) => void
  readonly traffic = { messagesSent: 0, messagesReceived: 0, bytesSent: 0, bytesReceived: 0 }
  readonly tally = new Tally()
  entriesSent = 0
  /** Both sides named the same hashes, and nothing was taken over since. */
  equal = false
  /** What was held here when hashes were last named. */
  compared: ReadonlyMap<DocumentKey, Uint8Array> = new Map()

  constructor(
    replica: Replica,
    transport: Transport,
    inventory: Inventory,
    onProgress: (progress: RoundProgress) => void,
  ) {
    this.replica = replica
    this.#transport = transport
    this.inventory = inventory
    this.#onProgress = onProgress
  }

  progress(progress: RoundProgress): void {
    this.#onProgress(progress)
  }

  async send(message: Message): Promise<void> {
    const bytes = encodeMessage(message)
    this.traffic.messagesSent += 1
    this.traffic.bytesSent += bytes.length
    await this.#transport.send(bytes)
  }

  async receive(): Promise<Message> {
    const bytes = await this.#transport.receive()
    if (!bytes) throw new Stopped('broken-off', await this.#transport.closed)
    this.traffic.messagesReceived += 1
    this.traffic.bytesReceived += bytes.length
    const message = decodeMessage(bytes)
    if (!message.ok)
      return this.refuse('unreadable-message', `The other device sent a message that cannot be read. ${NOTHING_LOST}`)
    if (message.value.kind === 'refuse') {
      const { type } = message.value
      // Another device's words: nothing in them may move a cursor or end a line.
      const words = message.value.message.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}]/gu, ' ')
      throw new Stopped('refused', { type, message: `The other device ended the exchange. It says: ${words}` })
    }
    return message.value
  }

  /** Sends a question and gives the answer; any other kind of message ends the exchange. */
  async ask<Kind extends MessageKind>(question: Message, kind: Kind): Promise<MessageOf<Kind>> {
    await this.send(question)
    const answer = await this.receive()
    if (answer.kind !== kind) return this.unexpected(answer.kind)
    return answer as MessageOf<Kind>
  }

  /** Tells the other device why, and ends the exchange. */
  async refuse(type: string, message: string): Promise<never> {
    await this.send({ kind: 'refuse', type, message })
    throw new Stopped('refused', { type, message })
  }

  unexpected(kind: MessageKind): Promise<never> {
    return this.refuse(
      'unexpected-message',
      `A message "${kind}" came where it does not belong. ${NOTHING_LOST} Start the meeting again.`,
    )
  }

  async #note(key: DocumentKey, report: AdmitReport): Promise<number> {
    const added = this.tally.note(key, report)
    if (added > 0) this.equal = false
    if (this.tally.storeFailure) {
      const { type, message } = this.tally.storeFailure
      await this.send({ kind: 'refuse', type, message: 'The store of this device takes no more.' })
      throw new Stopped('refused', { type, message })
    }
    return added
  }

  /** Admits an update; resolves with the number of new entries once the store has committed them. */
  async takeUpdate(key: DocumentKey, update: Uint8Array): Promise<number> {
    return update.length === 0 ? 0 : this.#note(key, await this.replica.admitUpdate(key, update))
  }

  async takeEntries(key: DocumentKey, entries: readonly Uint8Array[]): Promise<number> {
    return entries.length === 0 ? 0 : this.#note(key, await this.replica.admitEntries(key, entries))
  }

  /** An erased case is not among the hashes: whoever asks for it by name gets nothing. */
  #shares(key: DocumentKey): boolean {
    return this.replica.hashes().has(key)
  }

  async entryIds(key: DocumentKey): Promise<readonly EntryId[]> {
    return this.#shares(key) ? this.replica.entryIds(key) : []
  }

  /** What the other side lacks of a document; empty when there is nothing, or too much for an update. */
  async updateFor(key: DocumentKey, stateVector: Uint8Array): Promise<Uint8Array> {
    if (!isStateVector(stateVector))
      return this.refuse('unreadable-message', `The other device sent a state that cannot be read. ${NOTHING_LOST}`)
    if (!this.#shares(key)) return new Uint8Array()
    const update = await this.replica.updateSince(key, stateVector)
    return update.length > UPDATE_LIMIT_BYTES ? new Uint8Array() : update
  }

  /** As many of the entries as fit one message, from the first id on. */
  async someEntries(
    key: DocumentKey,
    ids: readonly EntryId[],
  ): Promise<{ readonly dealt: number; readonly entries: readonly Uint8Array[] }> {
    if (!this.#shares(key)) return { dealt: ids.length, entries: [] }
    const entries: Uint8Array[] = []
    let dealt = 0
    for (let bytes = 0; dealt < ids.length && bytes < BATCH_BYTES; dealt += ENTRIES_AT_ONCE)
      for (const entry of await this.replica.entries(key, ids.slice(dealt, dealt + ENTRIES_AT_ONCE))) {
        entries.push(entry)
        bytes += entry.length
      }
    return { dealt: Math.min(dealt, ids.length), entries }
  }

  /** The hashes to be compared, of this moment. */
  async comparison(): Promise<MessageOf<'compare'>> {
    const hashes = new Map(this.replica.hashes())
    this.compared = hashes
    this.inventory.refresh(hashes)
    const [team, catalogue] = [hashes.get('team') ?? NO_HASH, hashes.get('catalogue') ?? NO_HASH]
    return {
      kind: 'compare',
      team,
      catalogue,
      caseCount: this.inventory.caseCount,
      root: await this.inventory.root(),
    }
  }
}
