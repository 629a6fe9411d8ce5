import { describe, expect, it } from 'vitest'
import type { Person } from '../../../src/body/person.ts'
import { doubtsOf, withoutSetAside } from '../../../src/body/plausibility.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'

// Persons here are invented; what is expected of a slip is the value it was made from. Unit factors: NIST SP 811, B.8.
// Bands against published bodies stand in tests/published/plausibility.test.ts.

const today = toCalendarDate('2026-11-25')
const man: Person = { sex: 'male', ageYears: 40, massKg: 84, statureMm: 1755, shoeSoleMm: 25 }
const woman: Person = { sex: 'female', ageYears: 35, massKg: 58, statureMm: 1520, shoeSoleMm: 25 }
const measured: Person = {
  ...man,
  hipWidthMm: 380,
  thighDepthLeftMm: 500,
  thighDepthRightMm: 495,
  calfLengthLeftMm: 445,
  calfLengthRightMm: 445,
  ribHeightMm: 285,
  scapulaHeightMm: 430,
  axillaHeightMm: 490,
  shoulderHeightMm: 600,
  elbowHeightMm: 245,
}

const told = (person: Person) =>
  doubtsOf(person, today).map(({ field, likely, wouldBe, setAside }) => ({
    field,
    likely,
    ...(wouldBe === undefined ? {} : { wouldBe }),
    setAside,
  }))
const slip = (field: string, likely: string, wouldBe: number, setAside: boolean) => ({
  field,
  likely,
  wouldBe,
  setAside,
})

describe('a body measured well', () => {
  it('raises no doubt', () => {
    expect(told(measured)).toEqual([])
  })

  it('raises none either with any one fact missing', () => {
    for (const key of Object.keys(measured))
      expect(told(Object.fromEntries(Object.entries(measured).filter(([name]) => name !== key)))).toEqual([])
  })

  it('an empty person raises none', () => {
    expect(told({})).toEqual([])
  })
})

describe('slips of unit', () => {
  it.each([
    [36.5, 'centimetres-as-millimetres', 365],
    [36, 'centimetres-as-millimetres', 360],
    [14.5, 'inches-as-millimetres', 368],
    [0.37, 'metres-as-millimetres', 370],
    [3800, 'millimetres-as-centimetres', 380],
  ])('a hip of %d mm is set aside as %s: it would be %d', (typed, likely, wouldBe) => {
    expect(told({ ...measured, hipWidthMm: typed })).toEqual([slip('hipWidthMm', likely, wouldBe, true)])
    expect(told({ hipWidthMm: typed })).toEqual([slip('hipWidthMm', likely, wouldBe, true)])
  })

  it('inches typed as centimetres are possible but not of this body: they stay in use, questioned', () => {
    expect(told({ ...measured, hipWidthMm: 150 })).toEqual([slip('hipWidthMm', 'inches-as-centimetres', 381, false)])
  })

  it('pounds typed as kilograms are found against hip width, and against stature', () => {
    expect(told({ ...measured, massKg: 185 })).toContainEqual(slip('massKg', 'pounds-as-kilograms', 83.9, false))
    expect(told({ ...man, massKg: 185 })).toEqual([slip('massKg', 'pounds-as-kilograms', 83.9, false)])
  })

  it('a stature in centimetres, metres or inches is set aside', () => {
    const statures = [175.5, 1.755, 69].map(statureMm => told({ ...measured, statureMm }))
    expect(statures).toEqual([
      [slip('statureMm', 'centimetres-as-millimetres', 1755, true)],
      [slip('statureMm', 'metres-as-millimetres', 1755, true)],
      [slip('statureMm', 'inches-as-millimetres', 1753, true)],
    ])
  })

  it('a door of 80 typed as millimetres is set aside', () => {
    expect(told({ narrowestDoorMm: 80 })).toEqual([slip('narrowestDoorMm', 'centimetres-as-millimetres', 800, true)])
  })
})

