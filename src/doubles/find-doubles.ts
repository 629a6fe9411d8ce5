import type { CaseId } from '../ids.ts'
import { compareText } from '../ids.ts'
import {
  compare,
  compareBesidesNames,
  type FieldWeight,
  HOME_FIELDS,
  postingsOf,
  SAME_DAY_WEIGHT,
  SAME_SEX_WEIGHT,
  sameHomeWeight,
  sameYearWeight,
  totalWeight,
  valuesOf,
} from './compare.ts'
import { LIKELIHOODS, LIKELY_FROM, POSSIBLE_FROM, priorOddsAmong, YEARS_APART } from './likelihoods.ts'
import { matchProbability, matchWeight, weightFor } from './match-weight.ts'
import { type Register, type Registered, registerOf } from './register.ts'
import type { Registration } from './registration.ts'

/** Two cases that may be of one person. Nothing is joined: a person looks at both and decides. */
export interface LikelyDouble {
  /** In the order of their ids. */
  readonly cases: readonly [CaseId, CaseId]
  /** Bits for one person: the sum of what the fields weigh. */
  readonly weight: number
  readonly probability: number
  readonly standing: 'likely' | 'possible'
  readonly fields: readonly FieldWeight[]
}

/** One thing that two people may share, the most that it can weigh, and who shares it. */
interface Evidence {
  /** Of what stands in one group only one counts. */
  readonly group: string
  readonly most: number
  readonly people: readonly number[]
}

const wordEvidence = (register: Register, { words }: Registered): readonly Evidence[] =>
  words.flatMap(word =>
    [...(register.links[word]?.values() ?? [])].map(({ other, weight }) => ({
      group: `word ${word}`,
      most: weight,
      people: register.words.peopleWith(other),
    })),
  )

const birthEvidence = (register: Register, { birthDays, birthYears }: Registered): readonly Evidence[] => {
  const bornIn = (year: number): readonly number[] => {
    const id = register.years.idOf(String(year))
    return id === undefined ? [] : register.years.peopleWith(id)
  }
  const { m, u } = LIKELIHOODS.birthByYear['years-apart']
  const near = birthYears.flatMap(year =>
    Array.from({ length: 2 * YEARS_APART + 1 }, (_, step) => bornIn(year - YEARS_APART + step)),
  )
  return [
    ...birthDays.map(day => ({ group: 'birth', most: SAME_DAY_WEIGHT, people: register.birthDays.peopleWith(day) })),
    ...birthYears.map(year => ({
      group: 'birth',
      most: sameYearWeight(register, year, false),
      people: bornIn(year),
    })),
    ...near.map(people => ({ group: 'birth', most: matchWeight(m, u), people })),
  ]
}

const homeEvidence = (register: Register, person: Registered): readonly Evidence[] =>
  HOME_FIELDS.flatMap(field =>
    valuesOf(person, field).map(value => ({
      group: 'home',
      most: sameHomeWeight(register, field, value),
      people: postingsOf(register, field).peopleWith(value),
    })),
  )

/** Sums of weights in another order differ by less. */
const ROUNDING = 1e-9

/**
 * What of a person's evidence has to be looked up. Evidence is put aside, the least first, while all that was put aside could
 * not reach `least` even if another shared it all; whoever reaches `least` then shares something that was not put aside.
 * (After Chaudhuri S et al. A primitive operator for similarity joins, 2006: prefix filter.) Nothing is missed.
 */
const worthLookingUp = (register: Register, index: number, person: Registered, least: number): readonly Evidence[] => {
  const all = [...wordEvidence(register, person), ...birthEvidence(register, person), ...homeEvidence(register, person)]
    .filter(({ most, people }) => most > 0 && people.some(other => other !== index))
    .sort((a, b) => a.most - b.most)
  const putAside = new Map<string, number>([['sex', SAME_SEX_WEIGHT]])
  let sum = SAME_SEX_WEIGHT
  const first = all.findIndex(({ group, most }) => {
    sum += most - (putAside.get(group) ?? 0)
    putAside.set(group, most)
    return sum >= least - ROUNDING
  })
  return first === -1 ? [] : all.slice(first)
}

/** What names that agree in every word would weigh. */
const mostNameWeight = (register: Register, { words }: Registered): number =>
  words.reduce(
    (sum, word) => sum + Math.max(0, ...[...(register.links[word]?.values() ?? [])].map(link => link.weight)),
    0,
  )

const toDouble = (a: Registered, b: Registered, fields: readonly FieldWeight[], priorOdds: number): LikelyDouble => {
  const weight = totalWeight(fields)
  const probability = matchProbability(priorOdds, weight)
  return {
    cases: [a.caseId, b.caseId],
    weight,
    probability,
    standing: probability >= LIKELY_FROM ? 'likely' : 'possible',
    fields,
  }
}

const byWeight = (a: LikelyDouble, b: LikelyDouble): number =>
  b.weight - a.weight || compareText(a.cases[0], b.cases[0]) || compareText(a.cases[1], b.cases[1])

/**
 * Pairs of cases that may be of one person, the likeliest first: exactly those that comparing everybody with everybody would
 * give. The same on every device that holds the same cases.
 */
export const findDoubles = (registrations: readonly Registration[]): readonly LikelyDouble[] => {
  const register = registerOf(registrations)
  const priorOdds = priorOddsAmong(register.people.length)
  const least = weightFor(priorOdds, POSSIBLE_FROM)
  const lookedAtFrom = new Int32Array(register.people.length).fill(-1)
  const found: LikelyDouble[] = []
  for (const [index, person] of register.people.entries()) {
    const mostByName = mostNameWeight(register, person)
    for (const { people } of worthLookingUp(register, index, person, least)) {
      for (let at = people.length - 1; at >= 0; at -= 1) {
        const other = people[at] ?? -1
        if (other <= index) break
        if (lookedAtFrom[other] === index) continue
        lookedAtFrom[other] = index
        const candidate = register.people[other]
        if (!candidate) throw new Error(`no person ${other} in a register of ${register.people.length}`)
        const besides = compareBesidesNames(register, person, candidate)
        if (totalWeight(besides) + mostByName < least - ROUNDING) continue
        const fields = compare(register, person, candidate)
        if (totalWeight(fields) >= least) found.push(toDouble(person, candidate, fields, priorOdds))
      }
    }
  }
  return found.sort(byWeight)
}
