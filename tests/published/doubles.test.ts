import { describe, expect, it } from 'vitest'
import { NAME_ROWS, WEIGHT_ROWS } from './rows/doubles.ts'

describe('likeness of names (Winkler 1994, table 2.1)', () => {
  it.each(NAME_ROWS)('$rule: $what', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})

describe('weights of fields (Fellegi and Sunter 1969; a printed table of m, u and weights)', () => {
  it.each(WEIGHT_ROWS)('$what', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})
