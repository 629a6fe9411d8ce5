/** Two-sided 95 %: the 97.5th percentile of the standard normal distribution. */
export const Z_95 = 1.959963984540054

const LEAST = 1e-300
const EXACT = 1e-15

/** erf by its series, x up to about 2 (Abramowitz and Stegun 1964, 7.1.6). */
const erfBySeries = (x: number): number => {
  let term = x
  let sum = x
  for (let n = 1; Math.abs(term) > EXACT * Math.abs(sum); n += 1) {
    term *= (2 * x * x) / (2 * n + 1)
    sum += term
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum
}

/** erfc by its continued fraction, x from about 2 (Abramowitz and Stegun 1964, 7.1.14), evaluated forwards after Lentz. */
const erfcByFraction = (x: number): number => {
  let value = x
  let [c, d] = [x, 0]
  for (let n = 1; n <= 500; n += 1) {
    d = 1 / Math.max(LEAST, x + (n / 2) * d)
    c = Math.max(LEAST, x + n / 2 / c)
    value *= c * d
    if (Math.abs(c * d - 1) < EXACT) break
  }
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * value)
}

/** Probability of a standard normal value at least this far from 0 on either side. */
export const twoSidedProbability = (z: number): number => {
  const x = Math.abs(z) / Math.SQRT2
  return x < 2 ? 1 - (x === 0 ? 0 : erfBySeries(x)) : erfcByFraction(x)
}
