import { createHash } from 'node:crypto'
import * as Y from 'yjs'
import {
  type CasebookId,
  type CaseId,
  casebookIdSchema,
  caseIdSchema,
  type EntryId,
  entryIdSchema,
} from '../../src/ids.ts'
import type { AdmitReport, DocumentKey, Replica } from '../../sync/exchange/replica.ts'

const SIGNATURE_BYTES = 64

export const sha256 = (...parts: readonly (string | Uint8Array)[]): Uint8Array => {
  const hash = createHash('sha256')
  for (const part of parts) hash.update(part)
  return new Uint8Array(hash.digest())
}
const idOf = (text: string | Uint8Array): EntryId =>
  entryIdSchema.parse(Buffer.from(sha256(text).subarray(0, 16)).toString('base64url'))

export const testCaseId = (name: string | number): CaseId => caseIdSchema.parse(idOf(`case ${name}`))
export const TEST_CASEBOOK: CasebookId = casebookIdSchema.parse(idOf('casebook'))

/**
 * A record without keys, signatures, rules or storage: what the exchange needs and no more, so that ten thousand cases
 * are made in a second. Its entries are unsigned text; a team entry "erase ID" erases a case at once.
 */
export class BareReplica implements Replica {
  readonly casebookId: CasebookId
  readonly #documents = new Map<DocumentKey, Y.Doc>()
  readonly #hashes = new Map<DocumentKey, Uint8Array>()
  readonly #erased = new Set<string>()
  /** Called before each admission is committed: a test stops the world here. */
  beforeCommit: () => void = () => {}

  constructor(casebookId: CasebookId = TEST_CASEBOOK) {
    this.casebookId = casebookId
  }

