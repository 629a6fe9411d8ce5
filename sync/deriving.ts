import type { CalendarDate } from '../src/calendar-date.ts'
import type { Counted } from '../src/case/entry.ts'
import { countingEntries } from '../src/crew/crew.ts'
import { type CaseId, compareText } from '../src/ids.ts'
import { success } from '../src/result.ts'
import { deleteRemovedPhotos } from './case-photos.ts'
import { type Derivation, RecomputeQueue } from './recompute.ts'
import type { AnyOutcome } from './rules.ts'
import type { Shelf } from './shelf.ts'
import { type PhotoStore, type StorageFailure, StorageUnreadable, type Stored } from './storage/storage.ts'
import { type Derived, isCurrent, standingOf } from './summaries.ts'
import { isCase, type TeamState } from './team-state.ts'

/** How no author ever stands: such a summary is made anew at the next occasion, and what is left is deleted then. */
const PHOTOS_LEFT = 'photos to delete'

interface DerivingParts<Outcome extends AnyOutcome, Brief> {
  readonly shelf: Shelf
  readonly state: TeamState
  readonly derivation: Derivation<Outcome, Brief>
  readonly rulesVersion: string
  today(): CalendarDate
  /** Runs a slice while nothing else touches a document. */
  enter(work: () => Promise<void>): Promise<void>
  derived(caseIds: readonly CaseId[]): void
  readonly photos: PhotoStore
}

/** Keeps the summaries current: which cases are to be derived anew, and doing so behind everything else. */
export class Deriving<Outcome extends AnyOutcome, Brief> {
  readonly #parts: DerivingParts<Outcome, Brief>
  readonly #queue: RecomputeQueue
  /** What the rules threw, by case: shown beside the case, which is kept all the same. */
  readonly failures = new Map<CaseId, string>()
  storageProblem: StorageFailure | null = null
  #photoProblem: StorageFailure | null = null

  constructor(parts: DerivingParts<Outcome, Brief>) {
    this.#parts = parts
    this.#queue = new RecomputeQueue(next => parts.enter(() => this.#slice(next)))
  }

  add(caseIds: Iterable<CaseId>): void {
    this.#queue.add(caseIds)
  }

  forget(caseId: CaseId): void {
    this.#queue.remove(caseId)
    this.#parts.derivation.forget(caseId)
    this.failures.delete(caseId)
  }

  /** Queues every case whose summary would come out differently now. Opens none. */
  addStale(): void {
    const { shelf, state, rulesVersion } = this.#parts
    const today = this.#parts.today()
    const stale: CaseId[] = []
    for (const summary of shelf.summaries.values()) {
      const { document } = summary
      if (!isCase(document) || !state.isShared(document)) continue
      if (!isCurrent(summary, state.crew, state.hashed.parts, rulesVersion, today)) stale.push(document)
    }
    this.#queue.add(stale.sort(compareText))
  }

  settled(): Promise<void> {
    return this.#queue.settled()
  }

  async #slice(next: () => CaseId | undefined): Promise<void> {
    const { shelf } = this.#parts
    const taken: CaseId[] = []
    const derived = new Map<CaseId, Derived>()
    this.#photoProblem = null
    const take = (): CaseId | undefined => {
      const caseId = next()
      if (caseId !== undefined) taken.push(caseId)
      return caseId
    }
    try {
      await this.#derive(take, derived)
      const stored = await shelf.storeDerived(derived)
      this.storageProblem = stored.ok ? this.#photoProblem : stored.failure
      this.#parts.derived([...derived.keys()])
      for (const caseId of taken) await shelf.compactIfDue(caseId)
    } catch (error) {
      if (!(error instanceof StorageUnreadable)) throw error
      // Locked meanwhile, or the disk is gone: what was not derived is found stale at the next opening.
      this.storageProblem = { type: 'storage-failed', message: error.message }
    }
  }

  async #deleteRemovedPhotos(caseId: CaseId, counting: readonly Counted[]): Promise<Stored> {
    if (!counting.some(({ entry }) => Object.hasOwn(entry.set, 'photoRemoved'))) return success(undefined)
    return deleteRemovedPhotos(this.#parts.photos, this.#parts.derivation.viewOf(caseId, counting))
  }

  async #derive(next: () => CaseId | undefined, derived: Map<CaseId, Derived>): Promise<void> {
    const { shelf, state, derivation } = this.#parts
    for (let caseId = next(); caseId !== undefined; caseId = next()) {
      const summary = shelf.summaries.get(caseId)
      if (!summary || !state.isShared(caseId)) continue
      const counting = countingEntries(state.crew, (await shelf.open(caseId)).counted())
      const cleared = await this.#deleteRemovedPhotos(caseId, counting)
      if (!cleared.ok) this.#photoProblem = cleared.failure
      try {
        const { facts } = derivation.outcomeOf(caseId, counting, state.hashed, this.#parts.today())
        const standing = cleared.ok ? standingOf(state.crew, summary.authors) : PHOTOS_LEFT
        derived.set(caseId, { ...facts, ofHash: summary.hash, standing })
        this.failures.delete(caseId)
      } catch (error) {
        // A fault of the rules must not stop the record: the case is kept, the fault shown beside it.
        this.failures.set(caseId, error instanceof Error ? error.message : String(error))
      }
    }
  }
}
