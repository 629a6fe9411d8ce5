import { FIELDS, type NamesOfKind } from '../case/fields.ts'
import { compareText } from '../ids.ts'
import { fold } from '../name-folding.ts'
import { addTo, type Histogram, mergeInto, type Spread, spreadOf } from '../statistics/histogram.ts'
import {
  type Agreement,
  addMeasured,
  type MeasurementError,
  measurementError,
  mergeAgreement,
  noAgreement,
} from '../statistics/measurement-error.ts'
import {
  addLifetime,
  type Lifetimes,
  mergeLifetimes,
  noLifetimes,
  type SurvivalStep,
  survivalOf,
} from '../statistics/survival.ts'
import type { ChairLife } from './chair-lives.ts'
import {
  BREAKDOWNS,
  type Breakdown,
  type ByBreakdown,
  byBreakdown,
  MEASURES,
  type Measure,
  WAITS,
  type Wait,
} from './measures.ts'
import type { ReportFacts } from './report-facts.ts'
import type { StockUse } from './stock-use.ts'

type MeasureField = NamesOfKind<'measure'>

/** People of one category; null: those who did not say. */
export interface CategoryCount {
  readonly category: string | null
  readonly people: number
}

export interface MeasureCount {
  readonly measure: Measure
  readonly people: number
  /** Each adds up to `people`. */
  readonly by: ByBreakdown<readonly CategoryCount[]>
}

/** How long parts of one kind lasted until they were put right, first in the chair as handed over, then from repair to repair. */
export interface PartReport {
  readonly part: string
  readonly faults: number
  readonly chairs: number
  readonly survival: readonly SurvivalStep[]
}

export interface AgreementReport extends MeasurementError {
  readonly field: MeasureField
}

/** What a team answers for, as numbers and keys. Every list is in one order, so that the same facts give the same text. */
export interface Report {
  readonly counts: readonly MeasureCount[]
  readonly waits: readonly (Spread & { readonly wait: Wait })[]
  readonly parts: readonly PartReport[]
  /** In the field's own unit. */
  readonly agreement: readonly AgreementReport[]
  readonly stock: readonly StockUse[]
}

/** Of one part: its lives, and the sights of the chairs that had a fault of it, which are not whole lives of the part. */
interface PartLives {
  readonly lives: Lifetimes
  readonly chairsWithFault: Histogram
  faults: number
}

const valueIn = <Key, Value>(map: Map<Key, Value>, key: Key, make: () => Value): Value => {
  const known = map.get(key)
  if (known !== undefined) return known
  const made = make()
  map.set(key, made)
  return made
}

/** Sums by what a text says, whatever its case and marks; named by the least of its spellings, so that order does not matter. */
const bySpelling = <Value>(
  entries: Iterable<readonly [string, Value]>,
  add: (sum: Value, value: Value) => Value,
): readonly (readonly [string, Value])[] => {
  const folded = new Map<string, readonly [string, Value]>()
  for (const [text, value] of entries) {
    const key = fold(text)
    const known = folded.get(key)
    folded.set(key, known ? [compareText(text, known[0]) < 0 ? text : known[0], add(known[1], value)] : [text, value])
  }
  return [...folded.values()].toSorted(([a], [b]) => compareText(a, b))
}

const mergePartLives = (part: PartLives, other: PartLives): PartLives => {
  mergeLifetimes(part.lives, other.lives)
  mergeInto(part.chairsWithFault, other.chairsWithFault)
  part.faults += other.faults
  return part
}
const noPartLives = (): PartLives => ({ lives: noLifetimes(), chairsWithFault: new Map(), faults: 0 })

/**
 * Adds up case after case, and folds with folds: of any number of casebooks in any order it gives one report. What it keeps
 * grows with the kinds of places, parts and days met, not with the cases.
 */
export class ReportFold {
  readonly #counts = new Map<Measure, { people: number; readonly by: Map<Breakdown, Map<string | null, number>> }>()
  readonly #waits = new Map<Wait, Histogram>()
  readonly #chairs: Histogram = new Map()
  readonly #parts = new Map<string, PartLives>()
  readonly #agreement = new Map<MeasureField, Agreement>()
  readonly #stock = new Map<string, { used: number; left: number }>()

