import { describe, expect, it } from 'vitest'
import { ageOf, duesOn, groupOf, inOrder, type PersonSummary } from '../../../components/people/people-order.ts'
import { sentenceOf } from '../../../components/people/person-sentence.ts'
import { type CalendarDate, toCalendarDate } from '../../../src/calendar-date.ts'
import { caseIdSchema } from '../../../src/ids.ts'
import type { OutcomeBrief } from '../../../sync/outcome-rules.ts'

const TODAY = toCalendarDate('2026-05-15')
const day = toCalendarDate

const NOTHING: OutcomeBrief = {
  stage: 'referral',
  holds: [],
  differences: [],
  openValues: {},
  refer: null,
  checks: { failed: [], stale: [] },
  measureAgain: [],
  next: 'referral',
  stepsToDo: null,
  cannotIssue: null,
  waitingSince: null,
  person: { born: null, place: null, otherNames: null },
  nextDue: null,
  dues: [],
  chair: null,
}

let made = 0
const person = (name: string, brief: Partial<OutcomeBrief> | null, open = true): PersonSummary => {
  made += 1
  return {
    caseId: caseIdSchema.parse(`${String(made).padStart(21, '0')}A`),
    name,
    open,
    entryCount: 1,
    on: TODAY,
    changesOn: null,
    brief: brief === null ? null : { ...NOTHING, ...brief },
  }
}
const due = (key: string, opens: string, date: string, overdueFrom: string) => ({
  key,
  date: day(date),
  opens: day(opens),
  overdueFrom: day(overdueFrom),
})

const sentence = (brief: Partial<OutcomeBrief>, on: CalendarDate = TODAY): string => {
  const one = person('Somebody', brief)
  return sentenceOf(one.brief, groupOf(one, on), on, new Map([['trail-folding', 'Trail folding']]))
}

describe('the list of people', () => {
  // The order asked for: what stands in the way, overdue, due, ready for the person, work, waiting, later, closed.
  it('puts what stands in the way today first, then what is late, then what is ready, then the rest', () => {
    const people = [
      person('closed', { stage: 'closed' }, false),
      person('later', { stage: 'follow-up', dues: [due('review A', '2026-06-01', '2026-06-08', '2026-06-09')] }),
      person('work', { stage: 'choosing', next: 'choosing', holds: ['not-chosen'] }),
      person('wait', { stage: 'choosing', holds: ['cannot-issue-wait', 'not-chosen'] }),
      person('due', { stage: 'follow-up', dues: [due('review A', '2026-05-10', '2026-05-20', '2026-05-21')] }),
      person('ready', { stage: 'fitting', next: 'fitting' }),
      person('overdue', { stage: 'follow-up', dues: [due('review A', '2026-04-01', '2026-05-01', '2026-05-02')] }),
      person('hold', { stage: 'fitting', holds: ['present-sore'], refer: 'health' }),
    ]
    const names = inOrder(people, TODAY).flatMap(group => group.people.map(one => one.name))
    expect(names).toEqual(['hold', 'overdue', 'due', 'ready', 'work', 'wait', 'later', 'closed'])
  })

  it('takes what the crew can end today before what waits for somebody else', () => {
    const people = [
      person('refer', { holds: ['present-sore'] }),
      person('stale', { holds: ['checks-stale'] }),
      person('differs', { holds: ['difference', 'present-sore'] }),
      person('skin', { holds: ['skin-after-first-hour'] }),
    ]
    expect(inOrder(people, TODAY)[0]?.people.map(one => one.name)).toEqual(['skin', 'differs', 'stale', 'refer'])
  })

  it('puts who has waited longest first, and the earliest due first', () => {
    const people = [
      person('young wait', { waitingSince: day('2026-05-01'), next: 'measuring' }),
      person('old wait', { waitingSince: day('2026-01-01'), next: 'measuring' }),
      person('not said', { next: 'measuring' }),
    ]
    expect(inOrder(people, TODAY)[0]?.people.map(one => one.name)).toEqual(['old wait', 'young wait', 'not said'])
  })

  it('keeps everybody, each once, also whose case was not worked out yet', () => {
    const people = [person('a', null), person('b', { holds: ['unheard-of'] }), person('c', {}, false)]
    const names = inOrder(people, TODAY).flatMap(group => group.people.map(one => one.name))
    expect(names.toSorted()).toEqual(['a', 'b', 'c'])
  })

  it('is overdue from the day that the due names, due from its opening, later before', () => {
    const brief = { ...NOTHING, dues: [due('review A', '2026-05-10', '2026-05-20', '2026-05-24')] }
    const stands = (on: string): string =>
      Object.entries(duesOn(brief, day(on))).find(([, dues]) => dues.length > 0)?.[0] ?? ''
    expect(['2026-05-09', '2026-05-10', '2026-05-20', '2026-05-23', '2026-05-24'].map(stands)).toEqual([
      'later',
      'due',
      'due',
      'due',
      'overdue',
    ])
  })

  it('gives the age in completed years, from the year alone about, and none for a birth to come', () => {
    expect(ageOf('2019-05-16', TODAY)).toBe(6)
    expect(ageOf('2019-05-15', TODAY)).toBe(7)
    expect(ageOf('1962', TODAY)).toBe(64)
    expect(ageOf('2030-01-01', TODAY)).toBeNull()
    expect(ageOf(null, TODAY)).toBeNull()
  })
})

