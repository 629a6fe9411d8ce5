import type { CaseId, EntryId } from '../../src/ids.ts'
import { equalBytes } from '../bytes.ts'
import { bitsFor, HASH_BYTES } from './inventory.ts'
import type { GivenDocument, MessageOf } from './messages.ts'
import type { DocumentKey } from './replica.ts'
import {
  BATCH_BYTES,
  CASES_LIMIT,
  IDS_LIMIT,
  isSame,
  type Lacking,
  type Lacks,
  NO_HASH,
  type RoundProgress,
  type Session,
} from './session.ts'

/**
 * Hashes are shortened in the first pass. A collision (2^32 tries by somebody of the crew) would hide a case until its
 * next entry; the full roots compared at the end tell, and the next pass uses full hashes.
 */
const SHORT_HASH_BYTES = 8
/** Edits made during the meeting are found by the next pass. */
const PASS_LIMIT = 4
const BUCKETS_A_MESSAGE = 16_384
const OFFERS_A_MESSAGE = 500
const OFFER_BYTES = 64 * 1024
const NOTHING_LACKS: Lacks = { onlyHere: 0, onlyThere: 0 }

/** Leads one meeting: finds what differs and sees to it that both have it. Gives what is still lacking at the end. */
export const lead = async (session: Session): Promise<Lacking> => {
  const lacking = await equalise(session)
  await session.send({ kind: 'done', leadHasEverything: !lacking.here, otherHasEverything: !lacking.there })
  return lacking
}

const equalise = async (session: Session): Promise<Lacking> => {
  const documents = new DocumentExchange(session)
  for (let pass = 0; pass < PASS_LIMIT; pass += 1) {
    let [mine, theirs] = await compare(session)
    if (session.equal) return { here: false, there: false }
    const before = session.tally.entriesReceived + session.entriesSent
    documents.lacking.clear()
    // The team document first: who counts, and which cases were erased, decides what may be offered at all.
    if (!equalBytes(mine.team, theirs.team)) {
      await documents.exchange(['team'])
      ;[mine, theirs] = await compare(session)
    }
    if (!equalBytes(mine.catalogue, theirs.catalogue)) await documents.exchange(['catalogue'])
    const hashBytes = pass === 0 ? SHORT_HASH_BYTES : HASH_BYTES
    if (!equalBytes(mine.root, theirs.root)) {
      const { cases, ...lacks } = await differingCases(session, theirs.caseCount, hashBytes)
      await documents.exchange(cases, lacks)
    }
    if (pass > 0 && session.tally.entriesReceived + session.entriesSent === before) break
  }
  await compare(session)
  if (session.equal) return { here: false, there: false }
  const still = [...documents.lacking.values()]
  // Unequal roots with nothing found lacking: neither side may claim to have everything.
  if (still.length === 0) return { here: true, there: true }
  return { here: still.some(one => one.here), there: still.some(one => one.there) }
}

const compare = async (session: Session): Promise<[MessageOf<'compare'>, MessageOf<'compare'>]> => {
  const mine = await session.comparison()
  const theirs = await session.ask(mine, 'compare')
  if (theirs.caseCount > CASES_LIMIT)
    await session.refuse('too-many-cases', `The other device claims ${theirs.caseCount} cases, which no casebook has.`)
  session.equal = isSame(mine, theirs)
  return [mine, theirs]
}

/** Ids of the cases whose hashes differ or that only one side has, found bucket by bucket. */
const differingCases = async (
  session: Session,
  theirCount: number,
  hashBytes: number,
): Promise<Lacks & { readonly cases: readonly CaseId[] }> => {
  const { inventory } = session
  const bits = bitsFor(Math.max(inventory.caseCount, theirCount))
  const hashes = (await inventory.bucketHashes(bits)).map(hash => hash.subarray(0, hashBytes))
  const differing = new Set<CaseId>()
  let items = 0
  let [onlyHere, onlyThere] = [0, 0]
  for (let from = 0; from < hashes.length; ) {
    const asked = hashes.slice(from, from + BUCKETS_A_MESSAGE)
    const { next, lists } = await session.ask({ kind: 'buckets', bits, hashBytes, from, hashes: asked }, 'lists')
    if (next <= from || next > from + asked.length) return session.unexpected('lists')
    for (const { bucket, items: theirs } of lists) {
      items += theirs.length
      if (bucket < from || bucket >= next || items > theirCount) return session.unexpected('lists')
      const here = new Map(inventory.bucket(bits, bucket).map(({ caseId, hash }) => [caseId, hash]))
      for (const { caseId, hash } of theirs) {
        const known = here.get(caseId)
        if (!known || !equalBytes(known.subarray(0, hashBytes), hash)) differing.add(caseId)
        if (!known) onlyThere += 1
        here.delete(caseId)
      }
      for (const caseId of here.keys()) differing.add(caseId)
      onlyHere += here.size
    }
    from = next
  }
  return { cases: [...differing], onlyHere, onlyThere }
}

/** Makes documents equal on both sides, many in a message, each acknowledged once both stores have it. */
class DocumentExchange {
  readonly #session: Session
  #done = 0
  #of = 0
  #lacks: Lacks = { onlyHere: 0, onlyThere: 0 }
  /** Documents that could not be made equal. */
  readonly lacking = new Map<DocumentKey, Lacking>()

