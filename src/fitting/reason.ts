import type { Reason } from '../reason.ts'

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
