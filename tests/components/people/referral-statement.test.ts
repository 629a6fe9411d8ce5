import { describe, expect, it } from 'vitest'
import { emptyReferral, type ReferralDraft } from '../../../components/people/referral-draft.ts'
import { readReferral } from '../../../components/people/referral-statement.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { fieldOf, isFieldName } from '../../../src/case/fields.ts'

const TODAY = toCalendarDate('2026-05-15')
const typed = (part: Partial<ReferralDraft>): ReferralDraft => ({ ...emptyReferral(TODAY), ...part })
const faultsOf = (part: Partial<ReferralDraft>): readonly string[] => {
  const read = readReferral(typed(part), TODAY)
  return read.ok ? [] : read.faults.map(({ field }) => field)
}
const setOf = (part: Partial<ReferralDraft>) => {
  const read = readReferral(typed(part), TODAY)
  if (!read.ok) throw new Error(`refused: ${read.faults.map(({ field }) => field).join(' ')}`)
  return read.set
}

describe('a new referral', () => {
  it('needs a name and nothing else', () => {
    expect(setOf({ name: '  Ansa Korelle ' })).toEqual({ personName: 'Ansa Korelle', referredOn: TODAY })
    expect(faultsOf({ name: '  ' })).toEqual(['name'])
  })

  it('states nothing of what was left empty, and every statement is one that the registry takes', () => {
    const set = setOf({
      name: 'Ansa Korelle',
      otherNames: 'أنسا',
      birth: 'about',
      age: '6',
      sex: 'female',
      place: 'Dorrow',
      household: ' ',
      telephone: '0900 12',
      referredBy: 'The school',
      told: true,
      agreed: 'yes',
      by: 'guardian',
      byName: 'Ilmo Korelle',
    })
    expect(set).not.toHaveProperty('household')
    expect(set.birthYear).toBe(2020)
    for (const [name, value] of Object.entries(set)) {
      if (!isFieldName(name)) throw new Error(`${name} is no field`)
      expect(fieldOf(name).schema.safeParse(value).success, name).toBe(true)
    }
  })

  it('keeps no agreement that nobody was told about', () => {
    expect(faultsOf({ name: 'A', agreed: 'yes' })).toEqual(['told'])
    expect(setOf({ name: 'A', agreed: 'yes', told: true }).toldAndAgreed).toEqual({
      told: true,
      agreed: true,
      by: 'person',
      on: TODAY,
    })
  })

  it('asks who agrees for a child', () => {
    expect(faultsOf({ name: 'A', agreed: 'yes', told: true, by: 'guardian' })).toEqual(['byName'])
  })

  it('is not kept of a person who does not agree', () => {
    expect(faultsOf({ name: 'A', told: true, agreed: 'no' })).toEqual(['agreed'])
  })

  it('states no agreement when it was not asked yet', () => {
    expect(setOf({ name: 'A', told: true })).not.toHaveProperty('toldAndAgreed')
  })

  it.each(['', '2026-05-16', '2026-02-30', 'x'])('takes "%s" for no date of birth', dateOfBirth => {
    expect(faultsOf({ name: 'A', birth: 'date', dateOfBirth })).toEqual(['dateOfBirth'])
  })

  it.each(['', ' ', '-1', '121', '6.5', 'six'])('takes "%s" for no age', age => {
    expect(faultsOf({ name: 'A', birth: 'about', age })).toEqual(['age'])
  })

  it('names everything that is wrong at once', () => {
    expect(faultsOf({ birth: 'about', agreed: 'yes' })).toEqual(['name', 'age', 'told'])
  })
})
