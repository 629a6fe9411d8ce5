/** How often each whole number was met: what medians need, and two histograms add up to one of both. */
export type Histogram = Map<number, number>

export const addTo = (histogram: Histogram, value: number, times = 1): void => {
  if (!Number.isInteger(value)) throw new RangeError(`not a whole number: ${value}`)
  const sum = (histogram.get(value) ?? 0) + times
  if (sum === 0) histogram.delete(value)
  else histogram.set(value, sum)
}

export const mergeInto = (histogram: Histogram, other: ReadonlyMap<number, number>): void => {
  for (const [value, times] of other) addTo(histogram, value, times)
}

export const countIn = (histogram: ReadonlyMap<number, number>): number =>
  [...histogram.values()].reduce((sum, times) => sum + times, 0)

/** Each value with its count, the least first. */
export const inOrder = (histogram: ReadonlyMap<number, number>): readonly (readonly [value: number, times: number])[] =>
  [...histogram].sort(([a], [b]) => a - b)

/**
 * The value below which this share lies, between two values by their distance (Hyndman RJ, Fan Y. Sample quantiles in
 * statistical packages. Am Stat 1996;50:361-5, definition 7). Null: nothing was met.
 */
export const quantileOf = (histogram: ReadonlyMap<number, number>, share: number): number | null => {
  const count = countIn(histogram)
  if (count === 0) return null
  const place = (count - 1) * share
  const before = Math.floor(place)
  let passed = 0
  let lower: number | undefined
  for (const [value, times] of inOrder(histogram)) {
    passed += times
    if (lower === undefined && passed > before) lower = value
    if (lower !== undefined && passed > Math.min(before + 1, count - 1))
      return lower + (place - before) * (value - lower)
  }
  throw new Error(`no value at place ${place} of ${count}`)
}

/** How many, and the middle half of them. Null where there is none. */
export interface Spread {
  readonly count: number
  readonly lowerQuarter: number | null
  readonly median: number | null
  readonly upperQuarter: number | null
}

export const spreadOf = (histogram: ReadonlyMap<number, number>): Spread => ({
  count: countIn(histogram),
  lowerQuarter: quantileOf(histogram, 0.25),
  median: quantileOf(histogram, 0.5),
  upperQuarter: quantileOf(histogram, 0.75),
})
