import { describe, expect, it } from 'vitest'
import type { Counted } from '../../../src/case/entry.ts'
import { type Said, said } from '../../support/case-entries.ts'
import { ADULT, duesOf, duesOfEntries, handover, hasDue, review, theDue } from './dues-of.ts'

// Expectations are worked by hand from the rules: six months for everyone (WHO 2008, 3.3.9), 42 days for priorities and six
// months for children (WHO basic level, 2012), the other intervals as the team's policy names them (project values).

const CHILD = { set: { dateOfBirth: '2015-06-01' } }

describe('the clock', () => {
  it('does not run before a handover: the person waits since the referral', () => {
    const result = duesOf([ADULT, { set: { referredOn: '2026-01-02' } }], '2026-05-01')
    expect(result).toMatchObject({ items: [], visits: [], changesOn: null, waitingSince: '2026-01-02', ended: null })
  })

  it('runs for each chair from its own handover', () => {
    const result = duesOf(
      [ADULT, handover('2026-01-10', { serialNumber: 'A1' }), handover('2026-03-05', { serialNumber: 'B2' })],
      '2026-03-06',
    )
    const reviews = result.items.filter(item => item.kind === 'review')
    expect(reviews.map(item => [item.serialNumber, item.date])).toEqual([
      ['A1', '2026-07-10'],
      ['B2', '2026-09-05'],
    ])
  })

  it('of a chair ends with its return, and the other chair goes on', () => {
    const result = duesOf(
      [
        ADULT,
        handover('2026-01-10', { serialNumber: 'A1' }),
        handover('2026-03-05', { serialNumber: 'B2' }),
        { set: { chairReturned: { on: '2026-03-05', serialNumber: 'A1' } } },
      ],
      '2026-03-06',
    )
    expect(theDue(result, 'review')).toMatchObject({ serialNumber: 'B2', date: '2026-09-05' })
  })

  it('of the only chair ends with a return that names none, and the person waits again', () => {
    const entries = [
      ADULT,
      handover('2026-01-10', { serialNumber: 'A1' }),
      { set: { chairReturned: { on: '2026-02-01' } } },
    ]
    expect(duesOf(entries, '2026-02-02')).toMatchObject({ items: [], waitingSince: '2026-02-01', doubts: [] })
  })

  it('goes on, with a doubt, when nobody can tell which chair came back', () => {
    const result = duesOf(
      [
        ADULT,
        handover('2026-01-10', { serialNumber: 'A1' }),
        handover('2026-01-11', { serialNumber: 'B2' }),
        { set: { chairReturned: { on: '2026-02-01' } } },
      ],
      '2026-02-02',
    )
    expect(result.items.filter(item => item.kind === 'review')).toHaveLength(2)
    expect(result.doubts.map(doubt => doubt.likely)).toEqual(['which-chair-came-back'])
  })

  it('of the earlier chair ends with an unnamed return on the day the next one is handed over', () => {
    const result = duesOf(
      [
        ADULT,
        handover('2026-01-10', { serialNumber: 'A1' }),
        { set: { chairReturned: { on: '2026-03-05' } } },
        handover('2026-03-05', { serialNumber: 'B2' }),
      ],
      '2026-03-06',
    )
    expect(theDue(result, 'review')).toMatchObject({ serialNumber: 'B2', date: '2026-09-05' })
    expect(result.doubts).toEqual([])
  })

  it('of an old chair ends and of the new one starts when both are swapped unnamed on one day', () => {
    const result = duesOf(
      [ADULT, handover('2026-01-10'), { set: { chairReturned: { on: '2026-03-05' } } }, handover('2026-03-05')],
      '2026-03-06',
    )
    expect(theDue(result, 'review').date).toBe('2026-09-05')
  })

  it('counts from both of two unsettled handovers of one chair: the earlier due wins, with a doubt', () => {
    const result = duesOf([ADULT, handover('2026-01-10'), handover('2026-01-12')], '2026-02-01')
    expect(theDue(result, 'review').date).toBe('2026-07-10')
    expect(result.doubts.map(doubt => doubt.likely)).toEqual(['two-handovers-of-one-chair'])
  })

  it('does not count a handover before its day: a doubt, until the day comes', () => {
    const entries = [ADULT, handover('2026-09-10')]
    const early = duesOf(entries, '2026-09-09')
    expect(early.items).toEqual([])
    expect(early.doubts).toMatchObject([{ field: 'handover', value: '2026-09-10', likely: 'date-after-today' }])
    expect(early.changesOn).toBe('2026-09-10')
    expect(theDue(duesOf(entries, '2026-09-10'), 'review').date).toBe('2027-03-10')
  })

  it('stops at the exit and says so', () => {
    const exit = { set: { exit: { on: '2026-03-01', why: 'moved' } } }
    const entries = [ADULT, handover('2026-01-10'), exit]
    expect(duesOf(entries, '2026-03-01')).toMatchObject({
      items: [],
      visits: [],
      ended: { on: '2026-03-01', why: 'moved' },
      changesOn: null,
    })
    const before = duesOf(entries, '2026-02-28')
    expect(before.ended).toBeNull()
    expect(hasDue(before, 'review')).toBe(true)
    expect(before.changesOn).toBe('2026-03-01')
  })
})

