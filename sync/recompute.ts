import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import { viewOfCase } from '../src/case/case-view-of.ts'
import type { Counted } from '../src/case/entry.ts'
import type { ContextPart, SharedContext } from '../src/crew/shared-context.ts'
import type { CaseId } from '../src/ids.ts'
import { toBase64Url } from './bytes.ts'
import type { AnyOutcome, Rules } from './rules.ts'
import { type Derived, hashOfIds, type PartHashes } from './summaries.ts'

const REMEMBERED_LIMIT = 100

interface Remembered<Outcome> {
  readonly parts: Derived['parts']
  readonly view: CaseView
  readonly outcome: Outcome
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
 * Derives outcomes and remembers them by content: the entries that count, the date, and the parts of the context that
 * were looked at. Gives the same whether remembered or not.
 */
export class Derivation<Outcome extends AnyOutcome, Brief> {
  readonly #rules: Rules<Outcome, Brief>
  readonly #limit: number
  readonly #remembered = new Map<string, Remembered<Outcome>>()

  constructor(rules: Rules<Outcome, Brief>, limit = REMEMBERED_LIMIT) {
    this.#rules = rules
    this.#limit = limit
  }

  outcomeOf(
    caseId: CaseId,
    counting: readonly Counted[],
    { context, parts }: HashedContext,
    today: CalendarDate,
  ): Made<Outcome> {
    const key = `${caseId} ${toBase64Url(hashOfIds(counting.map(({ id }) => id)))} ${today}`
    const known = this.#remembered.get(key)
    const isValid = known && Object.entries(known.parts).every(([part, hash]) => parts[part as ContextPart] === hash)
    const made = isValid ? known : this.#derive(caseId, counting, context, parts, today)
    this.#remember(key, made)
    return { ...made, facts: this.#factsOf(made, today) }
  }

  forget(caseId: CaseId): void {
    for (const key of this.#remembered.keys()) if (key.startsWith(caseId)) this.#remembered.delete(key)
  }

  #derive(
    caseId: CaseId,
    counting: readonly Counted[],
    context: SharedContext,
    parts: PartHashes,
    today: CalendarDate,
  ): Remembered<Outcome> {
    const view = viewOfCase(caseId, counting)
    const read = new Set<ContextPart>()
    const outcome = this.#rules.outcomeOf(view, watched(context, read), today)
    return { view, outcome, parts: Object.fromEntries([...read].sort().map(part => [part, parts[part]])) }
  }

  #factsOf({ view, outcome, parts }: Remembered<Outcome>, today: CalendarDate): DerivedFacts {
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

  #remember(key: string, made: Remembered<Outcome>): void {
    this.#remembered.delete(key)
    this.#remembered.set(key, made)
    for (const oldest of this.#remembered.keys()) {
      if (this.#remembered.size <= this.#limit) break
      this.#remembered.delete(oldest)
    }
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

const pause = (): Promise<void> => new Promise(resolve => setTimeout(resolve))
