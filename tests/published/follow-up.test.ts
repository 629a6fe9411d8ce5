import { describe, expect, it } from 'vitest'
import { FOLLOW_UP_ROWS } from './rows/follow-up.ts'

describe('follow-up dates (WHO 2008, 3.3.9; WHO basic level, 2012; the rest as each row says)', () => {
  it.each(FOLLOW_UP_ROWS)('$rule: $what', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})
