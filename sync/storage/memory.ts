import type { PhotoHash } from '../../src/ids.ts'
import { failure, success } from '../../src/result.ts'
import type { DocumentKey } from '../exchange/replica.ts'
import type { CasebookStorage, StorageFailure, Stored, StoredRow, StoredRows } from './storage.ts'

interface KeptRow extends StoredRow {
  readonly damaged: boolean
}

/** A store in memory: for tests, demos and the command line. What a disk would keep stays when it is opened again. */
export interface MemoryStorage {
  /** The same memory seen anew, as after a restart. */
  open(): CasebookStorage
  /** Every write fails like this, changing nothing, until called with null. */
  failWrites(reason: StorageFailure | null): void
  /** Makes one row (by position), or the summary, unreadable, as a bad block would. */
  damageRow(document: DocumentKey, position: number): void
  damageSummary(document: DocumentKey): void
  /** Puts back rows that were there before: what an old copy of the disk would do. */
  copyRows(document: DocumentKey): () => void
  writes(): number
}

export const createMemoryStorage = (): MemoryStorage => {
  const rows = new Map<DocumentKey, readonly KeptRow[]>()
  const summaries = new Map<DocumentKey, Uint8Array | 'damaged'>()
  const values = new Map<string, Uint8Array>()
  const photos = new Map<DocumentKey, ReadonlyMap<PhotoHash, Uint8Array>>()
  let nextKey = 1
  let writeCount = 0
  let refusal: StorageFailure | null = null

  const write = async (work: () => void): Promise<Stored> => {
    if (refusal) return failure(refusal)
    work()
    writeCount += 1
    return success(undefined)
  }
  const rowsOf = (document: DocumentKey): readonly KeptRow[] => rows.get(document) ?? []
  const toStoredRows = (kept: readonly KeptRow[]): StoredRows => ({
    rows: kept.filter(row => !row.damaged).map(({ key, bytes }) => ({ key, bytes: bytes.slice() })),
    unreadable: kept.filter(row => row.damaged).length,
  })
  const added = (bytes: Uint8Array): KeptRow => ({ key: nextKey++, bytes: bytes.slice(), damaged: false })

  const open = (): CasebookStorage => ({
    append: (document, newRows, summary) =>
      write(() => {
        rows.set(document, [...rowsOf(document), ...newRows.map(added)])
        summaries.set(document, summary.slice())
      }),
    readRows: async document => toStoredRows(rowsOf(document)),
    compact: (document, merged, keysRead, summary) =>
      write(() => {
        rows.set(document, [...rowsOf(document).filter(row => !keysRead.includes(row.key)), added(merged)])
        summaries.set(document, summary.slice())
      }),
    readSummaries: async take => {
      const taken = [...summaries].filter(([, summary]) => summary !== 'damaged' && take(summary.slice()))
      const known = new Set(taken.map(([key]) => key))
      return [...rows].filter(([key]) => !known.has(key)).map(([, kept]) => toStoredRows(kept))
    },
    writeSummaries: changed =>
      write(() => {
        for (const [document, summary] of changed) summaries.set(document, summary.slice())
      }),
    remove: document =>
      write(() => {
        rows.delete(document)
        summaries.delete(document)
        photos.delete(document)
      }),
    readValue: async name => values.get(name)?.slice(),
    writeValue: (name, bytes) =>
      write(() => {
        values.set(name, bytes.slice())
      }),
    keepPhoto: (caseId, hash, bytes) =>
      write(() => {
        photos.set(caseId, new Map([...(photos.get(caseId) ?? []), [hash, bytes.slice()]]))
      }),
    readPhoto: async (caseId, hash) => photos.get(caseId)?.get(hash)?.slice(),
    removePhotos: (caseId, hashes) =>
      write(() => {
        photos.set(caseId, new Map([...(photos.get(caseId) ?? [])].filter(([hash]) => !hashes.includes(hash))))
      }),
  })

  return {
    open,
    failWrites: reason => {
      refusal = reason
    },
    damageRow: (document, position) => {
      const kept = rowsOf(document)
      if (!kept[position]) throw new RangeError(`no row ${position} of ${document}`)
      rows.set(
        document,
        kept.map((row, index) => (index === position ? { ...row, damaged: true } : row)),
      )
    },
    damageSummary: document => {
      summaries.set(document, 'damaged')
    },
    copyRows: document => {
      const copy = rowsOf(document)
      const summary = summaries.get(document)
      return () => {
        rows.set(document, copy)
        if (summary) summaries.set(document, summary)
      }
    },
    writes: () => writeCount,
  }
}
