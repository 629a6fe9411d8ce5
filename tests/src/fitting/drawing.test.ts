import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bodyOf } from '../../../src/body/measurements.ts'
import type { Person } from '../../../src/body/person.ts'
import type { Point } from '../../../src/body/seated-body.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { ChairModel } from '../../../src/chair/chair-model.ts'
import { type ResolvedSetUp, resolveSetUp } from '../../../src/chair/set-up.ts'
import type { MeasuredCentre } from '../../../src/fitting/angles.ts'
import { drawingOf, type Line, type Wedge } from '../../../src/fitting/drawing.ts'
import type { Limb } from '../../../src/fitting/drawn-body.ts'
import { evaluateSetUp } from '../../../src/fitting/evaluate.ts'
import { sitterOf } from '../../../src/fitting/loaded-chair.ts'
import { needsOf } from '../../../src/fitting/needs.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { measuredPerson } from '../../support/arbitrary-fitting.ts'
import { catalogueOf, EXAMPLE_FOLDING, WORKED_MAN, WORKED_WOMAN } from '../../support/example-chairs.ts'
import { practice, practiceSetUp, resolvedIn } from '../../support/practice-set-ups.ts'
import { runs } from '../../support/seed.ts'

const TODAY = toCalendarDate('2026-05-12')

/** The set-up of the worked example: 390 wide, 440 deep, third hole, footrests 400, back 420, armrest 280. */
const WORKED = {
  chair: 'example-folding',
  seatWidthMm: 390,
  seatDepth: 'd440',
  seatHeight: 'standard',
  axle: 'r3',
  backHeight: 'b420',
  cushion: 'foam',
  footrestLeftMm: 400,
  footrestRightMm: 400,
  armrestMm: 280,
}

const worked = (change: Partial<ChairModel> = {}, setUp: Partial<typeof WORKED> = {}): ResolvedSetUp => {
  const resolved = resolveSetUp(catalogueOf({ ...EXAMPLE_FOLDING, ...change }), { ...WORKED, ...setUp })
  if (!resolved) throw new Error('the worked set-up is not offered')
  return resolved
}

const drawn = (person: Person, setUp: ResolvedSetUp, measured?: MeasuredCentre) => {
  const { body } = bodyOf(person, TODAY)
  if (!body) throw new Error('measures are missing')
  const sitter = sitterOf(person, body)
  const needs = needsOf(person, body, DEFAULT_POLICY)
  const evaluation = evaluateSetUp(sitter, needs, setUp, DEFAULT_POLICY, measured)
  return { ...drawingOf(sitter, needs, setUp, evaluation, DEFAULT_POLICY, measured), body, evaluation }
}

const degrees = (radians: number): number => (radians * 180) / Math.PI
const apart = (a: Point, b: Point): number => Math.hypot(a.xMm - b.xMm, a.zMm - b.zMm)
const lengthOf = ([from, to]: Line): number => apart(from, to)
/** Angle of a drawn line from the vertical, read off its ends like with a protractor. */
const fromVertical = ([from, to]: Line): number => degrees(Math.atan2(to.xMm - from.xMm, to.zMm - from.zMm))
const readOff = (wedge: Wedge, centre: Point): number => Math.abs(fromVertical([wedge.pivot, centre]))
const lowest = (limbs: readonly Limb[]): number =>
  Math.min(...limbs.flatMap(one => [one.from.zMm - one.fromRadiusMm, one.to.zMm - one.toRadiusMm]))
const side = <One extends { readonly side: string }>(all: readonly One[], name: string): One => {
  const found = all.find(one => one.side === name)
  if (!found) throw new Error(`nothing on the ${name}`)
  return found
}