describe('the sentence of a person', () => {
  it('names both values of a difference', () => {
    const brief = { holds: ['difference'], differences: ['hipWidthMm'], openValues: { hipWidthMm: [368, 394] } }
    expect(sentence(brief)).toBe('measure hip width again: 368 or 394')
  })

  it('says of a difference without numbers that two answers stand, and how many more differ', () => {
    const brief = { holds: ['difference'], differences: ['posture', 'skill'] }
    expect(sentence(brief)).toBe('two answers for sitting: settle them, and 1 more')
  })

  it('says which checks are stale and what comes after', () => {
    const brief = {
      holds: ['checks-stale'],
      next: 'fitting' as const,
      checks: { failed: [], stale: ['brakesHold' as const] },
    }
    expect(sentence(brief)).toBe('check brakes again, then fitting')
  })

  it('counts checks and steps where naming them would be a list', () => {
    const stale = ['brakesHold', 'testRide', 'rollsStraight'] as const
    const brief = {
      holds: ['build-not-finished', 'checks-stale'],
      stepsToDo: 8,
      next: 'fitting' as const,
      checks: { failed: [], stale },
    }
    expect(sentence(brief)).toBe('redo 8 steps, 3 checks again, then fitting')
  })

  it('says that a sore is referred first, and how much more stands in the way', () => {
    expect(sentence({ holds: ['present-sore', 'not-chosen'] })).toBe('open sore: refer first, the chair waits')
    expect(sentence({ holds: ['present-sore', 'risk-fracture'] })).toBe(
      'open sore: refer first, the chair waits, and 1 more',
    )
  })

  it('has words for a hold that this version does not know', () => {
    expect(sentence({ holds: ['from-the-future'] })).toBe('something stands in the way: open to see')
  })

  it('says dues of one day together, late ones with the day they were due', () => {
    const dues = [
      due('review LK-1', '2026-04-01', '2026-05-06', '2026-05-07'),
      due('technician-upkeep LK-1', '2026-04-01', '2026-05-06', '2026-05-07'),
      due('tyre rear-left', '2026-05-01', '2026-05-10', '2026-05-11'),
    ]
    expect(sentence({ stage: 'follow-up', dues })).toBe('follow-up and upkeep: was due 6 May, and 1 more')
  })

  it('names the year of a day in another year', () => {
    const dues = [due('growth', '2028-11-23', '2028-12-23', '2028-12-24')]
    expect(sentence({ stage: 'follow-up', dues })).toBe('growth review 23 Dec 2028')
  })

  it('says until when somebody waits, as was decided', () => {
    const brief = { holds: ['cannot-issue-wait'], cannotIssue: { what: 'wait' as const, until: day('2026-06-02') } }
    expect(sentence(brief)).toBe('waits until 2 Jun')
  })

  it('names the chair that fits best where one is to be chosen', () => {
    const chair = { key: 'trail-folding', seatWidthMm: 390, seatDepthMm: 440, chosen: false }
    expect(sentence({ stage: 'choosing', next: 'choosing', holds: ['not-chosen'], chair })).toBe(
      'choose a chair: Trail folding 390\u00a0×\u00a0440 fits best',
    )
  })
})
