import type { CasebookId, CaseId } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { UPDATE_LIMIT_BYTES } from '../admit.ts'
import { ByteReader, ByteWriter, equalBytes, UnreadableBytes } from '../bytes.ts'
import { CaseDocument } from '../case-document.ts'
import { HASH_BYTES } from '../exchange/inventory.ts'
import { readKey, writeKey } from '../exchange/messages.ts'
import type { DocumentKey, Replica } from '../exchange/replica.ts'
import { type CasebookSecret, keyFromSecret, secretsOfEpoch } from '../trust/casebook-secret.ts'
import { sha256 } from '../trust/digest.ts'
import { open, pack, seal, unpack } from '../trust/sealing.ts'

/*
 * A bundle file, all numbers big endian:
 *   16 bytes "outspoke bundle\n"   1 byte version   16 bytes casebook hash   4 bytes epoch      <- the header, in clear
 *   4 bytes length of the seal     the seal         32 bytes SHA-256 of everything before
 * Seal: AES-256-GCM under the secret of the epoch, the header as associated data. Inside, packed: the number of documents;
 * of each its key, content hash, and either one update or, when that would be too large to admit, its entries.
 * The checksum keeps nothing secret and proves nothing; it tells a damaged file from a wrong secret.
 */
const MAGIC = new TextEncoder().encode('outspoke bundle\n')
export const BUNDLE_VERSION = 1
const CASEBOOK_HASH_BYTES = 16
const HEADER_BYTES = MAGIC.length + 1 + CASEBOOK_HASH_BYTES + 4
const LENGTH_BYTES = 4
const PURPOSE = 'outspoke bundle 1'
/** State vector of somebody who has nothing. */
const NOTHING = Uint8Array.of(0)
/** Six times the 41 MB that 10,000 cases come to (project value): a small file that swells beyond it is refused. */
export const UNPACKED_LIMIT_BYTES = 256 * 1024 * 1024

export interface BundledDocument {
  readonly key: DocumentKey
  /** SHA-256 of its sorted entry ids when the bundle was made. */
  readonly hash: Uint8Array
  readonly content:
    | { readonly type: 'update'; readonly update: Uint8Array }
    | { readonly type: 'entries'; readonly entries: readonly Uint8Array[] }
}

/** A bundle that was opened and looked through: nothing of it has been taken yet. */
export interface OpenBundle {
  readonly epoch: number
  readonly documents: readonly BundledDocument[]
}

export interface BundleFailure {
  readonly type:
    | 'not-a-bundle'
    | 'newer-format'
    | 'truncated'
    | 'damaged'
    | 'other-casebook'
    | 'unknown-epoch'
    | 'wrong-secret'
    | 'too-large'
    | 'unreadable-inside'
    | 'partial'
  readonly message: string
}

const NOTHING_CHANGED = 'Nothing was changed.'
const WORDS: { readonly [Type in BundleFailure['type']]: string } = {
  'not-a-bundle': `This file is not a bundle. ${NOTHING_CHANGED} Choose another file.`,
  'newer-format': `This bundle was made by a later version of the app, or its head is damaged. ${NOTHING_CHANGED} Update the app, then take it in.`,
  truncated: `This bundle is cut short: its end is missing. ${NOTHING_CHANGED} Copy it from its source once more.`,
  damaged: `This bundle was damaged on its way. ${NOTHING_CHANGED} Copy it from its source once more.`,
  'other-casebook': `This bundle belongs to another casebook. ${NOTHING_CHANGED} Open that casebook, then take it in.`,
  'unknown-epoch': `This bundle was sealed with a secret that this device does not have: it was made after a strike-off that this device has not heard of. ${NOTHING_CHANGED} Meet one of the crew, then take it in.`,
  'wrong-secret': `This bundle does not open with the secret that is here: the secret is wrong, or somebody changed the file. ${NOTHING_CHANGED} Meet one of the crew to receive the secret again.`,
  'too-large': `This bundle swells to more than any casebook holds. ${NOTHING_CHANGED} Ask who made it.`,
  'unreadable-inside': `This bundle opens, but what is in it cannot be read. ${NOTHING_CHANGED} Ask for a new one.`,
  partial: `This bundle holds only part of a document: what it builds on is not in it. ${NOTHING_CHANGED} Ask for a whole one.`,
}
const refused = (type: BundleFailure['type']) => failure<BundleFailure>({ type, message: WORDS[type] })

const casebookHash = async (casebookId: CasebookId): Promise<Uint8Array> =>
  (await sha256(new TextEncoder().encode(`outspoke bundle casebook ${casebookId}`))).subarray(0, CASEBOOK_HASH_BYTES)

const numberBytes = (value: number): Uint8Array => {
  const bytes = new Uint8Array(4)
  new DataView(bytes.buffer).setUint32(0, value)
  return bytes
}
const readNumber = (bytes: Uint8Array, at: number): number =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(at)

/** A document with the hash of just what is given. One that is written to meanwhile is read once more. */
const documentOf = async (replica: Replica, key: DocumentKey): Promise<BundledDocument | undefined> => {
  for (;;) {
    const hash = replica.hashes().get(key)
    if (!hash) return undefined
    const update = await replica.updateSince(key, NOTHING)
    const content: BundledDocument['content'] =
      update.length <= UPDATE_LIMIT_BYTES
        ? { type: 'update', update }
        : { type: 'entries', entries: await replica.entries(key, await replica.entryIds(key)) }
    const after = replica.hashes().get(key)
    if (after && equalBytes(hash, after)) return { key, hash, content }
  }
}

