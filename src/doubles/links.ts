import type { Counted } from '../case/entry.ts'
import { type Crew, countingEntries } from '../crew/crew.ts'
import { type Said, statementsIn } from '../crew/team-statements.ts'
import { type CaseId, compareText, type EntryId } from '../ids.ts'

/** `disputed`: entries made apart say both. Such cases stay apart until a person says it again over both. */
export type LinkStanding = 'same-person' | 'two-people' | 'disputed'

export interface CaseLink {
  readonly cases: readonly [CaseId, CaseId]
  readonly standing: LinkStanding
  /** What a new statement about the two stands over. */
  readonly entries: readonly EntryId[]
}

/** Two cases in the one order that a statement about them has. */
export const pairOf = (a: CaseId, b: CaseId): readonly [CaseId, CaseId] => (a < b ? [a, b] : [b, a])
export const pairKey = (a: CaseId, b: CaseId): string => pairOf(a, b).join(' ')

const standingOf = (heads: readonly Said<'samePerson'>[]): LinkStanding => {
  const said = new Set(heads.map(({ value }) => value.same))
  if (said.size > 1) return 'disputed'
  return said.has(true) ? 'same-person' : 'two-people'
}

/**
 * What the crew said of pairs of cases, by pair: the statements that no later one about the same pair stands over. Whatever was
 * said can be said otherwise again; nothing in the cases is changed by it.
 */
export const linksOf = (crew: Crew, entries: readonly Counted[]): ReadonlyMap<string, CaseLink> => {
  const byPair = new Map<string, Said<'samePerson'>[]>()
  for (const said of statementsIn(countingEntries(crew, entries), 'samePerson')) {
    const key = pairKey(...said.value.cases)
    byPair.set(key, [...(byPair.get(key) ?? []), said])
  }
  return new Map(
    [...byPair].map(([key, said]): [string, CaseLink] => {
      const over = new Set(said.flatMap(one => one.over))
      const heads = said.filter(({ id }) => !over.has(id))
      const [first] = heads
      if (!first) throw new Error(`statements about ${key} that stand over each other in a circle`)
      return [
        key,
        { cases: pairOf(...first.value.cases), standing: standingOf(heads), entries: heads.map(({ id }) => id) },
      ]
    }),
  )
}

/** Cases of one person, two or more, each set and its cases by id. A chain of links is one person. */
export const linkedCases = (links: ReadonlyMap<string, CaseLink>): readonly (readonly CaseId[])[] => {
  const groupOf = new Map<CaseId, CaseId[]>()
  for (const { cases, standing } of links.values()) {
    if (standing !== 'same-person') continue
    const joined = [...new Set(cases.flatMap(one => groupOf.get(one) ?? [one]))].sort(compareText)
    for (const one of joined) groupOf.set(one, joined)
  }
  return [...new Set(groupOf.values())].toSorted((a, b) => compareText(a[0] ?? '', b[0] ?? ''))
}
