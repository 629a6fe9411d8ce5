import { addTo, type Histogram, mergeInto } from './histogram.ts'
import { Z_95 } from './normal.ts'
import type { Interval } from './wilson.ts'

/** How long things lasted, in days: until they failed, or until they were last seen whole. Two such counts add up to one. */
export interface Lifetimes {
  readonly failed: Histogram
  readonly whole: Histogram
}

export const noLifetimes = (): Lifetimes => ({ failed: new Map(), whole: new Map() })

export const mergeLifetimes = (lifetimes: Lifetimes, other: Lifetimes): void => {
  mergeInto(lifetimes.failed, other.failed)
  mergeInto(lifetimes.whole, other.whole)
}

/** What is left of a group after each day on which something of it failed. */
export interface SurvivalStep {
  readonly days: number
  /** Neither failed nor lost from sight before this day. */
  readonly atRisk: number
  readonly failed: number
  /** Share that lasts longer than this day. */
  readonly survival: number
  /** Greenwood's. */
  readonly standardError: number
  /** 95 %, by log(-log S), so that it lies between 0 and 1 (Kalbfleisch JD, Prentice RL 1980). Null once nothing is left. */
  readonly interval: Interval | null
}

const intervalOf = (survival: number, greenwood: number): Interval | null => {
  if (survival <= 0 || survival >= 1) return null
  const reach = (Z_95 * Math.sqrt(greenwood)) / Math.log(survival)
  return { low: survival ** Math.exp(-reach), high: survival ** Math.exp(reach) }
}

export const daysIn = ({ failed, whole }: Lifetimes): readonly number[] =>
  [...new Set([...failed.keys(), ...whole.keys()])].sort((a, b) => a - b)

export const countOf = (lifetimes: Lifetimes): number =>
  [...lifetimes.failed.values(), ...lifetimes.whole.values()].reduce((sum, times) => sum + times, 0)

/** Product-limit estimate (Kaplan EL, Meier P 1958), one step for each day on which something failed. */
export const survivalOf = (lifetimes: Lifetimes): readonly SurvivalStep[] => {
  let atRisk = countOf(lifetimes)
  let survival = 1
  let greenwood = 0
  const steps: SurvivalStep[] = []
  for (const days of daysIn(lifetimes)) {
    const failed = lifetimes.failed.get(days) ?? 0
    if (failed > 0) {
      survival *= (atRisk - failed) / atRisk
      greenwood += failed / (atRisk * (atRisk - failed))
      const standardError = survival > 0 ? survival * Math.sqrt(greenwood) : 0
      steps.push({ days, atRisk, failed, survival, standardError, interval: intervalOf(survival, greenwood) })
    }
    atRisk -= failed + (lifetimes.whole.get(days) ?? 0)
  }
  return steps
}

/** The first day after which no more than half are left. Null: more than half outlasted what was seen. */
export const medianLifetime = (steps: readonly SurvivalStep[]): number | null =>
  steps.find(({ survival }) => survival <= 0.5)?.days ?? null

/** Notes one lifetime. */
export const addLifetime = (lifetimes: Lifetimes, days: number, hasFailed: boolean): void =>
  addTo(hasFailed ? lifetimes.failed : lifetimes.whole, days)
