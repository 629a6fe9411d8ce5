import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { findDoubles, type LikelyDouble } from '../../../src/doubles/find-doubles.ts'
import { type Registration, registrationOf, soundKey, telephoneKey } from '../../../src/doubles/registration.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { inventedPeople } from '../../support/invented-people.ts'
import { aCase } from '../../support/team-entries.ts'

const nobody: Omit<Registration, 'caseId'> = {
  names: [],
  sexes: [],
  birthDates: [],
  birthYears: [],
  places: [],
  households: [],
  telephones: [],
}
const registered = (id: string, what: Partial<Registration>): Registration => ({
  ...nobody,
  ...what,
  caseId: aCase(id),
})

/** Enough others that a shared name says something. */
const OTHERS = inventedPeople(1500, 7).registrations
const pairsAmong = (...people: readonly Registration[]): readonly LikelyDouble[] => {
  const ids = new Set(people.map(({ caseId }) => caseId))
  return findDoubles([...OTHERS, ...people]).filter(({ cases }) => cases.every(one => ids.has(one)))
}

/** Given names in the spellings that are in daily use, in three scripts: general knowledge, from memory. */
const SAME_NAME: readonly (readonly [string, string])[] = [
  ['Muhammad Yusuf', 'Mohamed Youssef'],
  ['Muhammad Yusuf', 'محمد يوسف'],
  ['Fatima Hassan', 'فاطمة حسن'],
  ['Fatima Yusuf', 'Фатима Юсуф'],
  ['Stephan Khadija', 'Stefan Khadijah'],
]

describe('who may be registered twice', () => {
  it.each(SAME_NAME)('%s and %s, one sex, place and year, are a likely double', (first, second) => {
    const home = { sexes: ['female'], birthYears: [1991], places: ['Dorrow'] }
    const [found, ...more] = pairsAmong(
      registered('a', { names: [first], ...home }),
      registered('b', { names: [second], ...home }),
    )
    expect(more).toEqual([])
    expect(found?.standing).toBe('likely')
  })

  it('two people who share nothing but sex and place are no double', () => {
    const home = { sexes: ['male'], places: ['Dorrow'] }
    expect(
      pairsAmong(
        registered('a', { names: ['Karuni Delavance'], birthYears: [1960], ...home }),
        registered('b', { names: ['Brida Castellow'], birthYears: [1991], ...home }),
      ),
    ).toEqual([])
  })

  it('a brother and a sister of one household with one telephone are no double', () => {
    const home = { places: ['Dorrow'], households: ['Castellow, by the well'], telephones: ['0700 111 222'] }
    expect(
      pairsAmong(
        registered('a', { names: ['Karuni Castellow'], sexes: ['male'], birthYears: [2009], ...home }),
        registered('b', { names: ['Brida Castellow'], sexes: ['female'], birthYears: [2014], ...home }),
      ),
    ).toEqual([])
  })

  it('the fields that were compared add up to the weight; of one home only one sign counts', () => {
    const both = {
      names: ['Karuni Castellow'],
      sexes: ['male'],
      birthDates: [toCalendarDate('1987-05-14')],
      places: ['Dorrow'],
      households: ['Castellow'],
      telephones: ['0700 111 222'],
    }
    const [found] = pairsAmong(registered('a', both), registered('b', both))
    const fields = found?.fields ?? []
    expect(fields.map(({ field }) => field)).toEqual(['name', 'birth', 'sex', 'telephone', 'household', 'place'])
    const counted = fields.filter(field => !('counts' in field) || field.counts)
    expect(counted.map(({ field }) => field).slice(0, 3)).toEqual(['name', 'birth', 'sex'])
    expect(counted).toHaveLength(4)
    expect(counted.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(found?.weight ?? Number.NaN, 9)
  })

  it('a rare name weighs more than one that many bear', () => {
    const bearers = new Map<string, number>()
    for (const word of OTHERS.flatMap(({ names }) => [...new Set(names.join(' ').split(' '))]))
      bearers.set(word, (bearers.get(word) ?? 0) + 1)
    const [[many, count] = ['', 0]] = [...bearers].toSorted(([, a], [, b]) => b - a)
    const rest = { sexes: ['male'], birthDates: [toCalendarDate('1987-05-14')], places: ['Dorrow'] }
    const nameWeight = (name: string): number =>
      pairsAmong(registered('a', { names: [name], ...rest }), registered('b', { names: [name], ...rest }))
        .flatMap(({ fields }) => fields)
        .find(({ field }) => field === 'name')?.weight ?? Number.NaN
    expect(count).toBeGreaterThan(100)
    expect(nameWeight('Xelavorn')).toBeGreaterThan(nameWeight(many) + 3)
  })

  it('a first of January is taken for a year, not for a day', () => {
    const born = (day: string): Partial<Registration> => ({
      names: ['Karuni Castellow'],
      sexes: ['male'],
      birthDates: [toCalendarDate(day)],
    })
    const agreementOf = (day: string): unknown =>
      pairsAmong(registered('a', born(day)), registered('b', born(day)))[0]?.fields.find(
        ({ field }) => field === 'birth',
      )
    expect(agreementOf('1987-01-01')).toMatchObject({ agreement: 'same-year' })
    expect(agreementOf('1987-01-02')).toMatchObject({ agreement: 'same-day' })
  })

  it('the order in which cases come changes nothing', () => {
    const people = inventedPeople(300, 3).registrations
    expect(findDoubles(people.toReversed())).toEqual(findDoubles(people))
  })

  it('nobody, and people of whom nothing is said, are no doubles', () => {
    expect(findDoubles([])).toEqual([])
    expect(pairsAmong(registered('a', {}), registered('b', {}))).toEqual([])
  })
})

describe('what is compared', () => {
  it('takes every value that stands in a case, also where two stand', () => {
    const first = said({ set: { personName: 'Karuni Castellow', birthYear: 1987 } })
    const apart = said({ set: { personName: 'Caruni Castelo', telephone: '0700 111 222' }, by: 'b' })
    const found = registrationOf(viewOfCase(testCase, [first, apart]))
    expect(found.names.toSorted()).toEqual(['Caruni Castelo', 'Karuni Castellow'])
    expect(found).toMatchObject({ birthYears: [1987], telephones: ['0700 111 222'], sexes: [], households: [] })
  })

  it.each([
    ['+00 700 111 222', '0700-111-222'],
    ['٠٧٠٠١١١٢٢٢', '0700111222'],
    ['۰۷۰۰۱۱۱۲۲۲', '0700111222'],
    ['०७००१११२२२', '0700111222'],
    ['０７００１１１２２２', '0700111222'],
  ])('reads %s as the number %s', (typed, other) => {
    expect(telephoneKey(typed)).toBe(telephoneKey(other))
    expect(telephoneKey(typed)).toHaveLength(8)
  })

  it('tells nobody by five digits, nor by a place without letters', () => {
    expect(telephoneKey('11222')).toBeUndefined()
    expect(soundKey('-')).toBeUndefined()
  })

  it('takes a place for one in either script', () => {
    expect(soundKey('Tamban')).toBe(soundKey('тамбан'))
    expect(soundKey('Tamban')).not.toBe(soundKey('Sorkel'))
  })
})