  #entries(document: Y.Doc): Y.Map<Uint8Array> {
    return document.getMap<Uint8Array>('entries')
  }

  #open(key: DocumentKey): Y.Doc {
    const document = this.#documents.get(key) ?? new Y.Doc()
    this.#documents.set(key, document)
    return document
  }

  #changed(key: DocumentKey): void {
    const document = this.#documents.get(key)
    if (!document) return
    const ids = [...this.#entries(document).keys()].sort()
    if (ids.length > 0) this.#hashes.set(key, sha256(ids.join('\n')))
    if (key !== 'team') return
    for (const value of this.#entries(document).values()) {
      const [word, caseId] = new TextDecoder().decode(value.subarray(SIGNATURE_BYTES)).split(' ')
      if (word !== 'erase' || !caseId) continue
      this.#erased.add(caseId)
      this.#documents.delete(caseIdSchema.parse(caseId))
      this.#hashes.delete(caseIdSchema.parse(caseId))
    }
  }

  /** Writes an entry here, as a person would. */
  write(key: DocumentKey, text: string): EntryId {
    const value = new Uint8Array(SIGNATURE_BYTES + Buffer.byteLength(text))
    value.set(new TextEncoder().encode(text), SIGNATURE_BYTES)
    const id = idOf(text)
    this.#entries(this.#open(key)).set(id, value)
    this.#changed(key)
    return id
  }

  /** Changes an entry that stands, as only damage or malice does. */
  alter(key: DocumentKey, id: EntryId, text: string): void {
    const value = new Uint8Array(SIGNATURE_BYTES + Buffer.byteLength(text))
    value.set(new TextEncoder().encode(text), SIGNATURE_BYTES)
    this.#entries(this.#open(key)).set(id, value)
  }

  /** The same client number on two devices: what no honest device does, and what must heal all the same. */
  pinClient(key: DocumentKey, client: number): void {
    this.#open(key).clientID = client
  }

  texts(key: DocumentKey): readonly string[] {
    const document = this.#documents.get(key)
    if (!document) return []
    return [...this.#entries(document).values()]
      .map(value => new TextDecoder().decode(value.subarray(SIGNATURE_BYTES)))
      .sort()
  }

  keys(): readonly DocumentKey[] {
    return [...this.#hashes.keys()].sort()
  }

  hashes(): ReadonlyMap<DocumentKey, Uint8Array> {
    return this.#hashes
  }

  stateVector(key: DocumentKey): Promise<Uint8Array> {
    return Promise.resolve(Y.encodeStateVector(this.#documents.get(key) ?? new Y.Doc()))
  }

  updateSince(key: DocumentKey, stateVector: Uint8Array): Promise<Uint8Array> {
    return Promise.resolve(Y.encodeStateAsUpdateV2(this.#documents.get(key) ?? new Y.Doc(), stateVector))
  }

  entryIds(key: DocumentKey): Promise<readonly EntryId[]> {
    const document = this.#documents.get(key)
    return Promise.resolve(document ? [...this.#entries(document).keys()].map(id => entryIdSchema.parse(id)) : [])
  }

  entries(key: DocumentKey, ids: readonly EntryId[]): Promise<readonly Uint8Array[]> {
    const document = this.#documents.get(key)
    const found = ids.map(id => ({ id, value: document && this.#entries(document).get(id) }))
    const unchanged = found.map(({ id, value }) =>
      value && idOf(value.subarray(SIGNATURE_BYTES)) === id ? value : undefined,
    )
    return Promise.resolve(unchanged.filter(value => value !== undefined))
  }

  admitUpdate(key: DocumentKey, update: Uint8Array): Promise<AdmitReport> {
    if (this.#erased.has(key)) return Promise.resolve(report({ refused: 'erased' }))
    const scratch = new Y.Doc()
    const live = this.#documents.get(key)
    if (live) Y.applyUpdateV2(scratch, Y.encodeStateAsUpdateV2(live))
    try {
      Y.applyUpdateV2(scratch, update)
    } catch {
      return Promise.resolve(report({ refused: 'unreadable' }))
    }
    const known = live ? this.#entries(live) : undefined
    const now = this.#entries(scratch)
    const altered = [...(known ?? [])].some(([id, value]) => Buffer.compare(now.get(id) ?? new Uint8Array(), value))
    const fresh = [...now].filter(([id]) => !known?.has(id))
    const good = fresh.filter(([id, value]) => idOf(value.subarray(SIGNATURE_BYTES)) === id)
    const incomplete = scratch.store.pendingStructs !== null || scratch.store.pendingDs !== null
    this.beforeCommit()
    if (altered || incomplete || good.length < fresh.length) this.#copy(key, good)
    else Y.applyUpdateV2(this.#open(key), update)
    this.#changed(key)
    const added = good.map(([id]) => entryIdSchema.parse(id))
    return Promise.resolve({
      ...report(good.length < fresh.length ? { refused: 'wrong-hash' } : {}),
      added,
      altered,
      incomplete,
    })
  }

  #copy(key: DocumentKey, good: readonly (readonly [string, Uint8Array])[]): void {
    for (const [id, value] of good) this.#entries(this.#open(key)).set(id, value)
  }

  admitEntries(key: DocumentKey, entries: readonly Uint8Array[]): Promise<AdmitReport> {
    if (this.#erased.has(key)) return Promise.resolve(report({ refused: 'erased' }))
    const known = new Set(this.texts(key))
    const fresh = entries.filter(value => !known.has(new TextDecoder().decode(value.subarray(SIGNATURE_BYTES))))
    this.beforeCommit()
    const good = fresh.map(value => [idOf(value.subarray(SIGNATURE_BYTES)), value.slice()] as const)
    this.#copy(key, good)
    this.#changed(key)
    return Promise.resolve({ ...report({}), added: good.map(([id]) => id) })
  }
}

const report = ({ refused }: { refused?: string }): AdmitReport => ({
  added: [],
  refused: refused ? [{ type: refused, message: `refused: ${refused}` }] : [],
  altered: false,
  incomplete: false,
})
