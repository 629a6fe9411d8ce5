import type { SurvivalStep } from '../statistics/survival.ts'
import { type CellSum, cellsToHide, LEAST_SHOWN } from './hide-small.ts'
import {
  BREAKDOWNS,
  type Breakdown,
  type ByBreakdown,
  byBreakdown,
  type Measure,
  PARTITIONS,
  type Wait,
} from './measures.ts'
import type { AgreementReport, MeasureCount, Report } from './report-fold.ts'
import type { StockUse } from './stock-use.ts'

/** A number of people, or null: hidden, because it is small or would give a small one away. */
export type Shown = number | null

export interface ReleasedCount {
  readonly measure: Measure
  readonly people: Shown
  readonly by: ByBreakdown<readonly { readonly category: string | null; readonly people: Shown }[]>
}

/** Of a part, what is left after half a year, one and two years: a curve would show each single fault. */
export interface ReleasedPart {
  readonly part: string
  readonly faults: number
  readonly survival: readonly {
    readonly days: number
    readonly survival: number
    readonly low: number
    readonly high: number
  }[]
}

/** A report that may leave the team: nothing in it is about fewer than five people. */
export interface ReleasedReport {
  readonly counts: readonly ReleasedCount[]
  readonly waits: readonly { readonly wait: Wait; readonly medianDays: number | null }[]
  readonly parts: readonly ReleasedPart[]
  readonly agreement: readonly AgreementReport[]
  readonly stock: readonly StockUse[]
}

const cellOf = (measure: Measure, breakdown?: Breakdown, category?: string | null): string =>
  JSON.stringify([measure, breakdown ?? '', category ?? null])

/** Every cell, and every sum that anybody can work out: over the categories of a breakdown, and over the parts of a whole. */
const cellsAndSums = (counts: readonly MeasureCount[]) => {
  const cells = new Map<string, number>()
  const sums: CellSum[] = []
  for (const { measure, people, by } of counts) {
    cells.set(cellOf(measure), people)
    for (const breakdown of BREAKDOWNS) {
      const parts = by[breakdown].map(({ category, people: count }) => {
        const cell = cellOf(measure, breakdown, category)
        cells.set(cell, count)
        return cell
      })
      if (parts.length > 0) sums.push({ whole: cellOf(measure), parts })
    }
  }
  for (const { whole, parts } of PARTITIONS) {
    sums.push({ whole: cellOf(whole), parts: parts.map(part => cellOf(part)) })
    const wholeBy = counts.find(({ measure }) => measure === whole)?.by
    for (const breakdown of BREAKDOWNS)
      for (const { category } of wholeBy?.[breakdown] ?? [])
        sums.push({
          whole: cellOf(whole, breakdown, category),
          parts: parts.map(part => cellOf(part, breakdown, category)),
        })
  }
  return { cells, sums }
}

const AFTER_DAYS = [182, 365, 730] as const

/** Only days until which at least five parts were in sight. */
const survivalAt = (steps: readonly SurvivalStep[]): ReleasedPart['survival'] =>
  AFTER_DAYS.flatMap(days => {
    const step = steps.findLast(one => one.days <= days)
    const isInSight = steps.some(one => one.days > days && one.atRisk >= LEAST_SHOWN)
    if (!step?.interval || !isInSight) return []
    return [{ days, survival: step.survival, ...step.interval }]
  })

/**
 * The same report for others: cells under five hidden, with those that would give one away; medians and errors of fewer than five
 * people, and parts that failed fewer than five times, left out.
 */
export const releasedReport = ({ counts, waits, parts, agreement, stock }: Report): ReleasedReport => {
  const { cells, sums } = cellsAndSums(counts)
  const hidden = cellsToHide(cells, sums)
  const shown = (people: number, cell: string): Shown => (hidden.has(cell) ? null : people)
  return {
    counts: counts.map(({ measure, people, by }) => ({
      measure,
      people: shown(people, cellOf(measure)),
      by: byBreakdown(breakdown =>
        by[breakdown].map(({ category, people: count }) => ({
          category,
          people: shown(count, cellOf(measure, breakdown, category)),
        })),
      ),
    })),
    waits: waits.map(({ wait, count, median }) => ({ wait, medianDays: count < LEAST_SHOWN ? null : median })),
    parts: parts
      .filter(({ faults, chairs }) => faults >= LEAST_SHOWN && chairs >= LEAST_SHOWN)
      .map(({ part, faults, survival }) => ({ part, faults, survival: survivalAt(survival) })),
    agreement: agreement.filter(({ people }) => people >= LEAST_SHOWN),
    stock,
  }
}