// Expected values: arithmetic by hand from the chair as a tape measures it (rail 445/478 over 440, hanger leaning 18 deg, hole at 35, casters at 415).
describe('the side view of the worked example', () => {
  const { side: view } = drawn(WORKED_MAN, worked())

  it('puts wheels, holes and casters where the tape found them', () => {
    expect(view.chair.axle).toEqual({ xMm: 35, zMm: 305 })
    expect(view.chair.casterAxle).toEqual({ xMm: 415, zMm: 100 })
    expect(view.chair.holes.map(one => [one.key, one.at.xMm, one.chosen])).toEqual([
      ['r1', -25, false],
      ['r2', 5, false],
      ['r3', 35, true],
      ['r4', 65, false],
    ])
    expect(view.chair.seatRear).toEqual({ xMm: 0, zMm: 445 })
    expect(view.chair.railFront.zMm).toBeCloseTo(478, 1)
  })

  it('draws the back 420 long leaning 8 degrees and the hanger 400 long leaning 18', () => {
    expect(lengthOf([view.chair.seatRear, view.chair.backTop])).toBeCloseTo(420, 6)
    expect(fromVertical([view.chair.seatRear, view.chair.backTop])).toBeCloseTo(-8, 6)
    const { hanger } = side(view.chair.plates, 'right')
    expect(lengthOf(hanger)).toBeCloseTo(400, 6)
    expect(180 - fromVertical(hanger)).toBeCloseTo(18, 6)
  })

  it('measures 55 behind the knee and 78 under the plate, as long as they are drawn', () => {
    // 495 - 440 = 55; 478 - 400 cos 18 - 20 = 77.6.
    expect(view.kneeGap.mm).toBe(55)
    expect(lengthOf(view.kneeGap.line)).toBeCloseTo(55, 6)
    expect(view.groundClearance?.mm).toBeCloseTo(77.6, 1)
    expect(view.groundClearance && lengthOf(view.groundClearance.line)).toBeCloseTo(77.6, 1)
  })

  it('marks the mass centre where Winter 2009, table 4.1 and the weighed chair put it', () => {
    const { trunk, legs } = view.body
    const on = (one: Limb | undefined, share: number): Point => {
      if (!one) throw new Error('a limb is missing')
      const along = (from: number, to: number): number => from + share * (to - from)
      return { xMm: along(one.from.xMm, one.to.xMm), zMm: along(one.from.zMm, one.to.zMm) }
    }
    // Head, arms and trunk 0.678 at 0.626; thigh 0.100 at 0.433; leg and foot 0.061 at 0.606; 84 kg of person.
    const parts: [number, Point][] = [
      [0.678 * 84, on(trunk, 0.626)],
      ...legs.flatMap((leg): [number, Point][] => [
        [0.1 * 84, on(leg.limbs[0], 0.433)],
        [0.061 * 84, on(leg.limbs[1], 0.606)],
      ]),
      // The chair as weighed, in this very hole: 16 kg at 150 / 350.
      [16, { xMm: 150, zMm: 350 }],
    ]
    const mean = (pick: (point: Point) => number): number =>
      parts.reduce((sum, [kg, at]) => sum + kg * pick(at), 0) / 100
    expect(view.massCentre.xMm).toBeCloseTo(
      mean(at => at.xMm),
      6,
    )
    expect(view.massCentre.zMm).toBeCloseTo(
      mean(at => at.zMm),
      6,
    )
  })

  it('says of each wedge the angle that is drawn', () => {
    for (const wedge of [view.rearward, view.balance, view.forward])
      expect(readOff(wedge, view.massCentre)).toBeCloseTo(wedge.deg as number, 6)
    // Practised on mixed ground: 9 rearward, 13 forward (team policy).
    expect([view.rearward.leastDeg, view.forward.leastDeg, view.balance.leastDeg]).toEqual([9, 13, null])
  })

  it('lays the thighs on the cushion and the back against the upholstery', () => {
    const { trunk, legs } = view.body
    const [rear, front] = view.chair.cushionTop
    const across = (point: Point): number =>
      ((front.xMm - rear.xMm) * (point.zMm - rear.zMm) - (front.zMm - rear.zMm) * (point.xMm - rear.xMm)) /
      lengthOf([rear, front])
    const thigh = side(legs, 'right').limbs[0]
    // Half a thigh is 0.048 H thick at the hip: 84 mm for 1755.
    expect(across(trunk.from)).toBeCloseTo(0.048 * 1755, 0)
    expect(thigh?.fromRadiusMm).toBeCloseTo(0.048 * 1755, 6)
    expect(apart(trunk.from, trunk.to)).toBeCloseTo(600 - 0.048 * 1755, 6)
  })

  it('draws both legs whole, their feet on the plates', () => {
    const plate = side(view.chair.plates, 'right').plate[0]
    for (const leg of view.body.legs) {
      expect(leg.limbs).toHaveLength(4)
      expect(leg.prosthesis).toEqual([])
      // Calf 445 less cushion 40 is 405 against a hanger of 400; a straight line for a leg leaves a few mm.
      expect(Math.abs(lowest(leg.limbs) - plate.zMm)).toBeLessThan(20)
    }
  })

  it('puts the mass centre where two scales found it', () => {
    const measured = drawn(WORKED_MAN, worked(), { comAheadOfAxleMm: 120 }).side
    expect(measured.massCentre.xMm).toBe(35 + 120)
    expect(readOff(measured.rearward, measured.massCentre)).toBeCloseTo(measured.rearward.deg as number, 6)
  })

  it('shows from behind the track of a 390 seat and the lines over which it tips', () => {
    const { rear } = drawn(WORKED_MAN, worked())
    expect([rear.seatWidthMm, rear.rearTrackMm, rear.chairWidthMm]).toEqual([390, 390 + 190, 390 + 230])
    expect(rear.hipWidthMm).toBe(380)
    // Plane statics: distance of the centre from the line between rear contact (0, 290) and caster contact (380, 245).
    const ahead = view.massCentre.xMm - 35
    const inside = Math.abs(380 * (0 - 290) - (245 - 290) * ahead) / Math.hypot(380, 45)
    expect(rear.left.yMm).toBeCloseTo(inside, 6)
    expect(rear.right.yMm).toBeCloseTo(-inside, 6)
    for (const tip of [rear.left, rear.right])
      expect(tip.deg).toBeCloseTo(degrees(Math.atan2(inside, view.massCentre.zMm)), 6)
  })
})

