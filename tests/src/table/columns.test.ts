import { describe, expect, it } from 'vitest'
import { FIELD_NAMES } from '../../../src/case/fields.ts'
import { CASE_COLUMNS, type Column, EVENT_PARTS } from '../../../src/table/columns.ts'
import { DICTIONARY_HEADER, dictionaryRows } from '../../../src/table/dictionary.ts'

const ALL = [...CASE_COLUMNS, ...EVENT_PARTS]
const column = (name: string): Column => {
  const found = ALL.find(one => one.name === name)
  if (!found) throw new Error(`no column ${name}`)
  return found
}
const entry = (name: string) => {
  const row = dictionaryRows().find(cells => cells[1] === name)
  if (!row) throw new Error(`no row for ${name}`)
  return Object.fromEntries(DICTIONARY_HEADER.map((title, place) => [title, row[place]]))
}

describe('columns made from the registry', () => {
  it('every field of a case has one, and no name stands twice', () => {
    expect(FIELD_NAMES.filter(name => !ALL.some(({ field }) => field === name))).toEqual([])
    expect(new Set(ALL.map(({ name }) => name)).size).toBe(ALL.length)
  })

  it('none can be told from the options of whatever can be none', () => {
    const both = ALL.filter(one => one.nullable && one.part !== null && one.options.includes('none'))
    expect(both).toEqual([])
    expect(column('armLossLeft')).toMatchObject({ nullable: true, options: ['whole-arm', 'below-elbow'] })
    expect(column('chosenSetUp.armrestMm')).toMatchObject({ nullable: true, form: 'number', unit: 'mm' })
  })

  it('what was typed freely and the day of birth come with names only', () => {
    const personal = ALL.filter(one => one.personal).map(({ name }) => name)
    expect(personal).toEqual(
      expect.arrayContaining([
        ...['personName', 'otherNames', 'dateOfBirth', 'place', 'household', 'telephone', 'referredBy', 'interpreter'],
        ...['toldAndAgreed.byName', 'caregiverName', 'serialNumber', 'condition', 'goals', 'cannotIssue.why'],
        ...['stepDone.secondName', 'repair.doneBy', 'review.note', 'photo.note', 'checkBrakesHold.note'],
      ]),
    )
    expect(personal).not.toContain('birthYear')
    expect(ALL.filter(one => one.form === 'text' && !one.personal)).toEqual([])
  })
})

describe('the dictionary', () => {
  it('says of a measure its unit, range and tolerance, as the registry does', () => {
    // src/case/fields.ts: hip width 150 to 700 mm, repeats within 5 mm.
    expect(entry('hipWidthMm')).toMatchObject({
      table: 'cases',
      section: 'measuring',
      kind: 'measure',
      unit: 'mm',
      least: 150,
      most: 700,
      tolerance: 5,
      safety: 'yes',
      onlyWithNames: 'no',
    })
    expect(entry('massKg')).toMatchObject({ unit: 'kg', tolerance: 1 })
    expect(entry('tyreReading.leftKPa')).toMatchObject({ table: 'events', unit: 'kPa', least: 0, most: 1500 })
  })

  it('says of a choice its options, and where there can be none', () => {
    expect(entry('sex')).toMatchObject({ kind: 'choice', form: 'one of the options', options: 'male female' })
    expect(entry('exit')).toMatchObject({ options: 'none' })
    expect(entry('exit.why')).toMatchObject({ options: 'died moved no-longer-needed refused returned not-found' })
    expect(entry('dateOfBirth')).toMatchObject({ form: 'year-month-day', onlyWithNames: 'yes' })
  })

  it('every line has every column', () => {
    expect(dictionaryRows().filter(row => row.length !== DICTIONARY_HEADER.length)).toEqual([])
  })
})
