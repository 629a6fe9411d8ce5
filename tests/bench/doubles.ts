import * as fuzzball from 'fuzzball'
import { findDoubles } from '../../src/doubles/find-doubles.ts'
import { type InventedPeople, inventedPeople } from '../support/invented-people.ts'
import { loadWords, printTable, ratio, round, timedByProcessor } from './measure.ts'

/** People of the issue, half of them for the growth; and as many as a library compares that compares everybody with everybody. */
const MOST = 20_000
const COMPARED_WITH = 2_000

/** Those registered twice that are among the pairs found. */
const recall = ({ twice }: InventedPeople, pairs: Iterable<readonly [string, string]>): string => {
  const found = new Set([...pairs].map(pair => [...pair].sort().join(' ')))
  const met = twice.filter(pair => found.has([...pair].sort().join(' '))).length
  return `${met} of ${twice.length}`
}

/** A registration as one text: what a general library compares. */
const textOf = ({
  names,
  places,
  birthDates,
  birthYears,
  households,
  telephones,
}: InventedPeople['registrations'][number]) =>
  [...names, ...places, ...birthDates, ...birthYears.map(String), ...households, ...telephones].join(' ')

/** One that is kept, and all that the library takes for it with their scores. Its types do not say so. */
type LibraryGroup = readonly [unknown, number, readonly (readonly [{ readonly caseId: string }, number, number])[]]

const byLibrary = ({ registrations }: InventedPeople): readonly (readonly [string, string])[] => {
  const texts = registrations.map(one => ({ caseId: one.caseId, text: textOf(one) }))
  const found = fuzzball.dedupe(texts, {
    processor: (one: { readonly text: string }) => one.text,
    scorer: fuzzball.token_set_ratio,
    cutoff: 85,
    keepmap: true,
    full_process: true,
  }) as unknown as readonly LibraryGroup[]
  return found.flatMap(([, , group]) =>
    group.flatMap(([one], index) => group.slice(index + 1).map(([other]) => [one.caseId, other.caseId] as const)),
  )
}

/** How long it takes to find who is registered twice, and how many of them are found. */
export const run = async (): Promise<void> => {
  findDoubles(inventedPeople(1_000, 2).registrations)
  const rows: { people: number; ms: number; pairs: number; twice: string }[] = []
  for (const count of [COMPARED_WITH, MOST / 2, MOST]) {
    const people = inventedPeople(count)
    const { ms, value } = await timedByProcessor(() => findDoubles(people.registrations))
    rows.push({
      people: count,
      ms,
      pairs: value.length,
      twice: recall(
        people,
        value.map(({ cases }) => cases),
      ),
    })
  }
  const [small, half, whole] = rows
  if (!small || !half || !whole) throw new Error('a measure of doubles is missing')
  printTable(
    `Doubles, processor time; names by Zipf's law, 1 in 50 registered twice (${loadWords()})`,
    rows.map(({ people, ms, pairs, twice }) => ({
      people,
      ms: round(ms, 0),
      'pairs to look at': pairs,
      'registered twice, found': twice,
    })),
  )
  console.log(`Twice as many people (${half.people} to ${whole.people}): ${ratio(whole.ms, half.ms)}`)

  const people = inventedPeople(COMPARED_WITH)
  const library = await timedByProcessor(() => byLibrary(people))
  printTable(`${COMPARED_WITH} people: against fuzzball's dedupe (everybody with everybody, token set ratio from 85)`, [
    { finder: 'ours', ms: round(small.ms, 0), pairs: small.pairs, 'registered twice, found': small.twice },
    {
      finder: 'fuzzball',
      ms: round(library.ms, 0),
      pairs: library.value.length,
      'registered twice, found': recall(people, library.value),
    },
  ])
  console.log(`Ours in the same run: ${ratio(library.ms, small.ms)} faster`)
}