describe('a raised hole', () => {
  const raised = worked({ axlePositions: [{ key: 'r3', xMm: 35, raiseMm: 40 }], referenceAxle: 'r3' })
  const { side: view } = drawn(WORKED_MAN, raised)
  // The frame turns as one about the caster axle (415, 100) by atan(40 / 380), rear down.
  const turn = degrees(Math.atan(40 / 380))

  it('leans the back and the hanger by the turn and leaves the wheels on the ground', () => {
    expect(fromVertical([view.chair.seatRear, view.chair.backTop])).toBeCloseTo(-8 - turn, 6)
    expect(180 - fromVertical(side(view.chair.plates, 'left').hanger)).toBeCloseTo(18 + turn, 6)
    expect(view.chair.axle.zMm).toBe(305)
    expect(view.chair.casterAxle).toEqual({ xMm: 415, zMm: 100 })
    expect(fromVertical(view.chair.casterStem)).toBeCloseTo(180, 6)
  })

  it('takes the body with it', () => {
    const flat = drawn(WORKED_MAN, worked()).side
    for (const [before, after] of [
      [flat.body.trunk.from, view.body.trunk.from],
      [flat.body.trunk.to, view.body.trunk.to],
      [flat.chair.seatFront, view.chair.seatFront],
    ] as const) {
      const pivot = { xMm: 415, zMm: 100 }
      expect(apart(pivot, after)).toBeCloseTo(apart(pivot, before), 6)
      // Seen with the front to the right, rear down is against the clock: directions fall by the turn.
      expect(fromVertical([pivot, before]) - fromVertical([pivot, after])).toBeCloseTo(turn, 6)
    }
  })
})

describe('limb loss', () => {
  const without = (limbLoss: NonNullable<Person['limbLoss']>) => drawn({ ...WORKED_MAN, limbLoss }, worked()).side.body

  it('draws what remains of a thigh to its length, and nothing beyond', () => {
    const whole = drawn(WORKED_MAN, worked()).side.body
    const { legs } = without([
      { side: 'left', level: 'transfemoral', remainingFraction: 0.7 },
      { side: 'right', level: 'hip-disarticulation' },
    ])
    const [left, intact] = [side(legs, 'left').limbs, side(whole.legs, 'left').limbs[0]]
    expect(left).toHaveLength(1)
    expect(left[0] && intact && apart(left[0].from, left[0].to) / apart(intact.from, intact.to)).toBeCloseTo(0.7, 6)
    expect(side(legs, 'right').limbs).toEqual([])
    expect(side(legs, 'right').prosthesis).toEqual([])
  })

  it('draws a worn prosthesis as a thing from where the leg ends down to its foot', () => {
    const { legs } = without([
      { side: 'right', level: 'transtibial', remainingFraction: 0.5, prosthesisWorn: true },
      { side: 'left', level: 'knee-disarticulation', prosthesisWorn: false },
    ])
    const right = side(legs, 'right')
    expect(right.limbs).toHaveLength(2)
    expect(right.prosthesis).toHaveLength(3)
    expect(right.prosthesis[0]?.from).toEqual(right.limbs[1]?.to)
    expect(side(legs, 'left')).toMatchObject({ prosthesis: [] })
    expect(side(legs, 'left').limbs).toHaveLength(1)
  })

  it('draws the arm that is there', () => {
    const { arms } = drawn({ ...WORKED_MAN, armLoss: [{ side: 'left', level: 'whole-arm' }] }, worked()).side.body
    expect(arms.map(one => one.side)).toEqual(['right'])
    const below = drawn({ ...WORKED_MAN, armLoss: [{ side: 'right', level: 'below-elbow' }] }, worked()).side.body
    expect(side(below.arms, 'right').limbs).toHaveLength(1)
  })
})

