import { describe, expect, it } from 'vitest'
import type { Person } from '../../../src/body/person.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { type ChairModel, catalogueSchema } from '../../../src/chair/chair-model.ts'
import { ALLOWANCE_POLICY, DEFAULT_POLICY, type Policy } from '../../../src/fitting/policy.ts'
import { recommend } from '../../../src/fitting/recommend.ts'
import { catalogueOf, EXAMPLE_FOLDING, WORKED_MAN, WORKED_WOMAN } from '../../support/example-chairs.ts'

const TODAY = toCalendarDate('2026-11-25')
const forPerson = (person: Person, ...models: readonly ChairModel[]) =>
  recommend(person, catalogueOf(...(models.length > 0 ? models : [EXAMPLE_FOLDING])), DEFAULT_POLICY, TODAY)
const rules = (person: Person, ...models: readonly ChairModel[]) =>
  forPerson(person, ...models).excluded.map(row => row.rule)
const relief = { key: 'relief', title: 'Relief', loadedMm: 50, relief: 'pressure-relief' as const, lifeMonths: 24 }

describe('what excludes a chair', () => {
  it('counts the loads carried with the person against the capacity', () => {
    expect(rules({ ...WORKED_MAN, massKg: 110 })).not.toContain('capacity')
    expect(rules({ ...WORKED_MAN, massKg: 110, loads: [{ massKg: 15, at: 'under', when: 'worst' }] })).toContain(
      'capacity',
    )
  })

  it('never takes a guessed mass for the capacity within 20 kg of the limit', () => {
    expect(rules({ ...WORKED_MAN, massKg: 105 })).not.toContain('capacity')
    expect(rules({ ...WORKED_MAN, massKg: 105, massGuessed: true })).toContain('capacity')
    expect(rules({ ...WORKED_MAN, massKg: 95, massGuessed: true })).not.toContain('capacity')
  })

  it('keeps a cushion without relief from skin at risk, and from no one else', () => {
    const withRelief = { ...EXAMPLE_FOLDING, cushions: [...EXAMPLE_FOLDING.cushions, relief] }
    expect(
      forPerson({ ...WORKED_MAN, skin: { pastSore: true } }, withRelief).options.map(option => option.cushion),
    ).toSatisfy((keys: string[]) => keys.length > 0 && keys.every(key => key === 'relief'))
    expect(forPerson(WORKED_MAN, withRelief).options[0]?.cushion).toBe('foam')
  })

  it('holds and refers a posture beyond the crew, and recommends nothing', () => {
    const answer = forPerson({ ...WORKED_MAN, posture: 'complex' })
    expect(answer.options).toEqual([])
    expect(answer.holds).toMatchObject([{ key: 'posture-beyond-crew', refer: 'specialist-seating' }])
  })

  it('lets the chair with the hands beside the rims through the narrowest door, or excludes it', () => {
    // 390 + 230 + 40 = 660
    expect(forPerson({ ...WORKED_MAN, narrowestDoorMm: 660 }).options[0]?.seatWidthMm).toBe(390)
    expect(rules({ ...WORKED_MAN, narrowestDoorMm: 659 })).toContain('door')
    expect(forPerson({ ...WORKED_MAN, narrowestDoorMm: 659 }).options).toEqual([])
  })

  it('takes a gap of 20 to 29 mm behind the knee only with a written reason, under 20 never', () => {
    const deep = { ...EXAMPLE_FOLDING, seatDepths: [{ key: 'deep', valueMm: 470 }] }
    expect(forPerson(WORKED_MAN, deep).options).toEqual([])
    expect(
      recommend(WORKED_MAN, catalogueOf(deep), DEFAULT_POLICY, TODAY, { smallGapAccepted: true }).options,
    ).not.toEqual([])
    const deeper = { ...EXAMPLE_FOLDING, seatDepths: [{ key: 'deeper', valueMm: 476 }] }
    expect(
      recommend(WORKED_MAN, catalogueOf(deeper), DEFAULT_POLICY, TODAY, { smallGapAccepted: true }).options,
    ).toEqual([])
  })
})

