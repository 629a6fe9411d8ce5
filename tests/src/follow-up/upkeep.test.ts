import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { airLossBetween, daysToMinimum } from '../../../src/follow-up/tyres.ts'
import { homeUpkeepOf } from '../../../src/follow-up/upkeep.ts'
import { catalogueOf, EXAMPLE_FOLDING } from '../../support/example-chairs.ts'
import { ADULT, CONTEXT, duesOf, handover, hasDue, review, theDue, tyre } from './dues-of.ts'

// Tyre sums are worked by hand from k = ln(left/found)/days; temperatures and altitudes by the gas law over the US Standard
// Atmosphere, 1976. Example chair: least rear pressure 310 kPa, solid casters, foam of 24 months.

const BASE = [ADULT, handover('2026-01-10'), { set: { builtChair: 'example-folding' } }]
const reading = (on: string, more: object) => ({
  on: toCalendarDate(on),
  tyre: 'rear-left' as const,
  celsius: 20,
  altitudeM: 0,
  ...more,
})

describe('a tyre', () => {
  it('gives its day with a window from the reading error of 10 kPa', () => {
    const entries = [...BASE, tyre('2026-01-31', { leftKPa: 400 }), tyre('2026-03-02', { foundKPa: 300, leftKPa: 400 })]
    // found 290: k = ln(400/290)/30 = 0.0107194, 0.2548922/k = 23.78 -> 23; found 310: k = ln(400/310)/30 -> 30.00 -> 29 or 30
    const due = theDue(duesOf(entries, '2026-03-03'), 'tyre')
    expect(due).toMatchObject({ key: 'tyre rear-left', date: '2026-03-28', window: { from: '2026-03-25' } })
    expect(['2026-03-31', '2026-04-01']).toContain(due.window?.to)
  })

  it('is corrected to the temperature and altitude of its filling', () => {
    // Filled to 450 at 20 degC and sea level. The same air shows 476.6 kPa at 2500 m (US Standard Atmosphere): no loss.
    const filled = reading('2026-01-31', { leftKPa: 450 })
    expect(airLossBetween(filled, reading('2026-03-02', { foundKPa: 476.6, altitudeM: 2500 }))).toBeUndefined()
    // 450 kPa found at 2500 m are about 26.6 kPa less at sea level: 423.4 kPa.
    const loss = airLossBetween(filled, reading('2026-03-02', { foundKPa: 450, altitudeM: 2500 }))
    expect(loss?.foundKPa).toBeCloseTo(450 - 26.64, 1)
    expect(loss?.perDay).toBeCloseTo(Math.log(450 / 423.36) / 30, 5)
  })

  it('says nothing under 7 days, under a drop of 20 kPa, after a puncture, or found flat', () => {
    const filled = reading('2026-03-01', { leftKPa: 400 })
    expect(airLossBetween(filled, reading('2026-03-07', { foundKPa: 350 }))).toBeUndefined()
    expect(airLossBetween(filled, reading('2026-03-08', { foundKPa: 350 }))?.days).toBe(7)
    expect(airLossBetween(filled, reading('2026-04-01', { foundKPa: 381 }))).toBeUndefined()
    expect(airLossBetween(filled, reading('2026-04-01', { foundKPa: 380 }))?.foundKPa).toBeCloseTo(380, 9)
    expect(airLossBetween(filled, reading('2026-04-01', { foundKPa: 300, puncture: true }))).toBeUndefined()
    expect(airLossBetween(filled, reading('2026-04-01', { foundKPa: 0 }))).toBeUndefined()
  })

  it('of the other side is another tyre', () => {
    const entries = [
      ...BASE,
      tyre('2026-01-31', { leftKPa: 400 }),
      tyre('2026-03-02', { tyre: 'rear-right', foundKPa: 300, leftKPa: 400 }),
    ]
    expect(hasDue(duesOf(entries, '2026-03-03'), 'tyre')).toBe(false)
  })

  it('below its least pressure after filling is due at once', () => {
    expect(daysToMinimum(300, 310, 0.01)).toBe(0)
    const entries = [...BASE, tyre('2026-01-31', { leftKPa: 400 }), tyre('2026-03-02', { foundKPa: 290, leftKPa: 305 })]
    expect(theDue(duesOf(entries, '2026-03-02'), 'tyre').date).toBe('2026-03-02')
  })

  it('however slow its loss, is looked at within six months', () => {
    const entries = [
      [ADULT, handover('2020-01-10'), { set: { builtChair: 'example-folding' } }],
      [tyre('2020-01-10', { leftKPa: 450 }), tyre('2026-01-10', { foundKPa: 425, leftKPa: 450 })],
    ].flat()
    expect(theDue(duesOf(entries, '2026-01-11'), 'tyre').date).toBe('2026-07-10')
  })

  it('read on an earlier chair tells nothing of the present one', () => {
    const entries = [
      ...BASE,
      tyre('2026-01-31', { leftKPa: 400 }),
      tyre('2026-03-02', { foundKPa: 300, leftKPa: 400 }),
      handover('2026-03-05', { serialNumber: 'B2' }),
    ]
    expect(hasDue(duesOf(entries, '2026-03-06'), 'tyre')).toBe(false)
  })

  it('that is solid has no pressure to lose', () => {
    const entries = [
      ...BASE,
      tyre('2026-01-31', { tyre: 'caster-left', leftKPa: 250 }),
      tyre('2026-03-02', { tyre: 'caster-left', foundKPa: 200, leftKPa: 250 }),
    ]
    expect(hasDue(duesOf(entries, '2026-03-03'), 'tyre')).toBe(false)
    const tasks = (tyres: typeof EXAMPLE_FOLDING.tyres) => homeUpkeepOf({ ...EXAMPLE_FOLDING, tyres })[0]?.tasks
    expect(tasks({ rear: 'solid', caster: 'solid' })).not.toContain('tyre-pressure')
    expect(tasks(EXAMPLE_FOLDING.tyres)).toContain('tyre-pressure')
  })
})

