import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import { type CaseMemory, caseMemory, viewOfCase } from '../src/case/case-view-of.ts'
import type { Counted } from '../src/case/entry.ts'
import { haveSameIds } from '../src/case/view-memory.ts'
import type { ContextPart, SharedContext } from '../src/crew/shared-context.ts'
import type { CaseId } from '../src/ids.ts'
import type { AnyOutcome, Rules } from './rules.ts'
import type { Derived, PartHashes } from './summaries.ts'

const REMEMBERED_LIMIT = 100

/** An outcome with all that it was derived from. */
interface Remembered<Outcome> {
  readonly counting: readonly Counted[]
  readonly today: CalendarDate
  readonly parts: Derived['parts']
  readonly view: CaseView
  readonly outcome: Outcome
}

interface RememberedCase<Outcome> {
  readonly fields: CaseMemory
  last: Remembered<Outcome> | null
}

/** What a summary keeps of an outcome, but for what it was derived from. */
export type DerivedFacts = Omit<Derived, 'ofHash' | 'standing'>

export interface Made<Outcome> {
  readonly view: CaseView
  readonly outcome: Outcome
  readonly facts: DerivedFacts
}

/** The shared context, noting which parts are looked at. */
const watched = (context: SharedContext, read: Set<ContextPart>): SharedContext => ({
  get catalogue() {
    read.add('catalogue')
    return context.catalogue
  },
  get policy() {
    read.add('policy')
    return context.policy
  },
  get stock() {
    read.add('stock')
    return context.stock
  },
  get crew() {
    read.add('crew')
    return context.crew
  },
  get differences() {
    read.add('differences')
    return context.differences
  },
})

/** A context and the content hash of each of its parts. */
export interface HashedContext {
  readonly context: SharedContext
  readonly parts: PartHashes
}

/**
 * Derives outcomes and remembers of some cases the last one, by content: the entries that count, the date, and the parts
 * of the context that were looked at; and each field of their views. Gives the same whether remembered or not.
 */
export class Derivation<Outcome extends AnyOutcome, Brief> {
  readonly #rules: Rules<Outcome, Brief>
  readonly #limit: number
  /** In the order of last use. */
  readonly #remembered = new Map<CaseId, RememberedCase<Outcome>>()

  constructor(rules: Rules<Outcome, Brief>, limit = REMEMBERED_LIMIT) {
    this.#rules = rules
    this.#limit = limit
  }

  viewOf(caseId: CaseId, counting: readonly Counted[]): CaseView {
    const { fields, last } = this.#caseOf(caseId)
    return last && haveSameIds(last.counting, counting) ? last.view : viewOfCase(caseId, counting, fields)
  }

  outcomeOf(
    caseId: CaseId,
    counting: readonly Counted[],
    { context, parts }: HashedContext,
    today: CalendarDate,
  ): Made<Outcome> {
    const remembered = this.#caseOf(caseId)
    const { last } = remembered
    const isValid =
      last &&
      last.today === today &&
      haveSameIds(last.counting, counting) &&
      Object.entries(last.parts).every(([part, hash]) => parts[part as ContextPart] === hash)
    const made = isValid ? last : this.#derive(this.viewOf(caseId, counting), counting, context, parts, today)
    remembered.last = made
    return { view: made.view, outcome: made.outcome, facts: this.#factsOf(made) }
  }

  forget(caseId: CaseId): void {
    this.#remembered.delete(caseId)
  }

  #derive(
    view: CaseView,
    counting: readonly Counted[],
    context: SharedContext,
    parts: PartHashes,
    today: CalendarDate,
  ): Remembered<Outcome> {
    const read = new Set<ContextPart>()
    const outcome = this.#rules.outcomeOf(view, watched(context, read), today)
    const partsRead = Object.fromEntries([...read].sort().map(part => [part, parts[part]]))
    return { counting, today, view, outcome, parts: partsRead }
  }

  #factsOf({ view, outcome, parts, today }: Remembered<Outcome>): DerivedFacts {
    return {
      parts,
      rulesVersion: this.#rules.version,
      on: today,
      changesOn: outcome.changesOn,
      name: view.values.personName ?? null,
      open: isOpen(view),
      brief: this.#rules.briefOf(outcome, view),
    }
  }

  #caseOf(caseId: CaseId): RememberedCase<Outcome> {
    const one = this.#remembered.get(caseId) ?? { fields: caseMemory(), last: null }
    this.#remembered.delete(caseId)
    this.#remembered.set(caseId, one)
    for (const oldest of this.#remembered.keys()) {
      if (this.#remembered.size <= this.#limit) break
      this.#remembered.delete(oldest)
    }
    return one
  }
}

/** An exit that is recorded and undisputed closes a case. */
const isOpen = (view: CaseView): boolean => (view.values.exit ?? null) === null

/** Long enough to be worth a pause, short enough for a frame of 16 ms. */
const SLICE_MS = 8

/**
 * Cases that are to be derived anew, each once, in slices: between two slices whatever else waits has its turn. A case
 * whose rules fail stands in `failures` and stops no other; its entries are stored all the same.
 */
export class RecomputeQueue {
  readonly #runSlice: (next: () => CaseId | undefined) => Promise<void>
  readonly #waiting = new Set<CaseId>()
  #running: Promise<void> | null = null

  /** `runSlice` takes cases with `next` until that gives undefined. */
  constructor(runSlice: (next: () => CaseId | undefined) => Promise<void>) {
    this.#runSlice = runSlice
  }

  add(caseIds: Iterable<CaseId>): void {
    for (const caseId of caseIds) this.#waiting.add(caseId)
    if (this.#waiting.size > 0) this.#running ??= this.#run()
  }

  remove(caseId: CaseId): void {
    this.#waiting.delete(caseId)
  }

  /** Comes when nothing waits any more; rejects when a slice failed. */
  async settled(): Promise<void> {
    while (this.#running) await this.#running
  }

  async #run(): Promise<void> {
    try {
      while (this.#waiting.size > 0) {
        await pause()
        const end = performance.now() + SLICE_MS
        let taken = 0
        await this.#runSlice(() => {
          const [first] = this.#waiting
          if (first === undefined || (taken > 0 && performance.now() > end)) return undefined
          taken += 1
          this.#waiting.delete(first)
          return first
        })
      }
    } finally {
      this.#running = null
    }
  }
}

/** A turn for whatever else waits, by a message: a timer would idle for 1 to 4 ms between slices of 8. */
const pause = (): Promise<void> =>
  new Promise(resolve => {
    const { port1, port2 } = new MessageChannel()
    port1.onmessage = () => {
      port1.close()
      resolve()
    }
    port2.postMessage(null)
  })