/** Team and catalogue first, then cases by id: the order in which they are to be taken in. */
const orderOf = (key: DocumentKey): string => (key === 'team' ? '0' : key === 'catalogue' ? '1' : `2${key}`)
const inOrder = (keys: Iterable<DocumentKey>): readonly DocumentKey[] =>
  [...keys].sort((a, b) => (orderOf(a) < orderOf(b) ? -1 : 1))

const writeDocument = (writer: ByteWriter, { key, hash, content }: BundledDocument): void => {
  writeKey(writer, key)
  writer.fixed(hash)
  if (content.type === 'update') {
    writer.number(0).piece(content.update)
  } else {
    writer.number(1).number(content.entries.length)
    for (const entry of content.entries) writer.piece(entry)
  }
}

const readDocument = (reader: ByteReader): BundledDocument => {
  const key = readKey(reader)
  const hash = reader.fixed(HASH_BYTES)
  const form = reader.number()
  if (form === 0) return { key, hash, content: { type: 'update', update: reader.piece() } }
  if (form !== 1) throw new UnreadableBytes(`a document in form ${form}`)
  const entries = Array.from({ length: reader.count(1) }, () => reader.piece())
  return { key, hash, content: { type: 'entries', entries } }
}

/**
 * Seals what is here into one file: the team and catalogue documents whole, and every case, or those asked for. A case
 * that is not here, hidden or erased is left out.
 */
export const makeBundle = async (
  replica: Replica,
  secret: CasebookSecret,
  cases?: readonly CaseId[],
): Promise<Uint8Array> => {
  const keys = inOrder(cases ? new Set<DocumentKey>(['team', 'catalogue', ...cases]) : replica.hashes().keys())
  const documents: BundledDocument[] = []
  for (const key of keys) {
    const document = await documentOf(replica, key)
    if (document) documents.push(document)
  }
  const payload = new ByteWriter().number(documents.length)
  for (const document of documents) writeDocument(payload, document)

  const header = new ByteWriter()
    .fixed(MAGIC)
    .fixed(Uint8Array.of(BUNDLE_VERSION))
    .fixed(await casebookHash(replica.casebookId))
    .fixed(numberBytes(secret.epoch))
    .done()
  const sealed = await seal(await keyFromSecret(secret, PURPOSE), await pack(payload.done()), header)
  const file = new ByteWriter().fixed(header).fixed(numberBytes(sealed.length)).fixed(sealed)
  return file.fixed(await sha256(file.done())).done()
}

/** Opens a bundle and looks through all of it. Changes nothing and never throws for what the file holds. */
export const readBundle = async (
  casebookId: CasebookId,
  secrets: readonly CasebookSecret[],
  file: Uint8Array,
): Promise<Result<OpenBundle, BundleFailure>> => {
  const beginning = file.subarray(0, MAGIC.length)
  if (!equalBytes(beginning, MAGIC.subarray(0, beginning.length)) || file.length === 0) return refused('not-a-bundle')
  const version = file[MAGIC.length]
  if (version === undefined) return refused('truncated')
  if (version > BUNDLE_VERSION) return refused('newer-format')
  if (version !== BUNDLE_VERSION) return refused('damaged')

  const sealStart = HEADER_BYTES + LENGTH_BYTES
  if (file.length < sealStart) return refused('truncated')
  const sealEnd = sealStart + readNumber(file, HEADER_BYTES)
  if (file.length < sealEnd + HASH_BYTES) return refused('truncated')
  const checksum = await sha256(file.subarray(0, sealEnd))
  if (file.length > sealEnd + HASH_BYTES || !equalBytes(checksum, file.subarray(sealEnd))) return refused('damaged')

  const header = file.subarray(0, HEADER_BYTES)
  const ofCasebook = header.subarray(MAGIC.length + 1, MAGIC.length + 1 + CASEBOOK_HASH_BYTES)
  if (!equalBytes(ofCasebook, await casebookHash(casebookId))) return refused('other-casebook')
  const epoch = readNumber(header, MAGIC.length + 1 + CASEBOOK_HASH_BYTES)
  const candidates = secretsOfEpoch(secrets, epoch)
  if (candidates.length === 0) return refused('unknown-epoch')
  for (const secret of candidates) {
    const opened = await open(await keyFromSecret(secret, PURPOSE), file.subarray(sealStart, sealEnd), header)
    if (opened.ok) return readInside(epoch, opened.value)
  }
  return refused('wrong-secret')
}

const readInside = async (epoch: number, packed: Uint8Array): Promise<Result<OpenBundle, BundleFailure>> => {
  const unpacked = await unpack(packed, UNPACKED_LIMIT_BYTES)
  if (!unpacked.ok) return refused(unpacked.failure.type === 'too-large' ? 'too-large' : 'unreadable-inside')
  const documents = readDocuments(unpacked.value)
  if (!documents) return refused('unreadable-inside')
  for (const { content } of documents) {
    if (content.type === 'entries') continue
    const preview = new CaseDocument().preview(content.update)
    if (!preview) return refused('unreadable-inside')
    if (preview.pending) return refused('partial')
  }
  return success({ epoch, documents })
}

const readDocuments = (payload: Uint8Array): readonly BundledDocument[] | undefined => {
  const reader = new ByteReader(payload)
  try {
    const documents = Array.from({ length: reader.count(HASH_BYTES + 3) }, () => readDocument(reader))
    reader.end()
    return documents
  } catch (error) {
    if (!(error instanceof UnreadableBytes)) throw error
    return undefined
  }
}
