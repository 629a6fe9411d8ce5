import { describe, expect, it, test } from 'vitest'
import { buildSheet } from '../../src/preparation/build-sheet.ts'
import { practice, practiceSetUp, resolvedIn } from '../support/practice-set-ups.ts'
import { USUAL_SPANNER_ROWS } from './rows/preparation.ts'

describe('usual spanners (common practice, no source)', () => {
  it.each(USUAL_SPANNER_ROWS)('$what take $expected $unit', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})

// Common practice, no source, each of these.
describe.each(practice.models)('preparing the chair "$key"', model => {
  const setUp = practiceSetUp(model)
  const order = buildSheet(resolvedIn(practice, setUp)).steps.map(step => step.key)
  const comesFirst = (first: string, second: string): void => {
    expect(order).toContain(first)
    expect(order).toContain(second)
    expect(order.indexOf(first)).toBeLessThan(order.indexOf(second))
  }

  test('sets the axle before the brakes and before the caster stems', () => {
    comesFirst('rear-axle', 'brakes')
    comesFirst('rear-axle', 'caster-stems')
  })
  test('sets the back height before the straps are tensioned', () => comesFirst('back-height', 'back-tension'))
  test('lays the cushion in before the footrests are set', () => {
    comesFirst('cushion', 'footrest-left')
    comesFirst('cushion', 'footrest-right')
  })
  test('brings the tyres to pressure before the brakes are set to them', () => comesFirst('tyre-pressures', 'brakes'))
  test('spins the wheels after tightening', () => comesFirst('tighten', 'spin-and-roll'))
  test('ends with folding and opening, where it folds, and a test ride with a spotter', () => {
    expect(order.at(-1)).toBe('test-ride')
    expect(order.includes('fold-and-open')).toBe(model.frame === 'folding')
    if (model.frame === 'folding') expect(order.at(-2)).toBe('fold-and-open')
  })

  test('has the brakes set again after any axle move', () => {
    for (const from of model.axlePositions)
      for (const to of model.axlePositions) {
        if (from.key === to.key) continue
        const sheet = buildSheet(resolvedIn(practice, { ...setUp, axle: to.key }), { ...setUp, axle: from.key })
        expect(sheet.steps.map(step => step.key)).toEqual(
          expect.arrayContaining(['brakes', 'spin-and-roll', 'test-ride']),
        )
        expect(sheet.makesStale).toEqual(expect.arrayContaining(['brakesHold', 'testRide', 'fitWhileMoving']))
      }
  })
})
