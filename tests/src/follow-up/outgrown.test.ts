import { describe, expect, it } from 'vitest'
import { growthOf } from '../../../src/body/growth.ts'
import { addDays, ageInMonthsOn, type CalendarDate, daysBetween, toCalendarDate } from '../../../src/calendar-date.ts'
import type { Dues } from '../../../src/follow-up/dues.ts'
import { type Said, said } from '../../support/case-entries.ts'
import { catalogueOf, EXAMPLE_CHILD } from '../../support/example-chairs.ts'
import { CONTEXT, duesOf, duesOfEntries, handover, hasDue, theDue } from './dues-of.ts'

// The worked boy of 9: 1326 mm, 28 kg, thigh 350, hips 250, calf 345, in a seat of depth 310. The gap of 40 mm passes 75
// when stature has grown 35 / 0.316 = 111 mm, by the WHO median pace (52 + 53 mm a year) at about 11.1 years.

const BORN = toCalendarDate('2016-06-15')
const NINE = addDays(BORN, Math.round(108 * 30.4375))
const mm = (typed: number) => ({ typed, unit: 'mm', on: NINE })
const BOY = {
  sex: 'male',
  dateOfBirth: BORN,
  statureMm: mm(1326),
  massKg: { typed: 28, unit: 'kg', on: NINE },
  thighDepthLeftMm: mm(350),
  thighDepthRightMm: mm(350),
}
const CHAIR = { builtChair: 'example-child', builtSeatDepthMm: 310, builtSeatWidthMm: 280 }
const child = (person: object = BOY, chair: object = CHAIR): readonly Said[] => [
  { set: { ...person, ...chair } },
  handover(NINE),
]
const ageAtDue = (result: Dues) => ageInMonthsOn(BORN, theDue(result, 'growth').date) / 12