describe('the axle', () => {
  const axleOf = (person: Person, model = EXAMPLE_FOLDING) => forPerson(person, model).options[0]?.axle

  it('moves back with rougher ground and less skill', () => {
    expect(axleOf({ ...WORKED_MAN, ground: 'smooth', skill: 'expert' })).toBe('r4')
    expect(axleOf({ ...WORKED_MAN, ground: 'mixed', skill: 'practised' })).toBe('r3')
    expect(axleOf({ ...WORKED_MAN, ground: 'rough', skill: 'new' })).toBe('r1')
  })

  it('stands one hole further back after the loss of a leg, unless anti-tip wheels are there', () => {
    const person: Person = {
      ...WORKED_MAN,
      ground: 'smooth',
      limbLoss: [{ side: 'left', level: 'transtibial', remainingFraction: 0.5 }],
    }
    const withAntiTip = { ...EXAMPLE_FOLDING, antiTip: { xMm: -250, clearanceMm: 40 } }
    const { settings } = forPerson(person).options[0] ?? {}
    expect(settings?.axle).toMatchObject({ type: 'recommended', value: 'r2' })
    expect(settings?.axle).toMatchObject({
      reasons: [{ rule: 'axle-one-back-of-most-forward' }, { rule: 'elbow-window' }],
    })
    expect(axleOf(person, withAntiTip)).toBe('r4')
    // Nothing is held back where anti-tip wheels are: it must not be said either.
    const { settings: withWheels } = forPerson(person, withAntiTip).options[0] ?? {}
    expect(withWheels?.axle).toMatchObject({ reasons: [{ rule: 'axle-most-forward' }, { rule: 'elbow-window' }] })
  })

  it('is the rearmost for feet, and nearest the wanted rear share when pushed', () => {
    const low = {
      ...EXAMPLE_FOLDING,
      seatHeights: [{ key: 'low', rearMm: 315, frontMm: 322 }],
      seatDepths: [{ key: 'd360', valueMm: 360 }],
    }
    expect(axleOf({ ...WORKED_WOMAN, propulsion: ['left-foot', 'right-foot'] }, low)).toBe('r1')
    const pushed = forPerson({ ...WORKED_MAN, propulsion: ['pushed'], ground: 'smooth' }).options[0]
    const shares = ['r1', 'r2', 'r3', 'r4'].map(axle =>
      Math.abs(
        0.6 -
          (forPerson(
            { ...WORKED_MAN, propulsion: ['pushed'] },
            {
              ...EXAMPLE_FOLDING,
              axlePositions: EXAMPLE_FOLDING.axlePositions.filter(one => one.key === axle),
              referenceAxle: axle,
              massKg: 16,
            },
          ).options[0]?.predicted.rearLoadShare ?? 9),
      ),
    )
    expect(pushed?.axle).toBe('r2')
    expect(shares[1]).toBe(Math.min(...shares))
  })

  it('is weighed with the bag on the handles and without it', () => {
    const bare = forPerson(WORKED_MAN).options[0]
    const loaded = forPerson({ ...WORKED_MAN, loads: [{ massKg: 12, at: 'handles', when: 'worst' }] }).options[0]
    expect(bare?.axle).toBe('r3')
    expect(loaded?.axle).not.toBe('r3')
    // What is shown is the usual day, without the worst load.
    expect(loaded?.predicted.totalKg).toBe(bare?.predicted.totalKg)
  })
})

describe('when nothing passes', () => {
  const legless: Person = {
    ...WORKED_MAN,
    skill: 'new',
    ground: 'rough',
    thighDepthLeftMm: 480,
    thighDepthRightMm: 480,
    limbLoss: [
      { side: 'left', level: 'transfemoral', remainingFraction: 0.5 },
      { side: 'right', level: 'transfemoral', remainingFraction: 0.5 },
    ],
  }
  it('says so, and what would help in order, anti-tip among it; never the least bad in silence', () => {
    const answer = forPerson(legless)
    expect(answer.options).toEqual([])
    expect(answer.wouldHelp.map(one => one.lever)).toEqual([
      'thinner-cushion',
      'less-recline',
      'tighter-back',
      'anti-tip',
      'other-model',
    ])
    expect(answer.wouldHelp.slice(0, 4).map(one => (one.gainDeg ?? 0) > 0)).toEqual([true, true, true, true])
  })
  it('needs no calf, plate or foot for legs that are lost', () => {
    const { calfLengthLeftMm: _left, calfLengthRightMm: _right, ...without } = legless
    const answer = forPerson(
      { ...without, skill: 'expert', ground: 'smooth' },
      { ...EXAMPLE_FOLDING, antiTip: { xMm: -250, clearanceMm: 40 } },
    )
    expect(answer.missing.filter(one => one.effect === 'no-options')).toEqual([])
    expect(answer.options[0]).toMatchObject({ footrestLeftMm: null, footrestRightMm: null })
  })
})

