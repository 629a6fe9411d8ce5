import { LIKELIHOODS, shareOf, YEARS_APART } from './likelihoods.ts'
import { matchWeight, mismatchWeight } from './match-weight.ts'
import type { Postings } from './postings.ts'
import type { Register, Registered } from './register.ts'
import type { WordAgreement, WordLink } from './word-links.ts'

/** One word of each name, folded, that may be one word. */
export interface WordPair {
  readonly words: readonly [string, string]
  readonly agreement: WordAgreement
  readonly weight: number
}

export type BirthAgreement = 'same-day' | 'same-year' | 'years-apart' | 'different'
export type PlainAgreement = 'same' | 'different'

/** What one field says for (above 0) or against one person, in bits. Not there: at least one of the two says nothing. */
export type FieldWeight =
  | { readonly field: 'name'; readonly weight: number; readonly words: readonly WordPair[]; readonly unmatched: number }
  | { readonly field: 'birth'; readonly weight: number; readonly agreement: BirthAgreement }
  | { readonly field: 'sex'; readonly weight: number; readonly agreement: PlainAgreement }
  | HomeWeight

export interface HomeWeight {
  readonly field: 'place' | 'household' | 'telephone'
  readonly weight: number
  readonly agreement: PlainAgreement
  /** Of one home only the strongest sign counts. */
  readonly counts: boolean
}

const yearShare = (register: Register, year: number): number => {
  const id = register.years.idOf(String(year))
  return shareOf('year', id === undefined ? 0 : register.years.peopleWith(id).length, register.people.length)
}

/** What an agreement weighs that two people share this value. */
export const sameYearWeight = (register: Register, year: number, byDay: boolean): number =>
  matchWeight(LIKELIHOODS[byDay ? 'birthByDay' : 'birthByYear']['same-year'].m, yearShare(register, year))
export const SAME_DAY_WEIGHT = matchWeight(LIKELIHOODS.birthByDay['same-day'].m, LIKELIHOODS.birthByDay['same-day'].u)
export const SAME_SEX_WEIGHT = matchWeight(LIKELIHOODS.sex.m, LIKELIHOODS.sex.u)

export const HOME_FIELDS = ['telephone', 'household', 'place'] as const
export type HomeField = (typeof HOME_FIELDS)[number]
const HOME_VALUES = { telephone: 'telephones', household: 'households', place: 'places' } as const

export const valuesOf = (person: Registered, field: HomeField): readonly number[] => person[HOME_VALUES[field]]
export const postingsOf = (register: Register, field: HomeField): Postings => register[HOME_VALUES[field]]

/** A place that everybody gives must not weigh without end where two do not share it. */
const MOST_SHARE = 0.99

const homeShare = (register: Register, field: HomeField, value: number): number =>
  shareOf(field, postingsOf(register, field).peopleWith(value).length, register.people.length)
export const sameHomeWeight = (register: Register, field: HomeField, value: number): number =>
  matchWeight(LIKELIHOODS[field].m, homeShare(register, field, value))

const shared = (a: readonly number[], b: readonly number[]): readonly number[] => a.filter(value => b.includes(value))
const greatest = (values: readonly number[]): number => values.reduce((most, value) => Math.max(most, value))

/** Words that may be one word, the weightiest first; of equal weights in an order that is the same whichever name comes first. */
const linksBetween = (register: Register, a: Registered, b: Registered) => {
  const links: (WordLink & { readonly word: number })[] = []
  for (const word of a.words) {
    for (const other of b.words) {
      const link = register.links[word]?.get(other)
      if (link) links.push({ word, ...link })
    }
  }
  return links.sort(
    (first, second) =>
      second.weight - first.weight ||
      Math.min(first.word, first.other) - Math.min(second.word, second.other) ||
      Math.max(first.word, first.other) - Math.max(second.word, second.other),
  )
}

/**
 * Words are paired one to one. Those of the shorter name that stay alone speak against; what the longer one has beyond them says
 * nothing, for people are called by some of their names.
 */
const compareNames = (register: Register, a: Registered, b: Registered): FieldWeight | undefined => {
  if (a.words.length === 0 || b.words.length === 0) return undefined
  const { values } = register.words
  const [takenInA, takenInB]: readonly [number[], number[]] = [[], []]
  const words: WordPair[] = []
  for (const { word, other, agreement, weight } of linksBetween(register, a, b)) {
    if (takenInA.includes(word) || takenInB.includes(other)) continue
    takenInA.push(word)
    takenInB.push(other)
    words.push({ words: [values[word] ?? '', values[other] ?? ''], agreement, weight })
  }
  const unmatched = Math.min(a.words.length, b.words.length) - words.length
  const against = unmatched * matchWeight(LIKELIHOODS.word.none, 1)
  return { field: 'name', weight: words.reduce((sum, { weight }) => sum + weight, against), words, unmatched }
}

