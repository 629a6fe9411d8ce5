import { describe, expect, test } from 'vitest'
import type { Fastener } from '../../../src/chair/chair-model.ts'
import { tighteningOf, torqueBound } from '../../../src/preparation/fasteners.ts'

const bolt: Fastener = { key: 'bolt', at: 'Frame', thread: 'M8', acrossFlatsMm: 13, propertyClass: '8.8' }

describe('a fastener to be tightened', () => {
  test('takes the torque printed in the chair papers, whatever is computed', () => {
    expect(tighteningOf({ ...bolt, torqueNm: 12 }).torque).toMatchObject({
      type: 'printed',
      torqueNm: 12,
      aboveBound: false,
      reason: { source: 'chair-papers' },
    })
  })

  // Fastener makers' printed tables give 24 to 25 N m for M8 class 8.8: 40 N m is no torque for it.
  test('keeps a printed torque that its thread and class cannot bear, and marks it', () => {
    expect(tighteningOf({ ...bolt, torqueNm: 40 }).torque).toMatchObject({
      type: 'printed',
      torqueNm: 40,
      aboveBound: true,
    })
  })

  test('without a printed torque gives an upper bound, with the caution for thin and soft joints', () => {
    const { torque } = tighteningOf(bolt)
    expect(torque).toMatchObject({
      type: 'upper-bound',
      caution: 'thin-or-soft-joint-needs-the-lower-figure-of-its-maker',
      reason: { source: 'iso-898-1', inputs: { thread: 'M8', propertyClass: '8.8', friction: 0.12 } },
    })
  })

  test('rounds an upper bound down, never up', () => {
    for (const thread of ['M5', 'M6', 'M8', 'M10', 'M12', 'M14', 'M16']) {
      const { torque } = tighteningOf({ ...bolt, thread })
      if (torque.type !== 'upper-bound') throw new Error(torque.type)
      expect(torque.torqueNm).toBeLessThanOrEqual(torqueBound(thread, '8.8')?.torqueNm ?? Number.NaN)
      expect(torque.torqueNm * 10).toBeCloseTo(Math.round(torque.torqueNm * 10), 6)
    }
  })

  test('says what it does not know instead of a figure', () => {
    expect(tighteningOf({ ...bolt, thread: 'M7' }).torque).toEqual({ type: 'unknown', why: 'thread' })
    expect(tighteningOf({ ...bolt, propertyClass: '3.6' }).torque).toEqual({ type: 'unknown', why: 'property-class' })
    expect(tighteningOf({ ...bolt, thread: 'M7', torqueNm: 9 }).torque).toMatchObject({ type: 'printed', torqueNm: 9 })
  })

  // ISO 4014 / DIN 931, widths across flats: M12 has 18 mm now and had 19 mm.
  test.each([
    ['M12', 18, 'iso'],
    ['M12', 19, 'older-din'],
    ['M8', 13, 'iso'],
    ['M12', 17, 'other'],
    ['M7', 11, 'other'],
  ])('tells of %s with %d mm across flats that it is %s', (thread, acrossFlatsMm, head) => {
    expect(tighteningOf({ ...bolt, thread, acrossFlatsMm })).toMatchObject({ spannerMm: acrossFlatsMm, head })
  })
})