describe('growth', () => {
  it('of the worked boy passes the depth at about 11.1 years', () => {
    const result = duesOf(child(), NINE)
    expect(ageAtDue(result)).toBeGreaterThan(11.05)
    expect(ageAtDue(result)).toBeLessThan(11.15)
    expect(theDue(result, 'growth').reason).toMatchObject({ rule: 'outgrown-seat-depth', inputs: { roomMm: 385 } })
  })

  it('gives a window of a quarter of the interval on both sides', () => {
    const { date, window } = theDue(duesOf(child(), NINE), 'growth')
    const quarter = daysBetween(NINE, date) / 4
    expect(Math.abs(daysBetween(window?.from ?? date, date) - quarter)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(daysBetween(date, window?.to ?? date) - quarter)).toBeLessThanOrEqual(0.5)
  })

  it('counts the shorter thigh for the depth', () => {
    const result = duesOf(child({ ...BOY, thighDepthLeftMm: mm(359) }), NINE)
    expect(theDue(result, 'growth').date).toBe(theDue(duesOf(child(), NINE), 'growth').date)
  })

  it('of the width: hips of 250 in a seat of 258 have no slack once they are 3.2 % wider, at 10 years (WHO 2007)', () => {
    const result = duesOf(
      child(
        { ...BOY, statureMm: mm(1325.65), massKg: { typed: 28.204, unit: 'kg', on: NINE }, hipWidthMm: mm(250) },
        { ...CHAIR, builtSeatWidthMm: 258 },
      ),
      NINE,
    )
    expect(theDue(result, 'growth').reason.rule).toBe('outgrown-seat-width')
    expect(ageAtDue(result)).toBeGreaterThan(9.95)
    expect(ageAtDue(result)).toBeLessThan(10.05)
  })

  it('of the width keeps the room that clothing takes where it is cold: 258 less 20 is already too narrow', () => {
    const wide = { ...BOY, hipWidthMm: mm(240) }
    const chair = { ...CHAIR, builtSeatWidthMm: 258 }
    expect(theDue(duesOf(child({ ...wide, climate: 'cold' }, chair), NINE), 'growth')).toMatchObject({
      date: NINE,
      reason: { rule: 'outgrown-seat-width', inputs: { bodyMm: 240, roomMm: 238 } },
    })
    expect(theDue(duesOf(child({ ...wide, climate: 'hot' }, chair), NINE), 'growth').date > NINE).toBe(true)
  })

  it('of a child who propels with a foot is held to the gap of foot propulsion', () => {
    const depth = { ...CONTEXT.policy.depth, footPropulsionGapMm: [50, 60] as [number, number] }
    const context = { ...CONTEXT, policy: { ...CONTEXT.policy, depth } }
    const room = (propulsion: readonly string[]) =>
      theDue(duesOf(child({ ...BOY, propulsion }), NINE, context), 'growth').reason.inputs.roomMm
    expect(room(['hands'])).toBe(385)
    expect(room(['left-foot'])).toBe(370)
  })

  it('names the first day to the day: the day before, there was still room', () => {
    const { date } = theDue(duesOf(child(), NINE), 'growth')
    const boy = growthOf({
      sex: 'male',
      bornOn: BORN,
      statures: [{ on: NINE, mm: 1326 }],
    })
    const thigh = (day: CalendarDate) => boy?.thighDepthMm({ on: NINE, mm: 350 }, day) ?? Number.NaN
    expect(thigh(date)).toBeGreaterThan(385)
    expect(thigh(addDays(date, -1))).toBeLessThanOrEqual(385)
  })

  it('leaves out a stature that nobody can have', () => {
    const slip = { set: { stature: { on: addDays(NINE, 200), mm: 330 } } }
    expect(theDue(duesOf([...child(), slip], addDays(NINE, 200)), 'growth').reason.inputs.statureMm).toBe(1326)
  })

  it('of the calf: due when no footrest step is left', () => {
    const person = { ...BOY, calfLengthLeftMm: mm(345), calfLengthRightMm: mm(345) }
    const chair = { ...CHAIR, builtSeatDepthMm: 350, builtSeatHeight: 'standard', builtCushion: 'foam' }
    // Rail front 455, drop 20, clearance 50 on mixed ground: (455 - 20 - 50) / cos 18 = 404 > the longest step of 340.
    // Room: 340 + 2.5 (half a step) + 40 of foam = 382.5; 345 grows to it at stature 1326 x 382.5 / 345 = 1470 mm, by
    // the WHO 2007 median (1460 at 138 months, 1491 at 144) at about 11.65 years.
    const result = duesOf(child(person, chair), NINE)
    expect(theDue(result, 'growth').reason).toMatchObject({ rule: 'outgrown-footrest', inputs: { roomMm: 382.5 } })
    expect(ageAtDue(result)).toBeGreaterThan(11.55)
    expect(ageAtDue(result)).toBeLessThan(11.75)
    const plateOff = { ...chair, builtFootrestLeftMm: null, builtFootrestRightMm: null }
    const without = duesOf(child(person, plateOff), NINE)
    expect(without.items.some(item => item.reason.rule === 'outgrown-footrest')).toBe(false)
  })

  it('of the longer steps only those count that clear the ground', () => {
    const person = { ...BOY, calfLengthLeftMm: mm(345), calfLengthRightMm: mm(345) }
    const chair = { ...CHAIR, builtSeatDepthMm: 350, builtSeatHeight: 'standard', builtCushion: 'foam' }
    // A rail front of 380 on rough ground: (380 - 20 - 75) / cos 18 = 299.7, so 295 is the longest step: room 295 + 2.5 + 40.
    const low = { ...EXAMPLE_CHILD, seatHeights: [{ key: 'standard', rearMm: 360, frontMm: 380 }] }
    const context = { ...CONTEXT, catalogue: catalogueOf(low) }
    const rough = duesOf(child({ ...person, ground: 'rough' }, chair), NINE, context)
    expect(theDue(rough, 'growth').reason).toMatchObject({ rule: 'outgrown-footrest', inputs: { roomMm: 337.5 } })
    // On mixed ground 25 mm less is enough: (380 - 20 - 50) / cos 18 = 325.9, so 325: room 367.5.
    expect(theDue(duesOf(child(person, chair), NINE, context), 'growth').reason.inputs.roomMm).toBe(367.5)
  })

  it('of a leg lost above the knee has no say', () => {
    const lost = { ...BOY, thighDepthLeftMm: mm(300), limbLossLeft: { level: 'transfemoral', remainingFraction: 0.5 } }
    expect(theDue(duesOf(child(lost), NINE), 'growth').date).toBe(theDue(duesOf(child(), NINE), 'growth').date)
  })

  it('of a child whose sex nobody noted: the earlier day of both, and the wider window', () => {
    const { sex: _, ...unknown } = BOY
    const due = theDue(duesOf(child(unknown), NINE), 'growth')
    const each = ['male', 'female'].map(sex => theDue(duesOf(child({ ...BOY, sex }), NINE), 'growth'))
    expect(due.date).toBe(each.map(one => one.date).sort()[0])
    expect(due.window?.from).toBe(each.map(one => one.window?.from ?? one.date).sort()[0])
    expect(due.window?.to).toBe(
      each
        .map(one => one.window?.to ?? one.date)
        .sort()
        .at(-1),
    )
    // WHO 2007: girls of 9 to 11 outgrow boys (1325 -> 1450 mm against 1326 -> 1431).
    expect(due.reason.inputs).toMatchObject({ sex: null, computedAs: 'female' })
  })

  it('without a stature asks for it and leaves the half-yearly review', () => {
    const { statureMm: _, ...unmeasured } = BOY
    const result = duesOf(child(unmeasured), NINE)
    expect(hasDue(result, 'growth')).toBe(false)
    expect(hasDue(result, 'review')).toBe(true)
    expect(result.missing).toContain('statureMm')
  })

  it('of an adult is none, and nothing is asked', () => {
    const { statureMm: _, ...unmeasured } = BOY
    const result = duesOf(child({ ...unmeasured, dateOfBirth: '1990-01-01' }), NINE)
    expect(hasDue(result, 'growth')).toBe(false)
    expect(result.missing).not.toContain('statureMm')
  })

  it('follows the stature of a later visit', () => {
    const visit = addDays(NINE, 365)
    const grown = (statureMm: number) => duesOf([...child(), { set: { stature: { on: visit, mm: statureMm } } }], visit)
    // 52 mm is the median gain from 9 to 10 (WHO 2007); 95 mm a year is a growth spurt, 10 mm hardly growth.
    const [spurt, usual, slow] = [1421, 1378, 1336].map(height => theDue(grown(height), 'growth').date)
    expect(spurt && usual && spurt < usual).toBe(true)
    expect(usual && slow && usual < slow).toBe(true)
  })

  it('leaves out a slip that was corrected on its own day, and keeps what was true on an earlier day', () => {
    const base = [said({ set: { ...BOY, ...CHAIR, statureMm: mm(1236) } }), said(handover(NINE))]
    const [slip] = base
    const again = (typed: number, on: string) =>
      said({ set: { statureMm: { typed, unit: 'mm', on } }, over: slip ? [slip] : [] })
    const corrected = theDue(duesOfEntries([...base, again(1326, NINE)], NINE), 'growth')
    expect(corrected.reason.inputs).toMatchObject({ statureMm: 1326, pace: 1 })
    // 1236 at 9, 1288 a year later: 52 mm is the median gain (WHO 2007; 51 mm on this child's lower line), a pace of about 1.
    const year = addDays(NINE, 365)
    const grown = theDue(duesOfEntries([...base, again(1288, year)], year), 'growth')
    expect(grown.reason.inputs).toMatchObject({ statureMm: 1288, statureOn: year })
    expect(grown.reason.inputs.pace).not.toBe(1)
  })

  it('uses the mean of two statures of one day that stand against each other', () => {
    const entries = [...child(), { set: { statureMm: mm(1286) } }]
    expect(theDue(duesOf(entries, NINE), 'growth').reason.inputs.statureMm).toBe(1306)
  })

  it('does not count a reading before its day: a doubt, until the day comes', () => {
    const day = addDays(NINE, 400)
    const future = { set: { statureMm: { typed: 1400, unit: 'mm', on: day } } }
    const early = duesOf([...child(), future], NINE)
    expect(theDue(early, 'growth').date).toBe(theDue(duesOf(child(), NINE), 'growth').date)
    expect(early.doubts).toMatchObject([{ field: 'statureMm', value: day, likely: 'date-after-today' }])
  })
})