  add({ groups, measures, waits, chairs, measured }: ReportFacts): void {
    for (const measure of measures) {
      this.#count(measure, 1)
      for (const breakdown of BREAKDOWNS) this.#countIn(measure, breakdown, groups[breakdown], 1)
    }
    for (const { wait, days } of waits) addTo(this.#waitsOf(wait), days)
    for (const chair of chairs) this.#addChair(chair)
    for (const { field, values } of measured) addMeasured(this.#agreementOf(field), values)
  }

  addStock(lines: readonly StockUse[]): void {
    for (const { line, used, left } of lines) {
      const sum = valueIn(this.#stock, line, () => ({ used: 0, left: 0 }))
      sum.used += used
      sum.left += left
    }
  }

  merge(other: ReportFold): void {
    for (const [measure, { people, by }] of other.#counts) {
      this.#count(measure, people)
      for (const [breakdown, categories] of by)
        for (const [category, times] of categories) this.#countIn(measure, breakdown, category, times)
    }
    for (const [wait, days] of other.#waits) mergeInto(this.#waitsOf(wait), days)
    mergeInto(this.#chairs, other.#chairs)
    for (const [part, lives] of other.#parts) mergePartLives(this.#partOf(part), lives)
    for (const [field, agreement] of other.#agreement) mergeAgreement(this.#agreementOf(field), agreement)
    this.addStock(other.#stockLines())
  }

  report(): Report {
    return {
      counts: MEASURES.map(measure => this.#measureCount(measure)),
      waits: WAITS.map(wait => ({ wait, ...spreadOf(this.#waits.get(wait) ?? new Map()) })),
      parts: this.#partReports(),
      agreement: this.#agreementReports(),
      stock: this.#stockLines(),
    }
  }

  #count(measure: Measure, people: number): void {
    valueIn(this.#counts, measure, () => ({ people: 0, by: new Map() })).people += people
  }

  #countIn(measure: Measure, breakdown: Breakdown, category: string | null, people: number): void {
    const { by } = valueIn(this.#counts, measure, () => ({ people: 0, by: new Map() }))
    const categories = valueIn(by, breakdown, () => new Map<string | null, number>())
    categories.set(category, (categories.get(category) ?? 0) + people)
  }

  #waitsOf(wait: Wait): Histogram {
    return valueIn(this.#waits, wait, () => new Map())
  }

  #partOf(part: string): PartLives {
    return valueIn(this.#parts, part, noPartLives)
  }

  #agreementOf(field: MeasureField): Agreement {
    return valueIn(this.#agreement, field, noAgreement)
  }

  #addChair({ days, faults }: ChairLife): void {
    addTo(this.#chairs, days)
    const byPart = faults.map((fault): readonly [string, readonly number[]] => [fault.part, [fault.days]])
    for (const [part, faultDays] of bySpelling(byPart, (some, more) => [...some, ...more])) {
      const lives = this.#partOf(part)
      let since = 0
      for (const day of faultDays.toSorted((a, b) => a - b)) {
        addLifetime(lives.lives, day - since, true)
        since = day
      }
      addLifetime(lives.lives, days - since, false)
      addTo(lives.chairsWithFault, days)
      lives.faults += faultDays.length
    }
  }

  /** Everybody is registered: what they said names the categories of every measure, and each measure has them all. */
  #categories(measure: Measure, breakdown: Breakdown): ReadonlyMap<string | null, number> {
    return this.#counts.get(measure)?.by.get(breakdown) ?? new Map()
  }

  #measureCount(measure: Measure): MeasureCount {
    const countsOf = (breakdown: Breakdown): readonly CategoryCount[] => {
      const everybody = this.#categories('registered', breakdown)
      const counted = this.#categories(measure, breakdown)
      const spellings = [...everybody.keys()].filter(category => category !== null)
      const said = spellings.map(category => [category, counted.get(category) ?? 0] as const)
      return [
        ...bySpelling(said, (a, b) => a + b).map(([category, people]) => ({ category, people })),
        ...(everybody.has(null) ? [{ category: null, people: counted.get(null) ?? 0 }] : []),
      ]
    }
    return { measure, people: this.#counts.get(measure)?.people ?? 0, by: byBreakdown(countsOf) }
  }

  #partReports(): readonly PartReport[] {
    const copies = [...this.#parts].map(([part, lives]) => [part, mergePartLives(noPartLives(), lives)] as const)
    return bySpelling(copies, mergePartLives).map(([part, { lives, chairsWithFault, faults }]): PartReport => {
      // A chair that never had a fault of this part is one whole life of it, as long as the chair was in sight.
      const whole: Histogram = new Map(this.#chairs)
      for (const [days, chairs] of chairsWithFault) addTo(whole, days, -chairs)
      mergeInto(whole, lives.whole)
      const chairs = [...chairsWithFault.values()].reduce((sum, one) => sum + one, 0)
      return { part, faults, chairs, survival: survivalOf({ failed: lives.failed, whole }) }
    })
  }

  #agreementReports(): readonly AgreementReport[] {
    return [...this.#agreement]
      .toSorted(([a], [b]) => compareText(a, b))
      .flatMap(([field, agreement]) => {
        const found = measurementError(agreement)
        return found ? [{ field, ...found, error: found.error * FIELDS[field].step }] : []
      })
  }

  #stockLines(): readonly StockUse[] {
    return [...this.#stock].toSorted(([a], [b]) => compareText(a, b)).map(([line, sum]) => ({ line, ...sum }))
  }
}
