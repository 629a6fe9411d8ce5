import type { CaseId, PhotoHash } from '../../src/ids.ts'
import type { Result } from '../../src/result.ts'
import type { DocumentKey } from '../exchange/replica.ts'

export interface StoredRow {
  /** Names the row for `compact`. Grows with each row; never used again. */
  readonly key: number
  readonly bytes: Uint8Array
}

export interface StoredRows {
  /** In the order in which they were written. */
  readonly rows: readonly StoredRow[]
  /** Rows that are there and do not open: kept, counted, shown, never merged away. */
  readonly unreadable: number
}

export interface StorageFailure {
  readonly type: 'storage-full' | 'storage-failed'
  readonly message: string
}

/** Thrown, in words, by reading when the store cannot be read at all: there is no part of an answer to give. */
export class StorageUnreadable extends Error {
  readonly type = 'storage-unreadable'
}

export type Stored = Result<undefined, StorageFailure>

/**
 * Photos of cases, by their hash. Each case has its own: the same photo taken into two cases is kept for each, so that
 * taking it out of one leaves the other whole.
 */
export interface PhotoStore {
  keepPhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Stored>
  /** Undefined when it is not here, or cannot be read any more: one of the crew may have it. */
  readPhoto(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined>
  /** All of them or none; what is not here is gone already. */
  removePhotos(caseId: CaseId, hashes: readonly PhotoHash[]): Promise<Stored>
}

/**
 * Where one device keeps a casebook. Bytes are opaque here; an adapter that writes to a disk seals every one of them.
 * A write is strict: its promise comes after the bytes are committed, wholly or not at all. Nothing is ever overwritten
 * but summaries and named values. Several tabs may hold the same store.
 */
export interface CasebookStorage extends PhotoStore {
  /** Adds rows to a document and replaces its summary, in one write. */
  append(document: DocumentKey, rows: readonly Uint8Array[], summary: Uint8Array): Promise<Stored>
  readRows(document: DocumentKey): Promise<StoredRows>
  /** Adds one row that holds what the named rows held, deletes exactly those, replaces the summary, in one write. */
  compact(document: DocumentKey, merged: Uint8Array, keysRead: readonly number[], summary: Uint8Array): Promise<Stored>
  /**
   * Hands out every summary that opens, read without any row; which document it is of stands inside it. Gives the rows of
   * each document whose summary is missing, does not open or is not taken: its name is inside its entries.
   */
  readSummaries(take: (summary: Uint8Array) => boolean): Promise<readonly StoredRows[]>
  writeSummaries(summaries: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored>
  /** Removes rows, unreadable ones too, summary and photos in one write (B8). */
  remove(document: DocumentKey): Promise<Stored>
  /**
   * Small named values: keys, secrets, which casebook this is. Undefined when there is none; of one that is there and does
   * not open, no bytes at all.
   */
  readValue(name: string): Promise<Uint8Array | undefined>
  writeValue(name: string, bytes: Uint8Array): Promise<Stored>
}

export const STORAGE_FULL: StorageFailure = {
  type: 'storage-full',
  message:
    'Not saved: this device has no room left. Everything saved before is safe. Free some room, or write a bundle, then save again.',
}
