import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { compare, totalWeight } from '../../src/doubles/compare.ts'
import { findDoubles } from '../../src/doubles/find-doubles.ts'
import { jaroWinkler } from '../../src/doubles/jaro-winkler.ts'
import { CLOSE_SIMILARITY, LEAST_LETTERS_CLOSE, POSSIBLE_FROM, priorOddsAmong } from '../../src/doubles/likelihoods.ts'
import { matchProbability } from '../../src/doubles/match-weight.ts'
import { registerOf } from '../../src/doubles/register.ts'
import type { Registration } from '../../src/doubles/registration.ts'
import { inventedPeople } from '../support/invented-people.ts'
import { runs } from '../support/seed.ts'
import { aCase } from '../support/team-entries.ts'

/** Few values, so that people share much: the hard case for passing pairs over. */
const word = fc.constantFrom(
  'Amina',
  'Aminah',
  'أمينة',
  'Korelle',
  'Korele',
  'Castellow',
  'Castelow',
  'Tolo',
  'Тол',
  'Yu',
  'Delavance',
)
const some = <Value>(one: fc.Arbitrary<Value>, most: number) => fc.array(one, { maxLength: most })
const registration: fc.Arbitrary<Omit<Registration, 'caseId'>> = fc.record({
  names: some(
    fc.array(word, { minLength: 1, maxLength: 3 }).map(words => words.join(' ')),
    2,
  ),
  sexes: some(fc.constantFrom('male', 'female'), 2),
  birthDates: some(fc.constantFrom('1980-05-04', '1981-01-01', '1983-11-30').map(toCalendarDate), 1),
  birthYears: some(fc.integer({ min: 1978, max: 1986 }), 2),
  places: some(fc.constantFrom('Dorrow', 'Dorow', 'Hule'), 1),
  households: some(fc.constantFrom('Castellow', 'Tolo, by the well'), 1),
  telephones: some(fc.constantFrom('0700 111 222', '+00700111222', '0700 999 888'), 2),
})
const registrations = fc
  .array(registration, { maxLength: 14 })
  .map(people => people.map((one, index): Registration => ({ ...one, caseId: aCase(`${index}`) })))

/** Everybody compared with everybody: nothing is passed over. */
const byComparingAll = (people: readonly Registration[]): readonly string[] => {
  const register = registerOf(people)
  const odds = priorOddsAmong(people.length)
  return register.people.flatMap((a, index) =>
    register.people
      .slice(index + 1)
      .filter(b => matchProbability(odds, totalWeight(compare(register, a, b))) >= POSSIBLE_FROM)
      .map(b => `${a.caseId} ${b.caseId}`),
  )
}
const found = (people: readonly Registration[]): readonly string[] =>
  findDoubles(people).map(({ cases }) => cases.join(' '))

describe('finding doubles', () => {
  it('finds exactly the pairs that comparing everybody with everybody finds, each once', () => {
    let pairs = 0
    fc.assert(
      fc.property(registrations, people => {
        const all = byComparingAll(people)
        pairs += all.length
        expect(found(people).toSorted()).toEqual(all.toSorted())
      }),
      runs(300),
    )
    expect(pairs).toBeGreaterThan(100)
  })

  it('and so it does among 400 invented people with slips, other scripts and guessed years', () => {
    const { registrations: people } = inventedPeople(400, 11)
    const all = byComparingAll(people)
    expect(all.length).toBeGreaterThan(3)
    expect(found(people).toSorted()).toEqual(all.toSorted())
  })

  it('weighs two people alike whichever comes first', () => {
    fc.assert(
      fc.property(registrations, people => {
        const register = registerOf(people)
        for (const a of register.people)
          for (const b of register.people)
            expect(totalWeight(compare(register, a, b))).toBeCloseTo(totalWeight(compare(register, b, a)), 9)
      }),
      runs(60),
    )
  })

  it('links every two words of names that are as alike as that, and no others for being alike', () => {
    const letters = fc.string({
      unit: fc.constantFrom('a', 'e', 'k', 'l', 'm', 'n', 'r', 't'),
      minLength: 2,
      maxLength: 9,
    })
    fc.assert(
      fc.property(fc.uniqueArray(letters, { maxLength: 12 }), words => {
        const register = registerOf(
          words.map((name, index) => ({ ...NOBODY, names: [name], caseId: aCase(`${index}`) })),
        )
        const { values } = register.words
        for (const [id, first] of values.entries())
          for (const [other, second] of values.entries()) {
            if (id === other) continue
            const alike =
              Math.min(first.length, second.length) >= LEAST_LETTERS_CLOSE &&
              jaroWinkler(first, second) >= CLOSE_SIMILARITY
            const link = register.links[id]?.get(other)
            if (alike) expect(link, `${first} ${second}`).toBeDefined()
            else expect(link?.agreement, `${first} ${second}`).not.toBe('close')
          }
      }),
      runs(200),
    )
  })
})

const NOBODY = { sexes: [], birthDates: [], birthYears: [], places: [], households: [], telephones: [] }
