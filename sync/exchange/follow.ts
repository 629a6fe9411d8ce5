import type { CaseId } from '../../src/ids.ts'
import { equalBytes } from '../bytes.ts'
import { BITS_LIMIT } from './inventory.ts'
import type { GivenDocument, Message, MessageOf } from './messages.ts'
import type { DocumentKey } from './replica.ts'
import { BATCH_BYTES, CASES_LIMIT, isSame, type Lacking, NO_HASH, type Session } from './session.ts'

/** Bytes of a listed case: its id and what stands around it. */
const ITEM_BYTES = 18
/** Questions a meeting may ask beyond ten for each document that either side says it has (project value). */
const QUESTIONS_TO_SPARE = 1000

/** Answers the lead until it is done. Gives what the lead says is still lacking, seen from here. */
export const follow = async (session: Session): Promise<Lacking> => {
  const answering = new Answering(session)
  for (;;) {
    const message = await session.receive()
    if (message.kind === 'done') {
      // The lead's word cannot make us equal: the hashes that both named decide.
      if (session.equal) return { here: false, there: false }
      return { here: !message.otherHasEverything, there: !message.leadHasEverything }
    }
    await session.send(await answering.answer(message))
  }
}

class Answering {
  readonly #session: Session
  #questionsLeft = QUESTIONS_TO_SPARE
  #countedCases = 0
  /** Nothing of a case is given or taken before the team documents were compared and, where they differ, exchanged. */
  #teamDone = false

  constructor(session: Session) {
    this.#session = session
  }

  async answer(message: Message): Promise<Message> {
    const session = this.#session
    this.#questionsLeft -= 1
    if (this.#questionsLeft < 0)
      return session.refuse('too-many-questions', 'The other device asks without end, so the meeting was closed.')
    switch (message.kind) {
      case 'compare':
        return this.#compare(message)
      case 'buckets':
        return this.#lists(message)
      case 'offer':
        return this.#give(message)
      case 'give':
        return this.#take(message)
      case 'ids':
        await this.#expectTeamFirst(message.key)
        return { kind: 'ids', key: message.key, ids: await session.entryIds(message.key) }
      case 'fetch':
        await this.#expectTeamFirst(message.key)
        return { kind: 'entries', key: message.key, ...(await session.someEntries(message.key, message.ids)) }
      case 'entries': {
        await this.#expectTeamFirst(message.key)
        const added = await session.takeEntries(message.key, message.entries)
        return { kind: 'have', documents: [{ key: message.key, hash: this.#hashOf(message.key), added }] }
      }
      default:
        return session.unexpected(message.kind)
    }
  }

  #hashOf(key: DocumentKey): Uint8Array {
    return this.#session.replica.hashes().get(key) ?? NO_HASH
  }

  async #expectTeamFirst(key: DocumentKey): Promise<void> {
    if (key === 'team' || this.#teamDone) return
    await this.#session.refuse(
      'team-first',
      'The other device wanted to exchange cases before the crew list, so nothing was exchanged.',
    )
  }

  async #compare(theirs: MessageOf<'compare'>): Promise<Message> {
    const session = this.#session
    const mine = await session.comparison()
    session.equal = isSame(mine, theirs)
    if (equalBytes(mine.team, theirs.team)) this.#teamDone = true
    const cases = Math.min(CASES_LIMIT, Math.max(mine.caseCount, theirs.caseCount))
    if (cases > this.#countedCases) {
      this.#questionsLeft += 10 * (cases - this.#countedCases)
      this.#countedCases = cases
    }
    return mine
  }

  async #lists({ bits, hashBytes, from, hashes }: MessageOf<'buckets'>): Promise<Message> {
    const { inventory } = this.#session
    if (bits > BITS_LIMIT || hashes.length === 0 || from + hashes.length > 2 ** bits)
      return this.#session.unexpected('buckets')
    const mine = await inventory.bucketHashes(bits)
    const lists: { bucket: number; items: { caseId: CaseId; hash: Uint8Array }[] }[] = []
    let bytes = 0
    let next = from
    for (const hash of hashes) {
      const bucket = next
      next += 1
      if (equalBytes(hash, mine[bucket]?.subarray(0, hashBytes) ?? NO_HASH)) continue
      const items = inventory
        .bucket(bits, bucket)
        .map(({ caseId, hash }) => ({ caseId, hash: hash.subarray(0, hashBytes) }))
      lists.push({ bucket, items })
      bytes += items.length * (ITEM_BYTES + hashBytes)
      if (bytes > BATCH_BYTES) break
    }
    return { kind: 'lists', next, lists }
  }

  async #give({ done, of, onlyLead, onlyOther, documents }: MessageOf<'offer'>): Promise<Message> {
    const session = this.#session
    session.progress({ done: Math.min(done, of), of, onlyHere: onlyOther, onlyThere: onlyLead })
    const hashes = session.replica.hashes()
    const given: GivenDocument[] = []
    let bytes = 0
    for (const { key, stateVector } of documents) {
      await this.#expectTeamFirst(key)
      const update = await session.updateFor(key, stateVector)
      if (given.length > 0 && bytes + update.length > BATCH_BYTES) break
      bytes += update.length
      given.push({
        key,
        hash: hashes.get(key) ?? NO_HASH,
        update,
        stateVector: await session.replica.stateVector(key),
        added: 0,
      })
    }
    return { kind: 'give', documents: given }
  }

  async #take({ documents }: MessageOf<'give'>): Promise<Message> {
    const session = this.#session
    const addedByKey = new Map<DocumentKey, number>()
    for (const { key, update, added } of documents) {
      await this.#expectTeamFirst(key)
      session.entriesSent += added
      addedByKey.set(key, await session.takeUpdate(key, update))
      if (key === 'team') this.#teamDone = true
    }
    const hashes = session.replica.hashes()
    return {
      kind: 'have',
      documents: [...addedByKey].map(([key, added]) => ({ key, hash: hashes.get(key) ?? NO_HASH, added })),
    }
  }
}
