import { type CalendarDate, daysBetween, earliest, latest } from '../calendar-date.ts'
import type { Facts } from '../follow-up/facts.ts'

/** One chair with one person: how long it was in sight, and when which part of it was put right. In days from its handover. */
export interface ChairLife {
  readonly days: number
  /** As typed, by day. */
  readonly faults: readonly { readonly part: string; readonly days: number }[]
}

/** Days on which somebody had the chair before them. */
const seenOn = (facts: Facts): readonly CalendarDate[] => [
  ...facts.review.map(one => one.visitedOn),
  ...facts.repair.map(one => one.repairedOn),
  ...facts.problem.map(one => one.reportedOn),
  ...facts.tyreReading.map(one => one.on),
  ...facts.chairReturned.map(one => one.on),
]

/**
 * Chairs handed over, each until the next one was or it came back; what came of it after somebody last saw it is not known.
 * Repairs name no chair: they are taken to be of the one handed over last (project value).
 */
export const chairLivesOf = (facts: Facts): readonly ChairLife[] => {
  const starts = [...new Set(facts.handover.map(one => one.handedOverOn))].sort()
  return starts.map((start, index): ChairLife => {
    const next = starts[index + 1]
    const back = earliest(facts.chairReturned.map(one => one.on).filter(day => day > start))
    const until = earliest([next, back].filter(day => day !== undefined))
    const isOfThis = (day: CalendarDate): boolean => day >= start && (until === undefined || day <= until)
    const isLaters = (day: CalendarDate): boolean => next !== undefined && day >= next
    const end = latest([start, ...seenOn(facts).filter(day => isOfThis(day) && !isLaters(day))]) ?? start
    return {
      days: daysBetween(start, end),
      faults: facts.repair
        .filter(({ repairedOn }) => isOfThis(repairedOn) && !isLaters(repairedOn))
        .map(({ part, repairedOn }) => ({ part: part.trim(), days: daysBetween(start, repairedOn) })),
    }
  })
}