describe('what is missing or doubtful', () => {
  it('is named, with what its absence does', () => {
    const { hipWidthMm: _hips, ...person } = WORKED_MAN
    const answer = forPerson(person)
    expect(answer.options).toEqual([])
    expect(answer.missing).toContainEqual({ field: 'hipWidthMm', effect: 'no-options' })
  })

  it('leaves an armrest off and says what it needs when the elbow was not measured', () => {
    const { elbowHeightMm: _elbow, ...person } = WORKED_MAN
    const option = forPerson(person).options[0]
    expect(option?.armrestMm).toBeNull()
    expect(option?.settings.armrest).toEqual({ type: 'missing', needs: ['elbowHeightMm'] })
  })

  it('doubts centimetres typed as millimetres, mends nothing and waits', () => {
    const answer = forPerson({ ...WORKED_MAN, hipWidthMm: 38 })
    expect(answer.doubts).toMatchObject([
      { field: 'hipWidthMm', value: 38, likely: 'centimetres-as-millimetres', wouldBe: 380, setAside: true },
    ])
    expect(answer.options).toEqual([])
  })

  it('asks people to judge for a child under four', () => {
    const answer = forPerson({ ...WORKED_MAN, ageYears: 3, statureMm: 950, massKg: 14 })
    expect(answer.holds.map(one => one.key)).toContain('under-four')
  })

  it('judges a seat that asks more of the hips than they bend, and a hanger that asks more of the knees', () => {
    const option = forPerson({ ...WORKED_MAN, hipFlexionLeftDeg: 70, kneeExtensionRightDeg: 5 }).options[0]
    expect(option?.settings.seatDepth).toMatchObject({ type: 'judge' })
    expect(option?.settings.footrestRight).toMatchObject({ type: 'judge' })
    expect(option?.settings.footrestLeft).toMatchObject({ type: 'recommended' })
  })
})

describe('the other common teaching', () => {
  it('is a rule set of its own: width + 25, depth - 50, armrest + 25; the default is untouched', () => {
    const fine = {
      ...EXAMPLE_FOLDING,
      seatWidthsMm: [380, 405, 430],
      seatDepths: [
        { key: 'd445', valueMm: 445 },
        { key: 'd465', valueMm: 465 },
      ],
      armrest: { minMm: 260, maxMm: 320, stepMm: 5 },
    }
    const best = (policy: Policy) => recommend(WORKED_MAN, catalogueOf(fine), policy, TODAY).options[0]
    expect(best(ALLOWANCE_POLICY)).toMatchObject({ seatWidthMm: 405, seatDepthMm: 445, armrestMm: 310 })
    expect(best(DEFAULT_POLICY)).toMatchObject({ seatWidthMm: 380, seatDepthMm: 465, armrestMm: 285 })
  })
})

describe('bad catalogues are refused in words', () => {
  const problems = (catalogue: unknown): string => {
    const read = catalogueSchema.safeParse(catalogue)
    return read.success ? '' : read.error.issues.map(issue => issue.message).join('; ')
  }
  const withModel = (change: object) => ({ catalogue: 1, title: 'x', models: [{ ...EXAMPLE_FOLDING, ...change }] })
  it.each([
    ['empty', { catalogue: 1, title: 'x', models: [] }, 'empty catalogue'],
    ['a model without axle positions', withModel({ axlePositions: [] }), 'at least one axle position'],
    ['a negative mass', withModel({ massKg: -16 }), 'mass must be above 0'],
    ['a key that stands twice', withModel({ cushions: [relief, relief] }), 'a key stands twice'],
    [
      'two models of one key',
      { catalogue: 1, title: 'x', models: [EXAMPLE_FOLDING, EXAMPLE_FOLDING] },
      'a key stands twice',
    ],
    ['no wheelbase', withModel({ casterContactXMm: 60 }), 'no wheelbase'],
    ['an unknown reference axle', withModel({ referenceAxle: 'r9' }), 'names no axle position'],
    ['wheels as heavy as the chair', withModel({ wheelMassKg: 16 }), 'wheels weigh as much'],
  ])('%s', (_what, catalogue, words) => {
    expect(problems(catalogue)).toContain(words)
  })
})
