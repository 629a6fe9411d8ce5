import { createHash, createPublicKey, generateKeyPairSync, type KeyObject, sign, verify } from 'node:crypto'
import * as Y from 'yjs'
import { type DeviceId, deviceIdSchema, type EntryId, entryIdSchema } from '../../src/ids.ts'

// Entries, keys and updates written without our own code: with Node's crypto and Yjs alone, from the form that is
// described in the design (64 bytes of signature, then UTF-8 JSON text; id = 16 bytes of SHA-256 of the text).

export interface HandKey {
  readonly device: DeviceId
  readonly publicKey: string
  readonly privateKey: KeyObject
}

const idOf = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest().subarray(0, 16).toString('base64url')

export const entryIdOfText = (text: string): EntryId => entryIdSchema.parse(idOf(Buffer.from(text)))

export const handKey = (): HandKey => {
  const { publicKey, privateKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' })
  const { x = '', y = '' } = publicKey.export({ format: 'jwk' })
  const raw = Buffer.concat([Buffer.from([4]), Buffer.from(x, 'base64url'), Buffer.from(y, 'base64url')])
  return { device: deviceIdSchema.parse(idOf(raw)), publicKey: raw.toString('base64url'), privateKey }
}

const message = (text: string): Buffer => Buffer.from(`outspoke entry 1\n${text}`)

export interface HandEntry {
  readonly id: EntryId
  readonly text: string
  readonly signed: Uint8Array
}

/** Any text, signed by that key. */
export const signText = (key: HandKey, text: string): HandEntry => {
  const signature = sign('sha256', message(text), { key: key.privateKey, dsaEncoding: 'ieee-p1363' })
  return { id: entryIdOfText(text), text, signed: new Uint8Array(Buffer.concat([signature, Buffer.from(text)])) }
}

export interface HandStatement {
  readonly case: string
  readonly set: Readonly<Record<string, unknown>>
  readonly over?: readonly string[]
  readonly by?: string
  readonly at?: number
  readonly kind?: string
  readonly v?: number
  readonly why?: string
}

export const handEntry = (key: HandKey, statement: HandStatement): HandEntry =>
  signText(key, JSON.stringify({ v: 1, by: key.device, at: 1_000, kind: 'save', over: [], ...statement }))

export const signatureHolds = (publicKey: string, signed: Uint8Array): boolean => {
  const raw = Buffer.from(publicKey, 'base64url')
  const key = createPublicKey({
    format: 'jwk',
    key: {
      kty: 'EC',
      crv: 'P-256',
      x: raw.subarray(1, 33).toString('base64url'),
      y: raw.subarray(33).toString('base64url'),
    },
  })
  const text = Buffer.from(signed.subarray(64)).toString()
  return verify('sha256', message(text), { key, dsaEncoding: 'ieee-p1363' }, signed.subarray(0, 64))
}

/** Order of the P-256 group: FIPS 186-4 (2013), appendix D.1.2.3. */
const ORDER = 0xffffffff00000000ffffffffffffffffbce6faada7179e84f3b9cac2fc632551n

/** The other valid signature over the same text: (r, n - s). Anybody can make it without the key. */
export const malleated = (signed: Uint8Array): Uint8Array => {
  const s = BigInt(`0x${Buffer.from(signed.subarray(32, 64)).toString('hex')}`)
  const other = Buffer.from((ORDER - s).toString(16).padStart(64, '0'), 'hex')
  const copy = signed.slice()
  copy.set(other, 32)
  return copy
}

/** A document as some other program could hold it. */
export const docWith = (entries: readonly { readonly id: string; readonly signed: Uint8Array }[]): Y.Doc => {
  const doc = new Y.Doc()
  doc.transact(() => {
    for (const { id, signed } of entries) doc.getMap('entries').set(id, signed)
  })
  return doc
}

export const updateOf = (doc: Y.Doc, since?: Uint8Array): Uint8Array => Y.encodeStateAsUpdateV2(doc, since)

export const updateWith = (entries: readonly { readonly id: string; readonly signed: Uint8Array }[]): Uint8Array =>
  updateOf(docWith(entries))
