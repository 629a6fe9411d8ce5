import { describe, expect, it } from 'vitest'
import { DIMENSION_ROWS } from './rows/dimensions.ts'
import { MECHANICS_ROWS } from './rows/mechanics.ts'
import { SEGMENT_ROWS } from './rows/segments.ts'
import { SENSITIVITY_ROWS } from './rows/sensitivities.ts'

describe.each([
  ['body segments', SEGMENT_ROWS],
  ['mechanics', MECHANICS_ROWS],
  ['dimensions', DIMENSION_ROWS],
  ['what moves the angles, and their errors', SENSITIVITY_ROWS],
])('published figures: %s', (_name, rows) => {
  it.each(rows.map(row => [`${row.rule}: ${row.what}`, row] as const))('%s', (_what, row) => {
    expect(Math.abs(row.actual() - row.expected)).toBeLessThanOrEqual(row.tolerance)
  })
})