  constructor(session: Session) {
    this.#session = session
  }

  async exchange(keys: readonly DocumentKey[], { onlyHere, onlyThere }: Lacks = NOTHING_LACKS): Promise<void> {
    const session = this.#session
    this.#of += keys.length
    this.#lacks = { onlyHere: this.#lacks.onlyHere + onlyHere, onlyThere: this.#lacks.onlyThere + onlyThere }
    for (let at = 0; at < keys.length; ) {
      const documents: { key: DocumentKey; stateVector: Uint8Array }[] = []
      for (let bytes = 0; documents.length < OFFERS_A_MESSAGE && bytes < OFFER_BYTES; ) {
        const key = keys[at + documents.length]
        if (key === undefined) break
        const stateVector = await session.replica.stateVector(key)
        documents.push({ key, stateVector })
        bytes += stateVector.length
      }
      const { onlyHere: onlyLead, onlyThere: onlyOther, done, of } = this.#progress()
      const given = await session.ask({ kind: 'offer', done, of, onlyLead, onlyOther, documents }, 'give')
      if (given.documents.length === 0) return session.unexpected('give')
      await this.#expectSameKeys(given.documents, documents, 'give')
      at += given.documents.length
      await this.#giveBack(given.documents)
    }
  }

  #progress(): RoundProgress {
    return { done: this.#done, of: this.#of, ...this.#lacks }
  }

  /** An answer deals with the first so many of what was asked, in that order. */
  async #expectSameKeys(
    answer: readonly { readonly key: DocumentKey }[],
    asked: readonly { readonly key: DocumentKey }[],
    kind: 'give' | 'have',
  ): Promise<void> {
    if (answer.length > asked.length || answer.some(({ key }, index) => key !== asked[index]?.key))
      await this.#session.unexpected(kind)
  }

  async #giveBack(given: readonly GivenDocument[]): Promise<void> {
    const session = this.#session
    const taken: { given: GivenDocument; added: number }[] = []
    for (const one of given) taken.push({ given: one, added: await session.takeUpdate(one.key, one.update) })
    const hashes = session.replica.hashes()
    let batch: GivenDocument[] = []
    let bytes = 0
    for (const [index, { given: theirs, added }] of taken.entries()) {
      const hash = hashes.get(theirs.key) ?? NO_HASH
      const update = equalBytes(hash, theirs.hash)
        ? new Uint8Array()
        : await session.updateFor(theirs.key, theirs.stateVector)
      batch.push({ key: theirs.key, hash, update, stateVector: new Uint8Array(), added })
      bytes += update.length
      if (bytes < BATCH_BYTES && index + 1 < taken.length) continue
      await this.#acknowledge(batch)
      batch = []
      bytes = 0
    }
  }

  async #acknowledge(batch: readonly GivenDocument[]): Promise<void> {
    const session = this.#session
    const have = await session.ask({ kind: 'give', documents: batch }, 'have')
    if (have.documents.length !== batch.length) return session.unexpected('have')
    await this.#expectSameKeys(have.documents, batch, 'have')
    const hashes = session.replica.hashes()
    for (const { key, hash, added } of have.documents) {
      session.entriesSent += added
      if (!equalBytes(hash, hashes.get(key) ?? NO_HASH)) await this.#heal(key)
      this.#done += 1
      session.progress(this.#progress())
    }
  }

  /** Updates did not make a document equal (two writers with one client number, damage, size): its entries are compared. */
  async #heal(key: DocumentKey): Promise<void> {
    const session = this.#session
    const mine = await session.entryIds(key)
    if (mine.length > IDS_LIMIT) {
      this.lacking.set(key, { here: true, there: true })
      return
    }
    const theirs = (await session.ask({ kind: 'ids', key, ids: mine }, 'ids')).ids
    const [here, there] = [new Set(mine), new Set(theirs)]
    const wanted = theirs.filter(id => !here.has(id))
    const unknown = mine.filter(id => !there.has(id))
    const added = await this.#fetch(key, wanted)
    const sent = await this.#sendEntries(key, unknown)
    if (added < wanted.length || sent < unknown.length)
      this.lacking.set(key, { here: added < wanted.length, there: sent < unknown.length })
  }

  async #fetch(key: DocumentKey, wanted: readonly EntryId[]): Promise<number> {
    const session = this.#session
    let added = 0
    for (let at = 0; at < wanted.length; ) {
      const ids = wanted.slice(at)
      const { key: answered, dealt, entries } = await session.ask({ kind: 'fetch', key, ids }, 'entries')
      if (answered !== key || dealt < 1 || dealt > ids.length || entries.length > dealt)
        return session.unexpected('entries')
      added += await session.takeEntries(key, entries)
      at += dealt
    }
    return added
  }

  async #sendEntries(key: DocumentKey, unknown: readonly EntryId[]): Promise<number> {
    const session = this.#session
    let added = 0
    for (let at = 0; at < unknown.length; ) {
      const some = await session.someEntries(key, unknown.slice(at))
      const have = await session.ask({ kind: 'entries', key, ...some }, 'have')
      added += have.documents[0]?.added ?? 0
      at += some.dealt
    }
    session.entriesSent += added
    return added
  }
}