describe('feet and hands that drive', () => {
  it('stand on the floor and on the rim; the others rest', () => {
    // One hand and the other side's foot (worked example "woman"), on a rail low enough for her calf of 365 less 40.
    const low = worked({ seatHeights: [{ key: 'standard', rearMm: 310, frontMm: 320 }] }, { footrestRightMm: 300 })
    const { side: view } = drawn(WORKED_WOMAN, { ...low, footrestLeftMm: null })
    const { legs, arms } = view.body
    expect(side(legs, 'left').onFloor).toBe(true)
    expect(lowest(side(legs, 'left').limbs)).toBeCloseTo(0, 6)
    expect(side(legs, 'right').onFloor).toBe(false)
    expect(view.chair.plates.map(one => one.side)).toEqual(['right'])
    expect(side(arms, 'right').onRim).toBe(true)
    expect(side(arms, 'right').limbs[1]?.to).toEqual({ xMm: 35, zMm: 305 + 265 })
    expect(side(arms, 'left').onRim).toBe(false)
  })

  it('shows no elbow where no hand drives, and an arm too short as out of reach', () => {
    expect(drawn({ ...WORKED_MAN, propulsion: ['pushed'] }, worked()).side.elbow).toBeNull()
    const short = drawn({ ...WORKED_MAN, upperArmMm: 200, forearmGripMm: 180 }, worked()).side
    expect(short.elbow?.deg).toBe('outOfReach')
    // Links 0.9 * 200 and 180 - 0.0125 * 1755: the hand ends where the arm does.
    const arm = side(short.body.arms, 'right').limbs
    expect(arm[1] && short.elbow && apart(arm[1].to, short.elbow.grip)).toBeGreaterThan(50)
  })
})

const finite = (value: unknown): boolean =>
  typeof value === 'number'
    ? Number.isFinite(value)
    : value === null || typeof value !== 'object' || Object.values(value).every(finite)

describe('any body in any chair', () => {
  it('is drawn without a hole in it', () => {
    fc.assert(
      fc.property(measuredPerson, fc.constantFrom(...practice.models), (person, model) => {
        const { body } = bodyOf(person, TODAY)
        if (!body) return
        const setUp = resolvedIn(practice, practiceSetUp(model))
        const { side: view, rear } = drawn(person, setUp)
        expect(finite(view) && finite(rear)).toBe(true)
      }),
      runs(300),
    )
  })

  it('has arms whose links keep their lengths with the rim outside the shoulder (Euclid: two spheres)', () => {
    fc.assert(
      fc.property(measuredPerson, fc.constantFrom(...practice.models), (person, model) => {
        const setUp = resolvedIn(practice, practiceSetUp(model))
        const made = bodyOf(person, TODAY).body && drawn(person, setUp)
        if (!made || typeof made.side.elbow?.deg !== 'number') return
        const { body } = made
        const { at, shoulder, grip } = made.side.elbow
        const lateral = Math.max(0, (setUp.seatWidthMm + model.rearTrackAddMm - body.biacromialMm) / 2)
        // How far the elbow stands out of the plane of the shoulder, by the upper arm; then the forearm must fit.
        const out = Math.sqrt(Math.max(0, body.upperArmLinkMm ** 2 - apart(at, shoulder) ** 2))
        const forearms = [out, -out].map(y => Math.hypot(apart(at, grip), lateral - y))
        expect(Math.min(...forearms.map(one => Math.abs(one - body.forearmLinkMm)))).toBeLessThan(0.01)
      }),
      runs(300),
    )
  })
})
