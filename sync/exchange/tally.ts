import type { ReadFailure } from '../../src/result.ts'
import type { AdmitReport, DocumentKey } from './replica.ts'

const REFUSALS_KEPT = 100

/** Something that admission did not take, and why in words. */
export interface Refused {
  readonly key: DocumentKey
  readonly type: string
  readonly message: string
}

/** What came in from elsewhere so far, by the reports of admission. */
export class Tally {
  entriesReceived = 0
  refusedCount = 0
  /** The first hundred. */
  readonly refused: Refused[] = []
  readonly changed = new Set<DocumentKey>()
  readonly altered = new Set<DocumentKey>()
  /** Set when this device's store takes no more: there is no use in going on. */
  storeFailure: ReadFailure | null = null

  /** Gives the number of new entries. */
  note(key: DocumentKey, report: AdmitReport): number {
    for (const { type, message } of report.refused) {
      this.refusedCount += 1
      if (this.refused.length < REFUSALS_KEPT) this.refused.push({ key, type, message })
      if (type === 'storage-full' || type === 'storage-failed') this.storeFailure = { type, message }
    }
    if (report.altered) this.altered.add(key)
    if (report.added.length > 0) this.changed.add(key)
    this.entriesReceived += report.added.length
    return report.added.length
  }
}
