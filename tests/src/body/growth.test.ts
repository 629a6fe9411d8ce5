import { describe, expect, it } from 'vitest'
import { type Child, growthOf, heightZ, statureAtZMm, valueAtZ, zOf } from '../../../src/body/growth.ts'
import { BODY_MASS_INDEX_FOR_AGE, HEIGHT_CM_FOR_AGE } from '../../../src/body/who-lms.ts'
import { addDays, toCalendarDate } from '../../../src/calendar-date.ts'

const BORN = toCalendarDate('2016-06-15')
/** WHO counts a month as 30.4375 days. */
const dayAt = (months: number) => addDays(BORN, Math.round(months * 30.4375))
const growth = (more: Partial<Child>) => {
  const grown = growthOf({ sex: 'male', bornOn: BORN, statures: [], ...more })
  if (!grown) throw new Error('no growth')
  return grown
}
/** Median statures of boys in mm, WHO Reference 2007, height-for-age: 108, 120 and 132 months. */
const MEDIAN = { 108: 1325.652, 120: 1377.795, 132: 1431.126 } as const

describe('the tables', () => {
  it.each([
    ['height, boys', HEIGHT_CM_FOR_AGE.male],
    ['height, girls', HEIGHT_CM_FOR_AGE.female],
    ['BMI, boys', BODY_MASS_INDEX_FOR_AGE.male],
    ['BMI, girls', BODY_MASS_INDEX_FOR_AGE.female],
  ] as const)('%s: rows in order from 24 to 228 months, smooth but for the seam of 2006 and 2007', (_, rows) => {
    const ages = rows.map(row => row[0])
    expect(ages[0]).toBe(24)
    expect(ages.at(-1)).toBe(228)
    expect(ages.every((age, index) => index === 0 || age > (ages[index - 1] ?? 0))).toBe(true)
    // WHO smoothed its curves: inside one reference the slope of M changes by under 0.1 a month between neighbouring
    // stretches, so that a slip of a digit (0.5 in one row, say) shows.
    const from61 = rows.filter(row => row[0] >= 61)
    const slopes = from61
      .slice(1)
      .map((row, index) => (row[2] - (from61[index]?.[2] ?? 0)) / (row[0] - (from61[index]?.[0] ?? 0)))
    const bends = slopes.slice(1).map((slope, index) => Math.abs(slope - (slopes[index] ?? 0)))
    expect(Math.max(...bends)).toBeLessThan(0.1)
  })
})

describe('z and its inverse', () => {
  it.each([
    { l: 1, m: 137.7795, s: 0.04626 },
    { l: -1.7407, m: 16.4433, s: 0.10566 },
    { l: 0, m: 16, s: 0.1 },
  ])('undo each other at $l, and M is z 0', lms => {
    for (const z of [-3, -1.5, 0, 2, 3]) expect(zOf(valueAtZ(z, lms), lms)).toBeCloseTo(z, 9)
    expect(valueAtZ(0, lms)).toBeCloseTo(lms.m, 9)
  })

  it('are not given outside 24 to 228 months', () => {
    for (const months of [-1, 0, 23.9, 228.1, 500, Number.NaN]) {
      expect(heightZ('male', months, 1000)).toBeUndefined()
      expect(statureAtZMm('female', months, 0)).toBeUndefined()
    }
    expect(heightZ('male', 24, 871.303)).toBeCloseTo(0, 6)
    expect(heightZ('male', 228, 1765.432)).toBeCloseTo(0, 6)
  })
})

describe('stature', () => {
  it('of a median boy follows the median', () => {
    const boy = growth({ statures: [{ on: dayAt(108), mm: MEDIAN[108] }] })
    expect(boy.z).toBeCloseTo(0, 2)
    // Half a day of rounding is 0.1 mm.
    expect(Math.abs((boy.statureMm(dayAt(120)) ?? 0) - MEDIAN[120])).toBeLessThan(0.2)
    expect(Math.abs((boy.statureMm(dayAt(132)) ?? 0) - MEDIAN[132])).toBeLessThan(0.2)
  })

  it('between two measurements lies on the line between them, and before the first follows the curve back', () => {
    const boy = growth({
      statures: [
        { on: toCalendarDate('2026-01-01'), mm: 1300 },
        { on: toCalendarDate('2026-01-11'), mm: 1310 },
      ],
    })
    expect(boy.statureMm(toCalendarDate('2026-01-06'))).toBeCloseTo(1305, 6)
    const median = growth({ statures: [{ on: dayAt(120), mm: MEDIAN[120] }] })
    expect(Math.abs((median.statureMm(dayAt(108)) ?? 0) - MEDIAN[108])).toBeLessThan(0.2)
  })

  it('measured twice on a day is the mean, in whatever order the two came', () => {
    const on = dayAt(108)
    const [a, b] = [
      { on, mm: 1300 },
      { on, mm: 1310 },
    ]
    expect(growth({ statures: [a, b] }).latest.mm).toBe(1305)
    expect(growth({ statures: [b, a] }).latest.mm).toBe(1305)
  })

  it('far off the curves is followed along the line of 3', () => {
    expect(growth({ statures: [{ on: dayAt(108), mm: 700 }] }).z).toBe(-3)
    expect(growth({ statures: [{ on: dayAt(108), mm: 1900 }] }).z).toBe(3)
  })

  it('is never followed back to nothing: an unlikely first stature gives no answer for early days', () => {
    const boy = growth({
      bornOn: toCalendarDate('2009-06-15'),
      statures: [{ on: toCalendarDate('2026-06-15'), mm: 600 }],
    })
    // Along the line of -3 a boy gains about 740 mm from 2 to 17 years (WHO 2006, 2007): more than he has.
    expect(boy.statureMm(toCalendarDate('2011-07-01'))).toBeUndefined()
    expect(boy.statureMm(toCalendarDate('2025-06-15'))).toBeGreaterThan(500)
  })

  it('is not forecast from nothing, from under 24 months, or beyond the table', () => {
    expect(growthOf({ sex: 'male', bornOn: BORN, statures: [] })).toBeUndefined()
    expect(growthOf({ sex: 'male', bornOn: BORN, statures: [{ on: dayAt(20), mm: 840 }] })).toBeUndefined()
    expect(growth({ statures: [{ on: dayAt(108), mm: 1326 }] }).statureMm(dayAt(229))).toBeUndefined()
  })
})