const compareBirths = (register: Register, a: Registered, b: Registered): FieldWeight | undefined => {
  if (a.birthYears.length === 0 || b.birthYears.length === 0) return undefined
  const byDay = a.birthDays.length > 0 && b.birthDays.length > 0
  if (byDay && shared(a.birthDays, b.birthDays).length > 0)
    return { field: 'birth', agreement: 'same-day', weight: SAME_DAY_WEIGHT }
  const years = shared(a.birthYears, b.birthYears)
  if (years.length > 0) {
    const weight = greatest(years.map(year => sameYearWeight(register, year, byDay)))
    return { field: 'birth', agreement: 'same-year', weight }
  }
  const isNear = a.birthYears.some(year => b.birthYears.some(other => Math.abs(year - other) <= YEARS_APART))
  const agreement = isNear ? 'years-apart' : 'different'
  const { m, u } = LIKELIHOODS[byDay ? 'birthByDay' : 'birthByYear'][agreement]
  return { field: 'birth', agreement, weight: matchWeight(m, u) }
}

const compareSexes = (a: Registered, b: Registered): FieldWeight | undefined => {
  if (a.sexes.length === 0 || b.sexes.length === 0) return undefined
  const { m, u } = LIKELIHOODS.sex
  return a.sexes.some(sex => b.sexes.includes(sex))
    ? { field: 'sex', agreement: 'same', weight: SAME_SEX_WEIGHT }
    : { field: 'sex', agreement: 'different', weight: mismatchWeight(m, u) }
}

const weighHome = (register: Register, field: HomeField, a: Registered, b: Registered): HomeWeight | undefined => {
  const [first, second] = [valuesOf(a, field), valuesOf(b, field)]
  if (first.length === 0 || second.length === 0) return undefined
  let same = Number.NEGATIVE_INFINITY
  let share = 0
  for (const value of first) {
    share = Math.max(share, homeShare(register, field, value))
    if (second.includes(value)) same = Math.max(same, sameHomeWeight(register, field, value))
  }
  if (same > Number.NEGATIVE_INFINITY) return { field, agreement: 'same', weight: same, counts: false }
  for (const value of second) share = Math.max(share, homeShare(register, field, value))
  const weight = mismatchWeight(LIKELIHOODS[field].m, Math.min(share, MOST_SHARE))
  return { field, agreement: 'different', weight, counts: false }
}

/** The stronger sign for one home; without any, the stronger against. */
const isStronger = (one: HomeWeight, than: HomeWeight | undefined): boolean => {
  if (!than || one.agreement !== than.agreement) return !than || one.agreement === 'same'
  return one.agreement === 'same' ? one.weight > than.weight : one.weight < than.weight
}

/**
 * Telephone, household and place are one home, and brothers and sisters share all three: the strongest sign for it counts
 * alone; without any, the strongest against.
 */
const compareHomes = (register: Register, a: Registered, b: Registered): readonly HomeWeight[] => {
  const compared: HomeWeight[] = []
  let strongest = -1
  for (const field of HOME_FIELDS) {
    const one = weighHome(register, field, a, b)
    if (!one) continue
    if (isStronger(one, compared[strongest])) strongest = compared.length
    compared.push(one)
  }
  return compared.map((one, index) => (index === strongest ? { ...one, counts: true } : one))
}

/** Birth, sex and home. */
export const compareBesidesNames = (register: Register, a: Registered, b: Registered): readonly FieldWeight[] => {
  const homes: FieldWeight[] = [...compareHomes(register, a, b)]
  const sexes = compareSexes(a, b)
  const births = compareBirths(register, a, b)
  return [...(births ? [births] : []), ...(sexes ? [sexes] : []), ...homes]
}

/** What each field says of whether two registrations are of one person. The same whichever comes first, words aside. */
export const compare = (register: Register, a: Registered, b: Registered): readonly FieldWeight[] => {
  const names = compareNames(register, a, b)
  const others = compareBesidesNames(register, a, b)
  return names === undefined ? others : [names, ...others]
}

export const totalWeight = (fields: readonly FieldWeight[]): number =>
  fields.reduce((sum, one) => ('counts' in one && !one.counts ? sum : sum + one.weight), 0)
