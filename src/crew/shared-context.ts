import type { Head } from '../case/case-view.ts'
import type { Counted } from '../case/entry.ts'
import { entriesByField, headsOf } from '../case/heads.ts'
import type { Catalogue, ChairModel } from '../chair/chair-model.ts'
import { DEFAULT_POLICY, type Policy } from '../fitting/policy.ts'
import { compareText, type DeviceId, type EntryId } from '../ids.ts'
import { modelKeyIn, POLICY_FIELD, readModel, readPolicy } from './catalogue-fields.ts'
import { type Crew, type CrewDifference, countingEntries } from './crew.ts'
import { type Stock, type StockDifference, stockOf } from './stock.ts'
import type { Role } from './team-fields.ts'

export interface CatalogueDifference {
  /** `catalogue-differs`: entries made apart disagree, the first by id is used. `catalogue-newer`: a later version wrote it. */
  readonly type: 'catalogue-differs' | 'catalogue-newer'
  readonly field: string
  readonly entries: readonly EntryId[]
}

export type ContextDifference = CatalogueDifference | CrewDifference | StockDifference

export interface ContextMember {
  readonly device: DeviceId
  readonly name: string
  readonly role: Role
  readonly struck: boolean
}

/**
 * What a casebook says around its cases: the same on every device that holds the same team and catalogue entries. Where
 * they disagree something is chosen that every device chooses, and the difference is named.
 */
export interface SharedContext {
  readonly catalogue: Catalogue
  readonly policy: Policy
  readonly stock: Stock
  readonly crew: readonly ContextMember[]
  readonly differences: readonly ContextDifference[]
}

/** Parts that an outcome may read, each hashed apart: a movement of stock re-does no case that never looked at stock. */
export const CONTEXT_PARTS = ['catalogue', 'policy', 'stock', 'crew', 'differences'] as const
export type ContextPart = (typeof CONTEXT_PARTS)[number]

const CATALOGUE_TITLE = 'Catalogue of the casebook'

const differenceIn = (field: string, heads: readonly Head[], newer: boolean): readonly CatalogueDifference[] => {
  const entries = heads.map(head => head.id)
  const differs = new Set(heads.map(head => JSON.stringify(head.value))).size > 1
  return [
    ...(differs ? [{ type: 'catalogue-differs', field, entries } as const] : []),
    ...(newer ? [{ type: 'catalogue-newer', field, entries } as const] : []),
  ]
}

const readCatalogue = (entries: readonly Counted[]) => {
  const models: ChairModel[] = []
  const differences: CatalogueDifference[] = []
  let policy = DEFAULT_POLICY
  const byField = [...entriesByField(entries)].sort(([a], [b]) => compareText(a, b))
  for (const [field, setters] of byField) {
    const key = modelKeyIn(field)
    if (key === undefined && field !== POLICY_FIELD) continue
    const read = (value: unknown) => (key === undefined ? readPolicy(value) : readModel(key, value))
    const { heads, newer } = headsOf(setters, field, { isValid: value => read(value) !== undefined })
    differences.push(...differenceIn(field, heads, newer))
    const first = heads[0]
    if (!first) continue
    if (key === undefined) policy = readPolicy(first.value) ?? policy
    else {
      const model = readModel(key, first.value)
      if (model) models.push(model)
    }
  }
  const catalogue: Catalogue = { catalogue: 1, title: CATALOGUE_TITLE, models }
  return { catalogue, policy, differences }
}

/** `team` and `catalogue`: every entry of those documents; what does not count by the crew is left out here. */
export const sharedContextOf = (
  crew: Crew,
  team: readonly Counted[],
  catalogueEntries: readonly Counted[],
): SharedContext => {
  const { catalogue, policy, differences } = readCatalogue(countingEntries(crew, catalogueEntries))
  const stock = stockOf(crew, team)
  return {
    catalogue,
    policy,
    stock,
    crew: [...crew.members.values()].map(({ device, name, role, struckBy }) => ({
      device,
      name,
      role,
      struck: struckBy !== null,
    })),
    differences: [...differences, ...crew.differences, ...stock.differences],
  }
}