describe('swapped digits', () => {
  it('are named when the swap is of this body and the value is not', () => {
    expect(told({ ...woman, thighDepthLeftMm: 548 })).toEqual([slip('thighDepthLeftMm', 'digits-swapped', 458, false)])
  })

  it('are not named when the value itself is of this body', () => {
    expect(told({ ...man, thighDepthLeftMm: 548 })).toEqual([])
  })

  it('of the stature are told as one doubt of the stature, not as many of the segments', () => {
    expect(told({ ...measured, statureMm: 1575 })).toEqual([slip('statureMm', 'digits-swapped', 1755, false)])
  })

  it('of one segment are told of that segment, not of the stature', () => {
    expect(told({ ...measured, calfLengthLeftMm: 544 })).toEqual([
      slip('calfLengthLeftMm', 'digits-swapped', 454, false),
    ])
  })

  it('are laid to the segment where a swap of the stature would fit worse', () => {
    // 1575 mm would also bring a left calf of 340 mm home, but the right calf and the trunk fit 1755 mm better.
    const barefoot = { ...measured, shoeSoleMm: 0, calfLengthLeftMm: 340, calfLengthRightMm: 430 }
    expect(told(barefoot)).toEqual([slip('calfLengthLeftMm', 'digits-swapped', 430, false)])
  })

  it('of one side are found from the other side', () => {
    expect(told({ thighDepthLeftMm: 435, thighDepthRightMm: 453 })).toEqual([])
    expect(told({ thighDepthLeftMm: 428, thighDepthRightMm: 482 })).toEqual([
      slip('thighDepthLeftMm', 'digits-swapped', 482, false),
    ])
  })
})

describe('what no slip explains', () => {
  it('left and right more than 20 mm apart are questioned', () => {
    expect(told({ ...measured, calfLengthRightMm: 419 })).toEqual([
      { field: 'calfLengthLeftMm', likely: 'sides-apart', setAside: false },
    ])
    expect(told({ ...measured, calfLengthRightMm: 425 })).toEqual([])
  })

  it('heights out of order are questioned', () => {
    expect(told({ axillaHeightMm: 500, shoulderHeightMm: 480 })).toEqual([
      { field: 'axillaHeightMm', likely: 'out-of-order', setAside: false },
    ])
    expect(told({ elbowHeightMm: 300, shoulderHeightMm: 290 })).toEqual([
      { field: 'elbowHeightMm', likely: 'out-of-order', setAside: false },
    ])
  })

  it('legs as short as contracture or growth can leave them stay unquestioned; beyond that they are looked at', () => {
    expect(told({ ...man, calfLengthLeftMm: 370 })).toEqual([])
    expect(told({ ...man, calfLengthLeftMm: 300 })).toEqual([
      { field: 'calfLengthLeftMm', likely: 'unlikely', setAside: false },
    ])
  })

  it('a value no person can have and no slip explains is set aside', () => {
    expect(told({ hipWidthMm: 0.001 })).toEqual([{ field: 'hipWidthMm', likely: 'not-possible', setAside: true }])
  })

  it('a mass that no stature carries is questioned', () => {
    expect(told({ statureMm: 1900, massKg: 28 })).toContainEqual(
      expect.objectContaining({ field: 'massKg', setAside: false }),
    )
  })

  it('a birth after today is set aside, and the person is judged as of unknown age', () => {
    const person = { dateOfBirth: toCalendarDate('2031-01-01'), statureMm: 1755 }
    expect(told(person)).toEqual([{ field: 'dateOfBirth', likely: 'after-today', setAside: true }])
  })

  it('a short adult is questioned once; the body is then measured against that stature', () => {
    const short = { ...man, massKg: 45, statureMm: 1200, thighDepthLeftMm: 330, calfLengthLeftMm: 285 }
    expect(told(short)).toEqual([{ field: 'statureMm', likely: 'unlikely', setAside: false }])
  })

  it('hips after loss of a leg are not measured against mass', () => {
    const loss = { side: 'left', level: 'transfemoral', remainingFraction: 0.5 } as const
    expect(told({ ...man, massKg: 45, hipWidthMm: 400, limbLoss: [loss] })).toEqual([])
  })

  it('a guessed mass is given its error', () => {
    const hips = { ...man, massKg: 84, hipWidthMm: 310 }
    expect(told({ ...hips, massKg: 100 })).not.toEqual([])
    expect(told({ ...hips, massKg: 100, massGuessed: true })).toEqual([])
  })
})

