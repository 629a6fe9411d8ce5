import { type CaseId, compareText } from '../ids.ts'
import { wordsOf } from '../name-folding.ts'
import { Postings } from './postings.ts'
import { type Registration, soundKey, telephoneKey } from './registration.ts'
import { linkWords, type WordLink } from './word-links.ts'

/** Words of a name that are compared; what comes after is passed over. */
const MOST_WORDS = 8

/** One person's registration, its values under the numbers that the register gives them. */
export interface Registered {
  readonly caseId: CaseId
  readonly words: readonly number[]
  readonly sexes: readonly string[]
  /** Days of birth that are known as days: a 1 January stands for its year. */
  readonly birthDays: readonly number[]
  readonly birthYears: readonly number[]
  readonly places: readonly number[]
  readonly households: readonly number[]
  readonly telephones: readonly number[]
}

/** Everybody registered, and who bears which word, year, place, household and telephone. */
export interface Register {
  readonly people: readonly Registered[]
  readonly words: Postings
  /** For each word, itself and those that may be another spelling of it, by their numbers. */
  readonly links: readonly ReadonlyMap<number, WordLink>[]
  readonly birthDays: Postings
  readonly years: Postings
  readonly places: Postings
  readonly households: Postings
  readonly telephones: Postings
}

const keysOf = (texts: readonly string[], keyOf: (text: string) => string | undefined): readonly string[] =>
  texts.flatMap(text => keyOf(text) ?? [])

/** In the order of case ids, so that the answer does not depend on the order in which cases came. */
export const registerOf = (registrations: readonly Registration[]): Register => {
  const [words, birthDays, years] = [new Postings(), new Postings(), new Postings()]
  const [places, households, telephones] = [new Postings(), new Postings(), new Postings()]
  const people = registrations
    .toSorted((a, b) => compareText(a.caseId, b.caseId))
    .map((one, person): Registered => {
      const dates = one.birthDates.filter(date => !date.endsWith('-01-01'))
      const birthYears = [...new Set([...one.birthDates.map(date => Number(date.slice(0, 4))), ...one.birthYears])]
      years.add(person, birthYears.map(String))
      return {
        caseId: one.caseId,
        words: words.add(person, one.names.flatMap(wordsOf).slice(0, MOST_WORDS)),
        sexes: one.sexes,
        birthDays: birthDays.add(person, dates),
        birthYears,
        places: places.add(person, keysOf(one.places, soundKey)),
        households: households.add(person, keysOf(one.households, soundKey)),
        telephones: telephones.add(person, keysOf(one.telephones, telephoneKey)),
      }
    })
  return {
    people,
    words,
    links: linkWords(words, people.length),
    birthDays,
    years,
    places,
    households,
    telephones,
  }
}