describe('a cushion', () => {
  const issued = (on: string, cushion = 'foam') => ({ set: { cushionIssued: { on, cushion } } })

  it('is reviewed at 12 months and replaced at the end of its life, both from the day it was issued', () => {
    const result = duesOf([...BASE, issued('2026-01-31')], '2026-02-01')
    expect(theDue(result, 'cushion-review').date).toBe('2027-01-31')
    expect(theDue(result, 'cushion-life')).toMatchObject({ date: '2028-01-31', source: 'chair-papers' })
  })

  it('of a short life is replaced, not reviewed first', () => {
    const foam = { key: 'foam', title: 'Foam', loadedMm: 40, relief: 'basic', lifeMonths: 9.5 }
    const catalogue = catalogueOf({ ...EXAMPLE_FOLDING, cushions: [foam] })
    const result = duesOf([...BASE, issued('2026-01-31')], '2026-02-01', { ...CONTEXT, catalogue })
    expect(theDue(result, 'cushion-life').date).toBe('2026-10-31')
    expect(hasDue(result, 'cushion-review')).toBe(false)
  })

  it('replaced starts again', () => {
    const result = duesOf([...BASE, issued('2026-01-31'), issued('2026-05-01')], '2026-05-02')
    expect(theDue(result, 'cushion-life').date).toBe('2028-05-01')
  })

  it('is reviewed again a year after a whole review near its twelve months, but not because of an early one', () => {
    const result = (visitedOn: string) =>
      theDue(duesOf([...BASE, issued('2026-01-10'), review(visitedOn)], '2027-02-01'), 'cushion-review').date
    expect(result('2026-07-10')).toBe('2027-01-10')
    expect(result('2027-01-05')).toBe('2028-01-05')
  })

  it('of a key that no model knows is still reviewed, and none issued is asked for', () => {
    const unknown = duesOf([...BASE, issued('2026-01-31', 'home-made')], '2026-02-01')
    expect(hasDue(unknown, 'cushion-review')).toBe(true)
    expect(hasDue(unknown, 'cushion-life')).toBe(false)
    expect(duesOf(BASE, '2026-02-01').missing).toContain('cushionIssued')
  })
})

describe('upkeep', () => {
  it('by a technician is due six months after the handover, then after each visit that looked the chair over', () => {
    expect(theDue(duesOf(BASE, '2026-02-01'), 'technician-upkeep')).toMatchObject({
      date: '2026-07-10',
      source: 'common-practice',
    })
    const seen = [...BASE, review('2026-06-01', { skills: 'not-done' })]
    expect(theDue(duesOf(seen, '2026-06-02'), 'technician-upkeep').date).toBe('2026-12-01')
    const notLooked = [...BASE, review('2026-06-01', { chair: 'not-done' })]
    expect(theDue(duesOf(notLooked, '2026-06-02'), 'technician-upkeep').date).toBe('2026-07-10')
  })

  it('of a second chair does not count from a visit to the first', () => {
    const result = duesOf(
      [
        ADULT,
        handover('2026-01-10', { serialNumber: 'A1' }),
        review('2026-02-01'),
        { set: { chairReturned: { on: '2026-03-05', serialNumber: 'A1' } } },
        handover('2026-03-05', { serialNumber: 'B2' }),
      ],
      '2026-03-06',
    )
    expect(theDue(result, 'technician-upkeep').date).toBe('2026-09-05')
  })

  it('of a chair that is not in the catalogue says so', () => {
    const result = duesOf([ADULT, handover('2026-01-10'), { set: { builtChair: 'gone' } }], '2026-02-01')
    expect(result.doubts).toMatchObject([{ field: 'builtChair', value: 'gone', likely: 'not-in-catalogue' }])
  })
})
