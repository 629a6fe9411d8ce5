import { describe, expect, test } from 'vitest'
import { PRACTICE_PEOPLE } from '../../demo/practice-people.ts'
import { daysBetween, toCalendarDate } from '../../src/calendar-date.ts'
import { ENTRY_TEXT_LIMIT, readEntry } from '../../src/case/entry.ts'
import { type FieldName, fieldOf, isFieldName, type Reading } from '../../src/case/fields.ts'
import { unitFactor } from '../../src/units.ts'
import { entryText } from '../support/case-entries.ts'

const TRIP = toCalendarDate('2026-05-12')
const facts = PRACTICE_PEOPLE.map(person => person.facts)
const yearOf = (one: (typeof facts)[number]): number => one.birthYear ?? Number(one.dateOfBirth?.slice(0, 4))
const agesTurned = facts.map(one => 2026 - yearOf(one))
const find = (key: string) => {
  const person = PRACTICE_PEOPLE.find(one => one.key === key)
  if (person === undefined) throw new Error(`no practice person ${key}`)
  return person
}

describe.each(PRACTICE_PEOPLE)('the practice person $key', person => {
  test('says only what the registry of fields allows', () => {
    for (const [name, value] of Object.entries(person.facts)) {
      expect(isFieldName(name), name).toBe(true)
      const parsed = fieldOf(name as FieldName).schema.safeParse(value)
      expect(parsed.success, `${name}: ${JSON.stringify(value)}`).toBe(true)
    }
    for (const [name, values] of Object.entries(person.events ?? {}))
      for (const value of values) expect(fieldOf(name as FieldName).schema.safeParse(value).success, name).toBe(true)
  })

  test('can be written down as one entry', () => {
    const text = entryText({ set: person.facts })
    expect(new TextEncoder().encode(text).length).toBeLessThan(ENTRY_TEXT_LIMIT)
    expect(readEntry(text).ok).toBe(true)
  })

  test('has a name of its own and was told of the record', () => {
    expect(person.facts.personName).toBe(person.name)
    expect(person.facts.toldAndAgreed).toMatchObject({ told: true, agreed: true })
  })

  test('was measured within what is plausible, but for the one slip', () => {
    for (const [name, value] of Object.entries(person.facts)) {
      const field = fieldOf(name as FieldName)
      if (field.kind !== 'measure') continue
      const reading = value as Reading
      const inOwnUnit = reading.typed * (unitFactor(field.quantity, reading.unit) ?? Number.NaN)
      const isPlausible = inOwnUnit >= field.plausible[0] && inOwnUnit <= field.plausible[1]
      expect(isPlausible, `${name} ${inOwnUnit}`).toBe(!(person.key === 'tolm' && name === 'hipWidthMm'))
    }
  })
})

describe('the practice people', () => {
  test('are at least 24, each with a key and a name of its own', () => {
    expect(PRACTICE_PEOPLE.length).toBeGreaterThanOrEqual(24)
    expect(new Set(PRACTICE_PEOPLE.map(person => person.key)).size).toBe(PRACTICE_PEOPLE.length)
    expect(new Set(PRACTICE_PEOPLE.map(person => person.name)).size).toBe(PRACTICE_PEOPLE.length)
  })

  test('are of all ages from 4 to 80', () => {
    expect(Math.min(...agesTurned)).toBe(4)
    expect(Math.max(...agesTurned)).toBe(80)
    for (let decade = 0; decade < 80; decade += 10)
      expect(
        agesTurned.some(age => age >= decade && age < decade + 10),
        `${decade}`,
      ).toBe(true)
  })

  test('drive by hands, by one hand and one foot, by feet, and are pushed', () => {
    const ways = facts.map(one => (one.propulsion ?? []).join(' '))
    expect(ways).toEqual(
      expect.arrayContaining([
        'hands',
        'left-hand left-foot',
        'right-hand right-foot',
        'left-foot right-foot',
        'pushed',
      ]),
    )
  })

  test('have lost one leg above the knee, both, one below it with a prosthesis, one at the hip, and an arm', () => {
    const losses = facts.map(one => [one.limbLossLeft?.level, one.limbLossRight?.level].filter(Boolean).join(' '))
    expect(losses).toEqual(
      expect.arrayContaining(['transfemoral', 'transfemoral transfemoral', 'transtibial', 'hip-disarticulation']),
    )
    expect(facts.some(one => one.limbLossRight?.prosthesisWorn === true)).toBe(true)
    expect(facts.some(one => one.armLossRight !== undefined)).toBe(true)
  })

  test('bring risks that hold a handover or raise a priority', () => {
    const risks = [
      'presentSore',
      'pastSore',
      'reducedSensation',
      'cannotReposition',
      'moisture',
      'progressive',
      'newWeakness',
      'breathingTrouble',
      'swallowingTrouble',
      'uncontrolledSpasms',
      'recentSurgery',
      'fracture',
      'seizures',
      'pregnancy',
      'weightChanging',
    ] as const
    for (const risk of risks)
      expect(
        facts.some(one => one[risk] === true),
        risk,
      ).toBe(true)
    expect(facts.some(one => one.posture === 'complex')).toBe(true)
  })

  // At least 150 days apart, so that a child's own pace of growth can be read from them (project value).
  test('include two children with two statures far enough apart to tell their growth', () => {
    const growing = PRACTICE_PEOPLE.filter(person => (person.events?.stature ?? []).length >= 2)
    expect(growing.length).toBeGreaterThanOrEqual(2)
    for (const { events } of growing) {
      const [first, second] = events?.stature ?? []
      if (first === undefined || second === undefined) throw new Error('two statures expected')
      expect(daysBetween(first.on, second.on)).toBeGreaterThanOrEqual(150)
      expect(second.mm).toBeGreaterThan(first.mm)
      expect(second.on).toBe(TRIP)
    }
  })

  test('include cm typed as mm, a guessed mass, inches, a narrow door, heavy loads', () => {
    expect(find('tolm').facts.hipWidthMm).toMatchObject({ typed: 37.5, unit: 'mm' })
    expect(facts.filter(one => one.massKg?.how === 'guessed').length).toBeGreaterThanOrEqual(2)
    expect(find('ansa').facts.hipWidthMm).toMatchObject({ unit: 'in' })
    expect(find('zeyna').facts.narrowestDoorMm?.typed).toBeLessThan(700)
    expect(facts.some(one => (one.loads ?? []).some(load => load.massKg >= 20))).toBe(true)
  })

  test('include one woman registered twice, her name spelled otherwise', () => {
    const [first, again] = [find('nemala').facts, find('nemalla').facts]
    expect(again.personName).not.toBe(first.personName)
    expect(again.birthYear).toBe(yearOf(first))
    expect(again.telephone?.replaceAll(' ', '')).toBe(first.telephone?.replaceAll(' ', ''))
  })
})