describe('children', () => {
  const boy: Person = {
    sex: 'male',
    dateOfBirth: toCalendarDate('2017-11-25'),
    massKg: 28,
    statureMm: 1326,
    hipWidthMm: 250,
    thighDepthLeftMm: 350,
    thighDepthRightMm: 350,
    calfLengthLeftMm: 345,
    calfLengthRightMm: 345,
    ribHeightMm: 215,
    scapulaHeightMm: 320,
    elbowHeightMm: 175,
  }

  it('are measured against children', () => {
    expect(told(boy)).toEqual([])
    expect(told({ ...boy, sex: 'female' })).toEqual([])
  })

  it('with a date of birth thirty years off are questioned by their stature', () => {
    const { dateOfBirth: _, ...undated } = boy
    const doubts = told({ ...undated, dateOfBirth: toCalendarDate('1987-11-25') })
    expect(doubts[0]).toEqual({ field: 'statureMm', likely: 'unlikely', setAside: false })
  })

  it('typed in centimetres are found', () => {
    expect(told({ ...boy, thighDepthLeftMm: 35 })).toEqual([
      slip('thighDepthLeftMm', 'centimetres-as-millimetres', 350, true),
    ])
  })
})

describe('a doubt', () => {
  it('carries the sum it rests on, with the source', () => {
    const [doubt] = doubtsOf({ ...woman, thighDepthLeftMm: 548 }, today)
    // 0.3267 x 1520 - 47.0 = 449.6: ANSUR II 2012, women, buttock-popliteal length on stature.
    expect(doubt?.reason).toMatchObject({
      rule: 'expected-body',
      inputs: { thighDepthLeftMm: 548, statureMm: 1520, expected: 449.6 },
      source: 'ansur-ii-2012',
    })
    expect(doubt?.value).toBe(548)
  })

  it('mends nothing; values set aside are taken out only when asked for', () => {
    const person = { ...measured, hipWidthMm: 36.5, calfLengthRightMm: 419 }
    const before = structuredClone(person)
    const used = withoutSetAside(person, doubtsOf(person, today))
    expect(person).toEqual(before)
    expect(used.hipWidthMm).toBeUndefined()
    expect(used.calfLengthRightMm).toBe(419)
  })
})

describe('a mass between two weighings', () => {
  const sat = (massKg: number, chairKg: number): Person => ({
    ...measured,
    massKg,
    weighedWith: { what: 'chair', massKg: chairKg },
  })

  it('is judged as any mass', () => {
    expect(told(sat(84, 16))).toEqual([])
    // 84 kg on a scale in pounds: 84 / 0.45359237 = 185.2.
    expect(told(sat(185.2, 35.3))).toEqual([slip('massKg', 'pounds-as-kilograms', 84, false)])
  })

  it('is doubted where what was taken off is no chair, or nobody who can hold a child', () => {
    const doubt = (likely: string) => [{ field: 'massKg', likely, setAside: false }]
    expect(told(sat(84, 1.6))).toEqual(doubt('chair-alone-unlikely'))
    expect(told(sat(84, 84))).toEqual(doubt('chair-alone-unlikely'))
    expect(told({ ...measured, weighedWith: { what: 'adult', massKg: 12 } })).toEqual(doubt('adult-alone-unlikely'))
  })

  it('supposes no swapped digits: they are in one of two readings, not in what lies between', () => {
    // 48 for 84: an index of 15.6 goes through; 840 - 16 does not, and no swap of the digits of 824 is offered.
    expect(told(sat(824, 16))).toEqual([{ field: 'massKg', likely: 'not-possible', setAside: true }])
  })
})
