import { describe, expect, it } from 'vitest'
import { personSchema } from '../../../src/body/person.ts'
import { ageOn, toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { personOf } from '../../../src/case/person-of.ts'
import { said, testCase } from '../../support/case-entries.ts'

// Expectations are the facts themselves, as typed; no computed figure is expected here.

const today = toCalendarDate('2026-11-25')
const person = (...sets: readonly Readonly<Record<string, unknown>>[]) =>
  personOf(
    viewOfCase(
      testCase,
      sets.map((set, index) => said({ set, by: `device ${index}` })),
    ),
    today,
  )
const length = (typed: number, how?: string) => ({ typed, unit: 'mm', ...(how ? { how } : {}) })

describe('the person of a case', () => {
  it('of an empty case is empty', () => {
    expect(person()).toEqual({})
  })

  it('has every fact that fitting takes, under one name, and nothing else', () => {
    const found = person({
      personName: 'Tavi Orun',
      sex: 'female',
      dateOfBirth: '1991-02-03',
      massKg: { typed: 61, unit: 'kg', how: 'guessed' },
      statureMm: length(1580, 'from-segments'),
      hipWidthMm: length(380),
      propulsion: ['left-hand', 'left-foot'],
      progressive: true,
      presentSore: false,
      moisture: true,
      loads: [{ massKg: 4, at: 'handles' }],
    })
    expect(found).toEqual({
      sex: 'female',
      dateOfBirth: '1991-02-03',
      massKg: 61,
      massGuessed: true,
      statureMm: 1580,
      statureMethod: 'from-segments',
      hipWidthMm: 380,
      propulsion: ['left-hand', 'left-foot'],
      progressive: true,
      skin: { presentSore: false, moisture: true },
      loads: [{ massKg: 4, at: 'handles' }],
    })
    expect(personSchema.safeParse(found).success).toBe(true)
  })

  it('with only a year of birth is as young as that year allows', () => {
    expect(person({ birthYear: 2008 }).dateOfBirth).toBe('2008-12-31')
    expect(ageOn(toCalendarDate('2008-12-31'), today)).toBe(17)
    expect(person({ birthYear: 2026 }).dateOfBirth).toBe(today)
    expect(person({ birthYear: 2008, dateOfBirth: '2008-03-01' }).dateOfBirth).toBe('2008-03-01')
  })

  it('has a loss of limb per side; "none" on both sides is known, nothing said is not', () => {
    expect(person({ limbLossLeft: { level: 'transfemoral', remainingFraction: 0.5 } }).limbLoss).toEqual([
      { side: 'left', level: 'transfemoral', remainingFraction: 0.5 },
    ])
    expect(person({ limbLossLeft: null, limbLossRight: null }).limbLoss).toEqual([])
    expect(person({}).limbLoss).toBeUndefined()
    expect(person({ armLossRight: 'below-elbow' }).armLoss).toEqual([{ side: 'right', level: 'below-elbow' }])
  })

  it('lacks a measure that two people gave differently until it is settled', () => {
    expect(person({ hipWidthMm: length(380) }, { hipWidthMm: length(430) })).toEqual({})
  })

  it('does not say how stature was come by where its readings disagree about it', () => {
    const found = person({ statureMm: length(1580, 'tape') }, { statureMm: length(1584, 'from-segments') })
    expect(found).toEqual({ statureMm: 1582 })
  })

  it('says what was on the scale too, of several weighings that with most taken off', () => {
    const inChair = (typed: number, less: number) => ({
      massKg: { typed, less, unit: 'kg', how: 'scale-in-chair' },
    })
    expect(person(inChair(78, 16)).weighedWith).toEqual({ what: 'chair', massKg: 16 })
    expect(person(inChair(78, 16), inChair(79, 17.5)).weighedWith).toEqual({ what: 'chair', massKg: 17.5 })
    expect(person({ massKg: { typed: 72, less: 60, unit: 'kg', how: 'scale-in-arms' } })).toEqual({
      massKg: 12,
      weighedWith: { what: 'adult', massKg: 60 },
    })
    expect(person({ massKg: { typed: 62, unit: 'kg', how: 'scale' } })).toEqual({ massKg: 62 })
  })
})
