import type { SourceKey } from './sources.ts'

export type ReasonInput = number | string | boolean | null

/**
 * Why something is as it is, as data: the rule, every input with its value (units in the names) and the source, enough
 * to redo the sum by hand. `sum` is that sum written out. Sentences are made in `components/`.
 */
export interface Reason {
  readonly rule: string
  readonly inputs: Readonly<Record<string, ReasonInput>>
  readonly source: SourceKey
  readonly sum?: string
}

/** One setting of a set-up. `range`: the values that would serve as well, least first. */
export type Setting =
  | {
      readonly type: 'recommended'
      readonly value: number | string | null
      readonly range: readonly (number | string | null)[]
      readonly reasons: readonly Reason[]
    }
  | {
      readonly type: 'outOfReach'
      readonly wanted: number
      readonly nearest: number | string | null
      readonly reasons: readonly Reason[]
    }
  | { readonly type: 'missing'; readonly needs: readonly string[] }
  | { readonly type: 'judge'; readonly value: number | string | null; readonly reasons: readonly Reason[] }

/** A named reason why handover must wait. `refer`: to whom, when the crew alone must not go on. */
export interface Hold {
  readonly key: string
  readonly reason: Reason
  readonly refer?: 'health' | 'specialist-seating'
}

/** Something unlikely in what was typed. Names the likely slip and what the value would then be; mends nothing itself. */
export interface Doubt {
  readonly field: string
  readonly value: ReasonInput
  readonly likely: string
  readonly wouldBe?: number
  readonly reason: Reason
  /** True when the value is too unlikely to compute with: it is set aside and counts as missing until measured again. */
  readonly setAside: boolean
}
