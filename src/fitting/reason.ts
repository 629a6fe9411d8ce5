import type { Reason } from '../reason.ts'
import type { WorkedReason } from '../sum.ts'

/** One setting of a set-up. `range`: the values that would serve as well, least first. */
export type Setting =
  | {
      readonly type: 'recommended'
      readonly value: number | string | null
      readonly range: readonly (number | string | null)[]
      readonly reasons: readonly WorkedReason[]
    }
  | {
      readonly type: 'outOfReach'
      readonly wanted: number
      readonly nearest: number | string | null
      readonly reasons: readonly WorkedReason[]
    }
  | { readonly type: 'missing'; readonly needs: readonly string[] }
  | { readonly type: 'judge'; readonly value: number | string | null; readonly reasons: readonly WorkedReason[] }

/** Everything that can make a handover wait: each has its sentence in `components/text`. */
export const HOLD_KEYS = [
  'posture-beyond-crew',
  'present-sore',
  'under-four',
  'risk-new-weakness',
  'risk-breathing-trouble',
  'risk-swallowing-trouble',
  'risk-uncontrolled-spasms',
  'risk-recent-surgery',
  'risk-fracture',
  'risk-seizures',
  'risk-pregnancy',
  'risk-weight-changing',
  'cannot-issue-wait',
  'cannot-issue-refer',
  'written-by-later-version',
  'measure-again',
  'not-chosen',
  'no-chair-serves',
  'chosen-not-in-catalogue',
  'measures-missing',
  'chosen-breaks-rule',
  'build-not-finished',
  'checks-failed',
  'checks-stale',
  'checks-not-done',
  'fitting-fit-size',
  'fitting-fit-posture',
  'fitting-fit-moving',
  'pressure-hand-check-left',
  'pressure-hand-check-right',
  'skin-after-first-hour',
  'brakes-out-of-reach',
  'strap-nobody-releases',
  'difference',
] as const
export type HoldKey = (typeof HOLD_KEYS)[number]

/** A named reason why handover must wait. `refer`: to whom, when the crew alone must not go on. */
export interface Hold {
  readonly key: HoldKey
  readonly reason: Reason
  readonly refer?: 'health' | 'specialist-seating'
}
