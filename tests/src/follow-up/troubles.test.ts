import { describe, expect, it } from 'vitest'
import { ADULT, duesOf, handover, hasDue, review, theDue } from './dues-of.ts'

// Intervals are project values (skin look 7 and 14 days, unsafe problem 7, other 30); dates are worked by hand.

const BASE = [ADULT, handover('2026-01-10')]
const look = (on: string, found: string) => ({ set: { skinLook: { on, found } } })
const problem = (reportedOn: string, more: object = {}) => ({
  set: { problem: { reportedOn, key: 'brake-left', unsafe: false, what: 'left brake slips', ...more } },
})
const repair = (repairedOn: string, more: object = {}) => ({
  set: { repair: { repairedOn, part: 'brake', fault: 'slips', chairUsable: true, ...more } },
})

describe('an open sore', () => {
  it('is looked at 7 days after the last look, due at once, overdue from the 14th day', () => {
    const entries = [...BASE, look('2026-03-02', 'sore'), look('2026-03-08', 'red')]
    const state = (today: string) => theDue(duesOf(entries, today), 'skin-look').state
    expect(theDue(duesOf(entries, '2026-03-08'), 'skin-look')).toMatchObject({
      date: '2026-03-15',
      opens: '2026-03-08',
      overdueFrom: '2026-03-22',
    })
    expect(state('2026-03-21')).toBe('due')
    expect(state('2026-03-22')).toBe('overdue')
  })

  it('is not closed by a look that found it clear, only by a review that says why it is healed', () => {
    const entries = [...BASE, look('2026-03-02', 'sore'), look('2026-03-16', 'clear')]
    expect(theDue(duesOf(entries, '2026-03-17'), 'skin-look').date).toBe('2026-03-23')
    const seen = [...entries, review('2026-03-20')]
    expect(theDue(duesOf(seen, '2026-03-21'), 'skin-look').date).toBe('2026-03-27')
    const healed = [...entries, review('2026-03-20', { skinHealedWhy: 'closed, pale, no warmth' })]
    expect(hasDue(duesOf(healed, '2026-03-21'), 'skin-look')).toBe(false)
  })

  it('seen on the day of the review that records it as healed is healed', () => {
    const entries = [...BASE, look('2026-03-20', 'sore'), review('2026-03-20', { skinHealedWhy: 'closed' })]
    expect(hasDue(duesOf(entries, '2026-03-21'), 'skin-look')).toBe(false)
  })

  it('that opens again after healing is due again', () => {
    const entries = [
      ...BASE,
      look('2026-03-02', 'sore'),
      review('2026-03-20', { skinHealedWhy: 'closed' }),
      look('2026-04-02', 'sore'),
    ]
    expect(theDue(duesOf(entries, '2026-04-03'), 'skin-look').date).toBe('2026-04-09')
  })

  it('noted on no dated form counts from the handover', () => {
    const entries = [...BASE, { set: { presentSore: true } }]
    expect(theDue(duesOf(entries, '2026-01-11'), 'skin-look').date).toBe('2026-01-17')
  })

  it('still noted after it healed is a doubt, so that somebody settles it', () => {
    const entries = [...BASE, { set: { presentSore: true } }, review('2026-03-20', { skinHealedWhy: 'closed' })]
    const result = duesOf(entries, '2026-03-21')
    expect(hasDue(result, 'skin-look')).toBe(false)
    expect(result.doubts).toMatchObject([{ field: 'presentSore', likely: 'settle-it' }])
  })
})

describe('a reported problem', () => {
  it('is due in 7 days when unsafe, else in 30', () => {
    expect(theDue(duesOf([...BASE, problem('2026-03-02')], '2026-03-02'), 'problem').date).toBe('2026-04-01')
    expect(theDue(duesOf([...BASE, problem('2026-03-02', { unsafe: true })], '2026-03-02'), 'problem').date).toBe(
      '2026-03-09',
    )
  })

  it('of which one report says unsafe is unsafe, whichever came first', () => {
    const entries = [...BASE, problem('2026-03-02'), problem('2026-03-10', { unsafe: true })]
    expect(theDue(duesOf(entries, '2026-03-11'), 'problem').date).toBe('2026-03-17')
  })

  it('ends with its repair, not with the repair of something else', () => {
    const entries = [...BASE, problem('2026-03-02')]
    expect(hasDue(duesOf([...entries, repair('2026-03-05', { problem: 'tyre' })], '2026-03-06'), 'problem')).toBe(true)
    expect(hasDue(duesOf([...entries, repair('2026-03-05', { problem: 'brake-left' })], '2026-03-06'), 'problem')).toBe(
      false,
    )
  })

  it('stays open after a repair that left the chair unusable, which itself is unsafe', () => {
    const failed = repair('2026-03-05', { problem: 'brake-left', chairUsable: false })
    const result = duesOf([...BASE, problem('2026-03-02'), failed], '2026-03-06')
    expect(theDue(result, 'problem').date).toBe('2026-04-01')
    expect(theDue(result, 'unusable-chair').date).toBe('2026-03-12')
    const mended = duesOf([...BASE, problem('2026-03-02'), failed, repair('2026-03-10')], '2026-03-11')
    expect(hasDue(mended, 'unusable-chair')).toBe(false)
    expect(hasDue(mended, 'problem')).toBe(true)
  })

  it('reported again after its repair is open again', () => {
    const entries = [
      ...BASE,
      problem('2026-03-02'),
      repair('2026-03-05', { problem: 'brake-left' }),
      problem('2026-05-01'),
    ]
    expect(theDue(duesOf(entries, '2026-05-02'), 'problem').date).toBe('2026-05-31')
  })

  it('of a chair that came back does not follow the person to the next chair', () => {
    const entries = [
      ...BASE,
      problem('2026-03-02'),
      { set: { chairReturned: { on: '2026-04-01' } } },
      handover('2026-04-02', { serialNumber: 'B2' }),
    ]
    expect(hasDue(duesOf(entries, '2026-04-03'), 'problem')).toBe(false)
  })
})

describe('a part found wrong at a review', () => {
  it('is due in 30 days until a review finds it right', () => {
    const entries = [...BASE, review('2026-03-02', { fit: 'problem' })]
    expect(theDue(duesOf(entries, '2026-03-03'), 'found-wrong')).toMatchObject({
      date: '2026-04-01',
      reason: { inputs: { part: 'fit' } },
    })
    const later = [...entries, review('2026-03-20', { fit: 'not-done' })]
    expect(hasDue(duesOf(later, '2026-03-21'), 'found-wrong')).toBe(true)
    expect(hasDue(duesOf([...later, review('2026-03-25')], '2026-03-26'), 'found-wrong')).toBe(false)
  })

  it('and right by another on the same day counts as wrong', () => {
    const entries = [...BASE, review('2026-03-02', { fit: 'problem' }), review('2026-03-02')]
    expect(hasDue(duesOf(entries, '2026-03-03'), 'found-wrong')).toBe(true)
  })

  it('other than the chair does not end with a repair', () => {
    const entries = [...BASE, review('2026-03-02', { fit: 'problem' }), repair('2026-03-05')]
    expect(hasDue(duesOf(entries, '2026-03-06'), 'found-wrong')).toBe(true)
  })

  it('on the chair ends with a repair that leaves it usable', () => {
    const entries = [...BASE, review('2026-03-02', { chair: 'problem' })]
    expect(hasDue(duesOf(entries, '2026-03-03'), 'found-wrong')).toBe(true)
    expect(hasDue(duesOf([...entries, repair('2026-03-02')], '2026-03-03'), 'found-wrong')).toBe(false)
  })
})
