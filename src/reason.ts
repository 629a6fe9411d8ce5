import type { SourceKey } from './sources.ts'
import type { Formula } from './sum.ts'

export type ReasonInput = number | string | boolean | null

/**
 * Why something is as it is, as data: the rule, every input with its value (units in the names) and the source, enough
 * to redo the sum by hand. `sum`: its formulas in symbols. Words and sentences are made in `components/`.
 */
export interface Reason {
  readonly rule: string
  readonly inputs: Readonly<Record<string, ReasonInput>>
  readonly source: SourceKey
  readonly sum?: readonly Formula[]
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