describe('a review', () => {
  it('of an adult without priority is followed by the next twelve months later', () => {
    const result = duesOf([ADULT, handover('2026-01-10'), review('2026-07-01')], '2026-07-02')
    expect(theDue(result, 'review')).toMatchObject({ date: '2027-07-01', opens: '2027-06-01', state: 'later' })
  })

  it('within 14 days of the handover satisfies nothing; on the 14th day it does', () => {
    const on = (day: string) =>
      theDue(duesOf([CHILD, handover('2026-01-10'), review(day)], '2026-02-01'), 'review').date
    expect(on('2026-01-23')).toBe('2026-02-21')
    expect(on('2026-01-24')).toBe('2026-07-24')
  })

  it('that left a part out satisfies nothing, and neither does an attempt, which is counted', () => {
    const result = duesOf(
      [
        ADULT,
        handover('2026-01-10'),
        review('2026-06-01', { skills: 'not-done' }),
        { set: { notFound: { on: '2026-05-20', why: 'away' } } },
        { set: { notFound: { on: '2026-06-20', why: 'away again' } } },
      ],
      '2026-07-01',
    )
    expect(theDue(result, 'review').date).toBe('2026-07-10')
    expect(result.attempts).toBe(1)
  })

  it('is judged as of a child on the day it counts from', () => {
    const seventeen = { set: { dateOfBirth: '2008-06-01' } }
    const entries = [seventeen, handover('2026-01-10')]
    expect(theDue(duesOf(entries, '2026-01-11'), 'review').date).toBe('2026-02-21')
    expect(theDue(duesOf([...entries, review('2026-06-02')], '2026-06-03'), 'review').date).toBe('2027-06-02')
  })

  it('takes 31 December where only the year of birth is known', () => {
    const born = (birthYear: number) => [{ set: { birthYear } }, handover('2026-07-01')]
    expect(theDue(duesOf(born(2008), '2026-07-02'), 'review').date).toBe('2026-08-12')
    expect(theDue(duesOf(born(2007), '2026-07-02'), 'review').date).toBe('2027-01-01')
  })

  it('counts the younger of two dates of birth that stand against each other', () => {
    const entries = [
      { set: { dateOfBirth: '1980-05-04' }, by: 'x' },
      { set: { dateOfBirth: '2014-05-04' }, by: 'y' },
      handover('2026-01-10'),
    ]
    expect(theDue(duesOf(entries, '2026-01-11'), 'review').date).toBe('2026-02-21')
  })

  it('asks for the date of birth when there is none', () => {
    expect(duesOf([handover('2026-01-10')], '2026-01-11').missing).toContain('dateOfBirth')
  })
})

