import { describe, expect, it } from 'vitest'
import practiceCatalogue from '../../../demo/practice-catalogue.json' with { type: 'json' }
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { outcome } from '../../../src/outcome/outcome.ts'
import { type WaitingPerson, waitingPersonOf } from '../../../src/trip/waiting.ts'
import { said, testCase } from '../../support/case-entries.ts'

const TODAY = toCalendarDate('2026-11-25')
const context = { catalogue: catalogueSchema.parse(practiceCatalogue), policy: DEFAULT_POLICY }

const waitingFrom = (...entries: readonly Counted[]): WaitingPerson | null => {
  const view = viewOfCase(testCase, entries)
  return waitingPersonOf(view, outcome(view, context, TODAY), context, TODAY)
}

const mm = (typed: number) => ({ typed, unit: 'mm', how: 'tape' })
const REFERRED = said({
  set: { personName: 'Tavo Lind', place: 'Dorrow', referredOn: '2026-03-02', dateOfBirth: '1986-03-01' },
})
const MEASURED = said({
  set: {
    sex: 'male',
    massKg: { typed: 74, unit: 'kg', how: 'scale' },
    hipWidthMm: mm(380),
    thighDepthLeftMm: mm(480),
    thighDepthRightMm: mm(482),
    calfLengthLeftMm: mm(445),
    calfLengthRightMm: mm(445),
    ribHeightMm: mm(285),
    scapulaHeightMm: mm(430),
    elbowHeightMm: mm(245),
    propulsion: ['hands'],
    posture: 'sits-well',
    trunkNeed: 'free',
    skill: 'practised',
    ground: 'mixed',
  },
})
const chosen = said({
  set: { chosenSetUp: { chair: 'trail-folding', seatWidthMm: 400, seatDepth: 'd440', cushion: 'flat-foam' } },
})
const handedOver = said({ set: { handover: { handedOverOn: '2026-11-01' } } })

describe('who waits for a chair', () => {
  it('a measured person waits with every chair that no rule excludes, the best first', () => {
    const waits = waitingFrom(REFERRED, MEASURED)
    expect(waits).toMatchObject({ place: 'Dorrow', since: '2026-03-02', barred: null, chosen: null })
    const [first, ...others] = waits?.offers ?? []
    // By hand: hips 380 want 380 to 420 wide (slack 40), thighs 480 want 405 to 460 deep (gap 20 to 75); foam on trail-folding comes 400 and 430 wide.
    expect(first?.chair).toMatch(/^chair \S+ (380|400|405) x (4[0-6]0)$/)
    expect(others.length).toBeGreaterThan(5)
    const misfits = [first, ...others].map(offer => offer?.misfit ?? Number.NaN)
    expect(misfits).toEqual(misfits.toSorted((a, b) => a - b))
    for (const offer of waits?.offers ?? []) expect(offer.chair).not.toMatch(/ (220|250|280|310|340|360) x /)
  })

  it('counts urgency in points, with its grounds', () => {
    const risks = said({ set: { pastSore: true, moisture: true, progressive: true } })
    // Referred on 2 March: on 25 November that is more than six months.
    expect(waitingFrom(REFERRED, MEASURED)?.urgency).toEqual({ weight: 2, grounds: ['waited-long'] })
    expect(waitingFrom(REFERRED, MEASURED, risks)?.urgency).toEqual({
      weight: 4,
      grounds: ['sore-risk', 'progressive', 'waited-long'],
    })
    const child = said({ set: { dateOfBirth: '2019-01-01' } })
    expect(waitingFrom(child)?.urgency.grounds).toEqual(['child'])
  })

  it('without measures there is no chair to give, and that is the reason', () => {
    expect(waitingFrom(REFERRED)).toMatchObject({ barred: { type: 'measures-missing' }, offers: [] })
  })

  it('somebody to be referred, or not to be served today, is barred though chairs would fit', () => {
    const sore = said({ set: { presentSore: true } })
    expect(waitingFrom(REFERRED, MEASURED, sore)?.barred).toEqual({ type: 'held', holds: ['present-sore'] })
    const later = said({ set: { cannotIssue: { what: 'wait', why: 'cast comes off in spring' } } })
    expect(waitingFrom(REFERRED, MEASURED, later)?.barred).toEqual({ type: 'held', holds: ['cannot-issue-wait'] })
  })

  it('what was decided on is named as a line of stock; a decision that breaks a rule bars', () => {
    const decided = waitingFrom(REFERRED, MEASURED, chosen)
    expect(decided?.chosen).toEqual({ chair: 'chair trail-folding 400 x 440', cushion: 'cushion flat-foam' })
    expect(decided?.barred).toBeNull()
    const narrow = said({
      set: { chosenSetUp: { chair: 'trail-folding', seatWidthMm: 340, seatDepth: 'd440', cushion: 'flat-foam' } },
    })
    expect(waitingFrom(REFERRED, MEASURED, narrow)?.barred).toEqual({ type: 'chosen-breaks-rule' })
  })

  it('an open difference that matters leaves a chair to be put aside, with its hold beside it', () => {
    const wider = said({ set: { hipWidthMm: mm(450) }, by: 'b' })
    const waits = waitingFrom(REFERRED, MEASURED, wider)
    expect(waits?.barred).toBeNull()
    expect(waits?.holds).toContain('difference')
    expect(waits?.offers.length).toBeGreaterThan(0)
  })

  it('who has a chair, or needs none any more, does not wait; whose chair came back waits again', () => {
    expect(waitingFrom(REFERRED, MEASURED, handedOver)).toBeNull()
    expect(waitingFrom(REFERRED, MEASURED, said({ set: { exit: { on: '2026-11-03', why: 'moved' } } }))).toBeNull()
    const back = said({ set: { chairReturned: { on: '2026-11-20' } } })
    expect(waitingFrom(REFERRED, MEASURED, handedOver, back)?.since).toBe('2026-11-20')
  })
})
