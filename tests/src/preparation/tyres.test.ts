import { describe, expect, test } from 'vitest'
import type { Ground } from '../../../src/body/person.ts'
import { fillPressure, judgePressure, pressureFor } from '../../../src/preparation/tyres.ts'

const sidewall = { minKPa: 310, maxKPa: 450 }
const targetOn = (ground: Ground): number => {
  const pressure = pressureFor(sidewall, ground)
  if (pressure.type !== 'pneumatic') throw new Error(pressure.type)
  return pressure.targetKPa
}

describe('the pressure for a tyre', () => {
  test('is none for a solid tyre', () => {
    expect(pressureFor('solid', 'rough')).toEqual({ type: 'solid' })
  })

  test('is softer the rougher the ground, always within the sidewall', () => {
    expect(targetOn('rough')).toBeLessThan(targetOn('mixed'))
    expect(targetOn('mixed')).toBeLessThan(targetOn('smooth'))
    expect(targetOn('rough')).toBeGreaterThanOrEqual(sidewall.minKPa)
    expect(targetOn('smooth')).toBeLessThanOrEqual(sidewall.maxKPa)
  })

  test('says when the sidewall overrules the usual band', () => {
    expect(pressureFor({ minKPa: 450, maxKPa: 690 }, 'rough')).toMatchObject({
      leastKPa: 450,
      mostKPa: 450,
      sidewallDecides: true,
      reason: { source: 'common-practice' },
    })
    expect(pressureFor(sidewall, 'rough')).toMatchObject({ leastKPa: 310, mostKPa: 380, sidewallDecides: false })
  })

  test('is judged against the range to aim for', () => {
    const range = { leastKPa: 310, mostKPa: 380 }
    expect([309, 310, 380, 381].map(kPa => judgePressure(kPa, range))).toEqual(['soft', 'right', 'right', 'hard'])
  })
})

describe('the pressure to fill to', () => {
  const morning = { celsius: 5, altitudeM: 0 }
  const noon = { celsius: 40, altitudeM: 0 }

  test('leaves room for a hot noon, so that the sidewall is not passed there', () => {
    const fill = fillPressure(sidewall, 450, morning, noon)
    expect(fill.thereKPa).toBeCloseTo(450, 6)
    expect(fill.hereKPa).toBeLessThan(450)
  })

  test('never passes the sidewall here to reach a pressure in the cold', () => {
    const fill = fillPressure(sidewall, 440, noon, morning)
    expect(fill).toMatchObject({ hereKPa: 450, limitedBy: 'sidewall-here' })
    expect(fill.thereKPa).toBeLessThan(440)
  })

  test('takes no target above the sidewall', () => {
    const fill = fillPressure(sidewall, 900, morning, noon)
    expect(fill.thereKPa).toBeCloseTo(450, 6)
    expect(fill.limitedBy).toBe('sidewall-there')
  })

  test('is the target itself where nothing changes', () => {
    expect(fillPressure(sidewall, 345, noon, noon)).toMatchObject({ limitedBy: 'nothing' })
    expect(fillPressure(sidewall, 345, noon, noon).hereKPa).toBeCloseTo(345, 9)
  })
})
