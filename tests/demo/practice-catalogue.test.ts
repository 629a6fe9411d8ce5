import { describe, expect, test } from 'vitest'
import practiceCatalogue from '../../demo/practice-catalogue.json'
import { catalogueSchema, stepValues } from '../../src/chair/chair-model.ts'

const catalogue = catalogueSchema.parse(practiceCatalogue)
const model = (key: string) => {
  const found = catalogue.models.find(one => one.key === key)
  if (found === undefined) throw new Error(`no model ${key}`)
  return found
}

describe('the practice catalogue', () => {
  test('offers the kinds of chair that a crew meets', () => {
    expect(catalogue.models.map(one => one.key)).toEqual([
      'trail-folding',
      'town-folding',
      'fixed-rigid',
      'rough-long',
      'growing-child',
      'low-seat',
      'pushed-support',
    ])
    expect(new Set(catalogue.models.map(one => one.frame))).toEqual(new Set(['folding', 'rigid']))
  })

  test('offers over 100,000 set-ups', () => {
    const count = catalogue.models.reduce(
      (sum, one) =>
        sum +
        one.seatWidthsMm.length *
          one.seatDepths.length *
          one.seatHeights.length *
          one.axlePositions.length *
          one.backHeights.length *
          one.cushions.length *
          stepValues(one.footrest).length ** 2 *
          (one.armrest ? stepValues(one.armrest).length : 1),
      0,
    )
    expect(count).toBeGreaterThan(100_000)
  })

  // WHO-derived gap of 30..50 mm (secondary sources of the WHO basic-level package, 2012): steps of 20 mm always reach it.
  test('has seat depths close enough for a gap of 30 to 50 mm to be met', () => {
    for (const one of catalogue.models)
      for (const [index, depth] of one.seatDepths.entries())
        if (index > 0) expect(depth.valueMm - (one.seatDepths[index - 1]?.valueMm ?? 0)).toBeLessThanOrEqual(20)
  })

  test('grows with a child: narrow widths, many depths, anti-tip wheels', () => {
    const child = model('growing-child')
    expect(Math.min(...child.seatWidthsMm)).toBeLessThan(250)
    expect(child.seatDepths.length).toBeGreaterThanOrEqual(6)
    expect(child.antiTip).toBeDefined()
  })

  test('lets feet reach the floor from the low seat, level to within 2 degrees', () => {
    const low = model('low-seat')
    for (const height of low.seatHeights) {
      expect(height.frontMm).toBeGreaterThanOrEqual(300)
      expect(height.frontMm).toBeLessThanOrEqual(400)
      const pitchDeg = (Math.atan2(height.frontMm - height.rearMm, low.seatReferenceDepthMm) * 180) / Math.PI
      expect(pitchDeg).toBeLessThanOrEqual(2)
    }
  })

  test('gives the pushed chair recline, pressure relief alone, and support for complex posture', () => {
    const pushed = model('pushed-support')
    expect(pushed.backReclineDeg).toBeGreaterThan(10)
    expect(pushed.cushions.map(cushion => cushion.relief)).toEqual(['pressure-relief', 'pressure-relief'])
    expect(pushed.postures).toContain('complex')
  })

  test('has at least one raised axle hole', () => {
    expect(catalogue.models.some(one => one.axlePositions.some(axle => axle.raiseMm !== 0))).toBe(true)
  })

  // Geometry: an empty chair stands on its four wheels, so its centre lies between axle and caster contact.
  test('stands on its own wheels when empty', () => {
    for (const one of catalogue.models) {
      const axle = one.axlePositions.find(position => position.key === one.referenceAxle)
      if (axle === undefined) throw new Error(one.key)
      expect(one.centreOfMassXMm).toBeGreaterThan(axle.xMm)
      expect(one.centreOfMassXMm).toBeLessThan(one.casterContactXMm)
    }
  })
})
