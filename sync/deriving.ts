import type { CalendarDate } from '../src/calendar-date.ts'
import { countingEntries } from '../src/crew/crew.ts'
import { type CaseId, compareText } from '../src/ids.ts'
import { type Derivation, RecomputeQueue } from './recompute.ts'
import type { AnyOutcome } from './rules.ts'
import type { Shelf } from './shelf.ts'
import { type StorageFailure, StorageUnreadable } from './storage/storage.ts'
import { type Derived, isCurrent, standingOf } from './summaries.ts'
import { isCase, type TeamState } from './team-state.ts'

interface DerivingParts<Outcome extends AnyOutcome, Brief> {
  readonly shelf: Shelf
  readonly state: TeamState
  readonly derivation: Derivation<Outcome, Brief>
  readonly rulesVersion: string
  today(): CalendarDate
  /** Runs a slice while nothing else touches a document. */
  enter(work: () => Promise<void>): Promise<void>
  derived(caseIds: readonly CaseId[]): void
}

/** Keeps the summaries current: which cases are to be derived anew, and doing so behind everything else. */
export class Deriving<Outcome extends AnyOutcome, Brief> {
  readonly #parts: DerivingParts<Outcome, Brief>
  readonly #queue: RecomputeQueue
  /** What the rules threw, by case: shown beside the case, which is kept all the same. */
  readonly failures = new Map<CaseId, string>()
  storageProblem: StorageFailure | null = null

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
    const derived = new Map<CaseId, Derived>()
    try {
      await this.#derive(next, derived)
    } catch (error) {
      if (!(error instanceof StorageUnreadable)) throw error
      // Locked meanwhile, or the disk is gone: what was not derived is found stale at the next opening.
      this.storageProblem = { type: 'storage-failed', message: error.message }
      return
    }
    const stored = await shelf.storeDerived(derived)
    this.storageProblem = stored.ok ? null : stored.failure
    this.#parts.derived([...derived.keys()])
  }

  async #derive(next: () => CaseId | undefined, derived: Map<CaseId, Derived>): Promise<void> {
    const { shelf, state, derivation } = this.#parts
    for (let caseId = next(); caseId !== undefined; caseId = next()) {
      const summary = shelf.summaries.get(caseId)
      if (!summary || !state.isShared(caseId)) continue
      const counting = countingEntries(state.crew, (await shelf.open(caseId)).counted())
      try {
        const { facts } = derivation.outcomeOf(caseId, counting, state.hashed, this.#parts.today())
        derived.set(caseId, { ...facts, ofHash: summary.hash, standing: standingOf(state.crew, summary.authors) })
        this.failures.delete(caseId)
      } catch (error) {
        // A fault of the rules must not stop the record: the case is kept, the fault shown beside it.
        this.failures.set(caseId, error instanceof Error ? error.message : String(error))
      }
    }
  }
}