describe('a risk', () => {
  const on100 = { skinLook: { on: '2026-04-20', found: 'clear' } } // day 100 after 2026-01-10

  it('recorded on no dated form counts from the handover', () => {
    const entries = [ADULT, handover('2026-01-10'), { set: { progressive: true } }]
    expect(theDue(duesOf(entries, '2026-04-21'), 'review').date).toBe('2026-02-21')
  })

  it('first recorded on the form of a visit brings the review to 42 days after that visit', () => {
    const entries = [ADULT, handover('2026-01-10'), { set: { reducedSensation: true, ...on100 } }]
    expect(theDue(duesOf(entries, '2026-04-21'), 'review')).toMatchObject({
      date: '2026-06-01',
      reason: { rule: 'review-after-new-risk', inputs: { firstRecordedOn: '2026-04-20', afterDays: 42 } },
    })
  })

  it('first recorded late does not delay the six months', () => {
    const late = { set: { reducedSensation: true, skinLook: { on: '2026-06-20', found: 'clear' } } }
    expect(theDue(duesOf([ADULT, handover('2026-01-10'), late], '2026-06-21'), 'review').date).toBe('2026-07-10')
  })

  it('found after a review brings the next one forward', () => {
    const entries = [ADULT, handover('2026-01-10'), review('2026-02-10'), { set: { moisture: true, ...on100 } }]
    expect(theDue(duesOf(entries, '2026-04-21'), 'review').date).toBe('2026-06-01')
  })

  it('that the device dates otherwise counts the same: its clock decides nothing', () => {
    const dates = [0, 1_700_000_000_000].map(
      at =>
        theDue(duesOf([ADULT, handover('2026-01-10'), { set: { moisture: true }, at }], '2026-04-21'), 'review').date,
    )
    expect(new Set(dates).size).toBe(1)
  })

  const risk = said({ set: { progressive: true } })
  const lowered = (more: object) =>
    said({ set: { progressive: false, ...more }, over: [risk], kind: 'settle', why: 'wrong diagnosis, letter seen' })
  const reviewDate = (...entries: readonly Counted[]) =>
    theDue(duesOfEntries([said(ADULT), said(handover('2026-01-10')), risk, ...entries], '2026-06-30'), 'review').date

  it('once lowered lengthens only what is counted from the next review', () => {
    const seen = said(review('2026-02-15'))
    expect(reviewDate()).toBe('2026-02-21')
    expect(reviewDate(seen)).toBe('2026-08-15')
    // Lowered on the form of a visit between two reviews: the due counted from the first stays where it was.
    const between = lowered({ skinLook: { on: '2026-04-20', found: 'clear' } })
    expect(reviewDate(seen, between)).toBe('2026-08-15')
    expect(reviewDate(seen, between, said(review('2026-06-01')))).toBe('2027-06-01')
  })

  it('lowered on no dated form moves nothing back', () => {
    expect(reviewDate(lowered({}))).toBe('2026-02-21')
    expect(reviewDate(said(review('2026-02-15')), lowered({}))).toBe('2026-08-15')
  })

  it('lowered before the handover, or on the form of the review itself, no longer counts', () => {
    expect(reviewDate(lowered({ skinLook: { on: '2026-01-05', found: 'clear' } }))).toBe('2026-07-10')
    const { set } = review('2026-02-15')
    expect(reviewDate(lowered(set))).toBe('2027-02-15')
  })

  it('of a sore, lowered and then seen again, counts again', () => {
    const sore = said({ set: { presentSore: true } })
    const healed = said({
      set: { presentSore: false, ...review('2026-02-15').set },
      over: [sore],
      kind: 'retest',
      why: 'closed, pale',
    })
    const base = [said(ADULT), said(handover('2026-01-10')), sore, healed]
    const date = (...more: readonly Said[]) =>
      theDue(duesOfEntries([...base, ...more.map(said)], '2026-06-30'), 'review').date
    expect(theDue(duesOfEntries(base, '2026-06-30'), 'review').date).toBe('2027-02-15')
    expect(date({ set: { skinLook: { on: '2026-03-02', found: 'sore' } } })).toBe('2026-04-13')
  })

  it('that was only ever answered with no is none', () => {
    expect(
      theDue(duesOf([ADULT, handover('2026-01-10'), { set: { moisture: false } }], '2026-02-01'), 'review').date,
    ).toBe('2026-07-10')
  })

  it('of a sore is dated by the look that found it', () => {
    const entries = [
      ADULT,
      handover('2026-01-10'),
      { set: { presentSore: true } },
      { set: { skinLook: { on: '2026-04-20', found: 'sore' } } },
    ]
    expect(theDue(duesOf(entries, '2026-04-21'), 'review').date).toBe('2026-06-01')
  })

  it('already known, but seen afresh after a review, brings the next one forward', () => {
    const entries = [
      ADULT,
      handover('2026-01-10'),
      { set: { presentSore: true, skinLook: { on: '2026-01-12', found: 'sore' } } },
      review('2026-02-15'),
      { set: { skinLook: { on: '2026-03-02', found: 'sore' } } },
    ]
    expect(theDue(duesOf(entries, '2026-03-03'), 'review').date).toBe('2026-04-13')
  })

  it('unticked by a later save, without a reason, stands', () => {
    expect(reviewDate(said({ set: { progressive: false }, over: [risk] }))).toBe('2026-02-21')
  })
})

