import { twoSidedProbability } from '../statistics/normal.ts'

/** Share of a normal distribution up to z standard deviations above its mean. */
export const normalShareUpTo = (z: number): number => {
  const tail = twoSidedProbability(z) / 2
  return z >= 0 ? 1 - tail : tail
}

/** How many people of one kind come: so many in all, of whom each is of it with one chance; or about so many, by Poisson. */
export type Demand =
  | { readonly type: 'of-people'; readonly people: number; readonly share: number }
  | { readonly type: 'about'; readonly mean: number }

export const meanOf = (demand: Demand): number => (demand.type === 'about' ? demand.mean : demand.people * demand.share)

/** Chance that more than `pieces` are wanted: 1 - P(X <= pieces), X binomial or Poisson. 0 to 1. */
export const chanceOfMore = (demand: Demand, pieces: number): number => {
  if (pieces < 0) return 1
  let sum = 0
  for (let wanted = 0; wanted <= pieces; wanted += 1) sum += Math.exp(logChanceOf(demand, wanted))
  return Math.min(1, Math.max(0, 1 - sum))
}

/** The fewest pieces that run out with at most this chance. */
export const piecesFor = (demand: Demand, greatestChance: number): number => {
  const most = greatestOf(demand)
  let within = 0
  for (let pieces = 0; pieces < most; pieces += 1) {
    within += Math.exp(logChanceOf(demand, pieces))
    if (1 - within <= greatestChance) return pieces
  }
  return most
}

/** Nobody beyond these people; of a Poisson number, twelve standard deviations above its mean (a chance below 1e-12). */
const greatestOf = (demand: Demand): number =>
  demand.type === 'of-people' ? demand.people : Math.ceil(demand.mean + 12 * Math.sqrt(demand.mean) + 12)

/** By logarithms, so that large numbers neither overflow nor vanish: n over k p^k (1 - p)^(n - k), or m^k e^-m / k!. */
const logChanceOf = (demand: Demand, wanted: number): number => {
  if (demand.type === 'about') {
    const { mean } = demand
    if (mean === 0) return wanted === 0 ? 0 : Number.NEGATIVE_INFINITY
    return wanted * Math.log(mean) - mean - logFactorial(wanted)
  }
  const { people, share } = demand
  if (wanted > people) return Number.NEGATIVE_INFINITY
  const ways = logFactorial(people) - logFactorial(wanted) - logFactorial(people - wanted)
  return ways + timesLog(wanted, share) + timesLog(people - wanted, 1 - share)
}

/** times x log(value), with 0 x log(0) = 0. */
const timesLog = (times: number, value: number): number => (times === 0 ? 0 : times * Math.log(value))

const logFactorial = (n: number): number => {
  let sum = 0
  for (let factor = 2; factor <= n; factor += 1) sum += Math.log(factor)
  return sum
}
