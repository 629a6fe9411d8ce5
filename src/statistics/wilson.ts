import { Z_95 } from './normal.ts'

/** Where a share or a survival lies with 95 % confidence, each from 0 to 1. */
export interface Interval {
  readonly low: number
  readonly high: number
}

/**
 * Score interval of a proportion without continuity correction (Wilson EB 1927; Newcombe RG 1998, method 3). Null: of nobody
 * there is no proportion.
 */
export const wilsonInterval = (count: number, of: number): Interval | null => {
  if (!Number.isInteger(count) || !Number.isInteger(of) || count < 0 || count > of)
    throw new RangeError(`no proportion: ${count} of ${of}`)
  if (of === 0) return null
  const square = Z_95 ** 2
  const middle = 2 * count + square
  const spread = Z_95 * Math.sqrt(square + (4 * count * (of - count)) / of)
  const whole = 2 * (of + square)
  return {
    low: count === 0 ? 0 : (middle - spread) / whole,
    high: count === of ? 1 : (middle + spread) / whole,
  }
}
