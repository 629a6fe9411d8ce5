import type { CasebookId, CaseId, EntryId } from '../../src/ids.ts'

/** The documents of a casebook: the team's, the catalogue's, and one for each case. */
export type DocumentKey = 'team' | 'catalogue' | CaseId

/** What admission made of something received. `refused` says why in words, once for each thing that was not taken. */
export interface AdmitReport {
  readonly added: readonly EntryId[]
  readonly refused: readonly { readonly type: string; readonly message: string }[]
  /** The sender's copy deleted or changed entries we hold: ours stand, the good new ones were taken, this is to be shown. */
  readonly altered: boolean
  /** The update builds on parts that are not here: more must come before it is whole. */
  readonly incomplete: boolean
}

/**
 * One device's copy of a casebook as the exchange sees it: what is needed to find out what differs, hand it over and
 * take it in. Nothing here is a Yjs type; updates are opaque bytes. `admit...` resolve only after the store committed,
 * so an acknowledgement may follow them. A document that does not exist here yet is an empty one; an erased case is absent
 * from `hashes` and refuses whatever comes for it.
 */
export interface Replica {
  readonly casebookId: CasebookId
  /** Content hash (32 bytes: SHA-256 of the sorted entry ids) of every document with entries, kept ready: opens nothing. */
  hashes(): ReadonlyMap<DocumentKey, Uint8Array>
  stateVector(key: DocumentKey): Promise<Uint8Array>
  updateSince(key: DocumentKey, stateVector: Uint8Array): Promise<Uint8Array>
  entryIds(key: DocumentKey): Promise<readonly EntryId[]>
  /** Signature (64 bytes) and text of each entry asked for that is here, unchanged since it was written. */
  entries(key: DocumentKey, ids: readonly EntryId[]): Promise<readonly Uint8Array[]>
  admitUpdate(key: DocumentKey, update: Uint8Array): Promise<AdmitReport>
  admitEntries(key: DocumentKey, entries: readonly Uint8Array[]): Promise<AdmitReport>
}