describe('the own pace', () => {
  // Median gain of a boy from 108 to 120 months: 52.1 mm (WHO 2007).
  const gained = (mm: number, months: 109 | 112 | 120 = 120) =>
    growth({
      statures: [
        { on: dayAt(108), mm: MEDIAN[108] },
        { on: dayAt(months), mm: MEDIAN[108] + mm },
      ],
    })

  it('is the own gain against the median one', () => {
    expect(gained(52.143).pace).toBeCloseTo(1, 2)
    expect(gained(0.8 * 52.143).pace).toBeCloseTo(0.8, 2)
  })

  it('is held between a half and one and a half', () => {
    expect(gained(0).pace).toBe(0.5)
    expect(gained(-40).pace).toBe(0.5)
    expect(gained(150).pace).toBe(1.5)
  })

  it('needs two statures 150 days apart', () => {
    expect(gained(40, 112).pace).toBe(1)
    const days = (count: number) =>
      growth({
        statures: [
          { on: dayAt(108), mm: 1326 },
          { on: addDays(dayAt(108), count), mm: 1326 },
        ],
      }).pace
    expect(days(149)).toBe(1)
    expect(days(150)).toBe(0.5)
  })

  it('is taken over the shortest stretch that is long enough', () => {
    const { pace } = growth({
      statures: [
        { on: dayAt(84), mm: 1050 },
        { on: dayAt(108), mm: MEDIAN[108] },
        { on: dayAt(120), mm: MEDIAN[120] },
      ],
    })
    expect(pace).toBeCloseTo(1, 2)
  })

  it('multiplies the future gain', () => {
    const slow = gained(0.5 * 52.143)
    const usual = growth({ statures: [slow.latest] })
    const gain = (one: typeof slow) => (one.statureMm(dayAt(132)) ?? 0) - one.latest.mm
    expect(gain(slow)).toBeCloseTo(0.5 * gain(usual), 1)
  })
})

describe('limbs', () => {
  const measured = { on: dayAt(108), mm: 350 }

  it('grow by 0.316 (boys) and 0.325 (girls) of the stature gained: regressed on Snyder et al. 1977', () => {
    // Median boy 108 -> 132 months gains 105.5 mm of stature: 33.3 mm of thigh; girl 124.985 mm: 40.6 mm (WHO 2007).
    const boy = growth({ statures: [{ on: dayAt(108), mm: MEDIAN[108] }] })
    expect(boy.thighDepthMm(measured, dayAt(132))).toBeCloseTo(350 + 33.3, 0)
    const girl = growth({ sex: 'female', statures: [{ on: dayAt(108), mm: 1324.944 }] })
    expect(girl.thighDepthMm(measured, dayAt(132))).toBeCloseTo(350 + 40.6, 0)
  })

  it('below the knee grow in proportion to stature', () => {
    const boy = growth({ statures: [{ on: dayAt(108), mm: MEDIAN[108] }] })
    expect(boy.calfLengthMm({ on: dayAt(108), mm: 345 }, dayAt(132))).toBeCloseTo((345 * 1431.126) / 1325.652, 0)
  })

  it('of a child whose mass nobody knows widen as the median does', () => {
    const median = growth({
      statures: [{ on: dayAt(108), mm: MEDIAN[108] }],
      mass: { on: dayAt(108), kg: 16.049 * 1.325652 ** 2 },
    })
    const unknown = growth({ statures: [{ on: dayAt(108), mm: MEDIAN[108] }] })
    const width = (one: typeof median) => one.hipWidthMm({ on: dayAt(108), mm: 250 }, dayAt(144)) ?? 0
    expect(width(unknown)).toBeCloseTo(width(median), 1)
  })
})
