/**
 * How a field speaks for or against one person (Fellegi IP, Sunter AB. A theory for record linkage. J Am Stat Assoc
 * 1969;64:1183-210). `m`: how often two registrations of one person agree so; `u`: how often those of two people do.
 */
export const matchWeight = (m: number, u: number): number => Math.log2(m / u)

/** What it weighs that they do not agree, of a field that only agrees or does not. */
export const mismatchWeight = (m: number, u: number): number => Math.log2((1 - m) / (1 - u))

/** Probability that two registrations are of one person, from the odds before looking and the sum of the weights. */
export const matchProbability = (priorOdds: number, weight: number): number => {
  const odds = priorOdds * 2 ** weight
  return odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds)
}

/** The sum of weights from which the probability is at least this. */
export const weightFor = (priorOdds: number, probability: number): number =>
  Math.log2(probability / (1 - probability) / priorOdds)
