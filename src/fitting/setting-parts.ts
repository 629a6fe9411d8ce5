import type { SourceKey } from '../sources.ts'
import type { Formula, SumInputs, WorkedReason } from '../sum.ts'
import { roundTo } from '../units.ts'
import type { Setting } from './reason.ts'

/** Why a setting is what it is: each rule has its sentence in `components/text`. */
export const SETTING_RULES = [
  'under-four',
  'width-smallest-not-under',
  'depth-gap-right',
  'depth-gap-accepted',
  'hips-bend-less-than-seat',
  'relief-needed',
  'relief-not-needed',
  'seat-height-by-reach-and-effort',
  'foot-reaches-floor',
  'axle-most-forward',
  'axle-one-back-of-most-forward',
  'axle-rearmost',
  'axle-nearest-rear-share',
  'elbow-window',
  'anti-tip-advised',
  'backrest-free',
  'backrest-some',
  'backrest-high',
  'footrest-by-calf',
  'plate-off-for-propelling-foot',
  'no-foot-to-support',
  'knee-straightens-less-than-hanger',
  'plate-beside-propelling-foot',
  'model-without-armrest',
  'armrest-by-elbow',
] as const
export type SettingRule = (typeof SETTING_RULES)[number]

/** Dimensions that can be missed by more than their tolerance. */
export const TOLERANCE_DIMENSIONS = [
  'seatWidth',
  'seatDepth',
  'backHeight',
  'footrestLeft',
  'footrestRight',
  'armrest',
  'elbow',
  'heelToCaster',
] as const

/** A dimension that the best set-up still misses by more than its tolerance, by how much. */
export interface OutOfTolerance {
  readonly dimension: (typeof TOLERANCE_DIMENSIONS)[number]
  readonly by: number
  readonly unit: 'mm' | 'deg'
}

/** To a tenth of a millimetre, as reasons print lengths. */
export const tenthMm = (value: number): number => roundTo(value, 1)
const NO_FORMULA: readonly Formula[] = []
export const reasonFor = (
  rule: SettingRule,
  inputs: SumInputs,
  source: SourceKey,
  sum: readonly Formula[] = NO_FORMULA,
): WorkedReason => ({ rule, inputs, source, sum })
export const recommended = (
  value: number | string | null,
  range: readonly (number | string | null)[],
  reasons: readonly WorkedReason[],
): Setting => ({
  type: 'recommended',
  value,
  range,
  reasons,
})
