import { twoSidedProbability } from './normal.ts'
import { countOf, daysIn, type Lifetimes } from './survival.ts'

/** Whether two groups lasted differently: failures seen and failures expected if they did not. */
export interface LogRank {
  readonly observed: readonly [number, number]
  readonly expected: readonly [number, number]
  /** One degree of freedom. */
  readonly chiSquare: number
  readonly probability: number
}

/**
 * Log-rank test of two groups (Mantel N 1966; Peto R, Peto J 1972), with the hypergeometric variance. Null: at no time did
 * something fail while both groups were in sight, so that nothing can be compared.
 */
export const logRank = (first: Lifetimes, second: Lifetimes): LogRank | null => {
  const days = [...new Set([...daysIn(first), ...daysIn(second)])].sort((a, b) => a - b)
  let [inFirst, inSecond] = [countOf(first), countOf(second)]
  let [seenFirst, seenSecond, expectedFirst, expectedSecond, variance] = [0, 0, 0, 0, 0]
  for (const day of days) {
    const failedFirst = first.failed.get(day) ?? 0
    const failedSecond = second.failed.get(day) ?? 0
    const failed = failedFirst + failedSecond
    const atRisk = inFirst + inSecond
    if (failed > 0) {
      const share = inFirst / atRisk
      seenFirst += failedFirst
      seenSecond += failedSecond
      expectedFirst += failed * share
      expectedSecond += failed * (1 - share)
      if (atRisk > 1) variance += (failed * share * (1 - share) * (atRisk - failed)) / (atRisk - 1)
    }
    inFirst -= failedFirst + (first.whole.get(day) ?? 0)
    inSecond -= failedSecond + (second.whole.get(day) ?? 0)
  }
  if (variance <= 0) return null
  const chiSquare = (seenFirst - expectedFirst) ** 2 / variance
  return {
    observed: [seenFirst, seenSecond],
    expected: [expectedFirst, expectedSecond],
    chiSquare,
    probability: twoSidedProbability(Math.sqrt(chiSquare)),
  }
}