describe('a temporary chair', () => {
  it('is due on the day it was given until', () => {
    const result = duesOf([ADULT, handover('2026-01-10', { temporaryUntil: '2026-04-01' })], '2026-01-11')
    expect(theDue(result, 'temporary-chair')).toMatchObject({ date: '2026-04-01', opens: '2026-03-18', state: 'later' })
  })

  it('or any other "not today" is due on its day before a handover, and no longer after a lasting one', () => {
    const wait = { set: { cannotIssue: { what: 'wait', until: '2026-04-01', why: 'cushion not in stock' } } }
    expect(theDue(duesOf([ADULT, wait], '2026-03-20'), 'cannot-issue')).toMatchObject({
      date: '2026-04-01',
      opens: '2026-03-18',
      state: 'due',
    })
    expect(hasDue(duesOf([ADULT, wait, handover('2026-03-25')], '2026-03-26'), 'cannot-issue')).toBe(false)
  })

  it('with a date at the very end or start of the calendar is still an answer', () => {
    for (const temporaryUntil of ['9999-12-31', '1900-01-01'])
      expect(
        theDue(duesOf([ADULT, handover('2026-01-10', { temporaryUntil })], '2026-01-11'), 'temporary-chair').date,
      ).toBe(temporaryUntil)
  })
})

describe('states and visits', () => {
  const entries = [CHILD, handover('2026-01-10')]

  it('run from later over due to overdue, the date itself included', () => {
    const state = (today: string) => theDue(duesOf(entries, today), 'review').state
    // The 42-day rule opens 7 days before 2026-02-21.
    expect(state('2026-02-13')).toBe('later')
    expect(state('2026-02-14')).toBe('due')
    expect(state('2026-02-21')).toBe('due')
    expect(state('2026-02-22')).toBe('overdue')
  })

  it('change on the day said', () => {
    expect(duesOf(entries, '2026-01-11').changesOn).toBe('2026-02-14')
    expect(duesOf(entries, '2026-02-14').changesOn).toBe('2026-02-22')
  })

  it('within 30 days are one visit at the earliest, and no date is moved', () => {
    const result = duesOf(
      [
        ADULT,
        handover('2026-01-10', { temporaryUntil: '2026-06-20' }),
        { set: { cushionIssued: { on: '2025-09-01', cushion: 'foam' } } },
      ],
      '2026-01-11',
    )
    // Temporary chair 06-20, review and technician 07-10 (20 days later), cushion review 09-01, cushion life 24 months.
    expect(result.visits.map(visit => [visit.on, visit.dues])).toEqual([
      ['2026-06-20', ['temporary-chair', 'review', 'technician-upkeep']],
      ['2026-09-01', ['cushion-review']],
      ['2027-09-01', ['cushion-life']],
    ])
    expect(theDue(result, 'review').date).toBe('2026-07-10')
  })
})
