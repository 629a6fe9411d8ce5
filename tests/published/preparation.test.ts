import { describe, expect, it, test } from 'vitest'
import practiceCatalogue from '../../demo/practice-catalogue.json'
import { type ChairModel, catalogueSchema } from '../../src/chair/chair-model.ts'
import { resolveSetUp, type SetUp } from '../../src/chair/set-up.ts'
import { buildSheet } from '../../src/preparation/build-sheet.ts'
import { USUAL_SPANNER_ROWS } from './rows/preparation.ts'

const catalogue = catalogueSchema.parse(practiceCatalogue)

const firstSetUp = (model: ChairModel): SetUp => ({
  chair: model.key,
  seatWidthMm: model.seatWidthsMm[0] ?? 0,
  seatDepth: model.seatDepths[0]?.key ?? '',
  seatHeight: model.seatHeights[0]?.key ?? '',
  axle: model.axlePositions[1]?.key ?? '',
  backHeight: model.backHeights[0]?.key ?? '',
  cushion: model.cushions[0]?.key ?? '',
  footrestLeftMm: model.footrest.minMm,
  footrestRightMm: model.footrest.minMm,
  armrestMm: model.armrest?.minMm ?? null,
})
const resolved = (setUp: SetUp) => {
  const target = resolveSetUp(catalogue, setUp)
  if (target === undefined) throw new Error(`no such set-up of ${setUp.chair}`)
  return target
}

describe('usual spanners (common practice, no source)', () => {
  it.each(USUAL_SPANNER_ROWS)('$what take $expected $unit', ({ expected, actual, tolerance }) => {
    expect(Math.abs(actual() - expected)).toBeLessThanOrEqual(tolerance)
  })
})

// Common practice, no source, each of these.
describe.each(catalogue.models)('preparing the chair "$key"', model => {
  const setUp = firstSetUp(model)
  const order = buildSheet(resolved(setUp)).steps.map(step => step.key)
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
        const sheet = buildSheet(resolved({ ...setUp, axle: to.key }), { ...setUp, axle: from.key })
        expect(sheet.steps.map(step => step.key)).toEqual(
          expect.arrayContaining(['brakes', 'spin-and-roll', 'test-ride']),
        )
        expect(sheet.makesStale).toEqual(expect.arrayContaining(['brakesHold', 'testRide', 'fitWhileMoving']))
      }
  })
})
