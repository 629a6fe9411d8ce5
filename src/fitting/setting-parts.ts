import type { Reason } from '../reason.ts'
import type { SourceKey } from '../sources.ts'
import { roundTo } from '../units.ts'
import type { Setting } from './reason.ts'

/** A dimension that the best set-up still misses by more than its tolerance, by how much. */
export interface OutOfTolerance {
  readonly dimension:
    | 'seatWidth'
    | 'seatDepth'
    | 'backHeight'
    | 'footrestLeft'
    | 'footrestRight'
    | 'armrest'
    | 'elbow'
    | 'heelToCaster'
  readonly by: number
  readonly unit: 'mm' | 'deg'
}

/** To a tenth of a millimetre, as reasons print lengths. */
export const tenthMm = (value: number): number => roundTo(value, 1)
export const reasonFor = (rule: string, inputs: Reason['inputs'], source: SourceKey, sum?: string): Reason =>
  sum === undefined ? { rule, inputs, source } : { rule, inputs, source, sum }
export const recommended = (
  value: number | string | null,
  range: readonly (number | string | null)[],
  reasons: readonly Reason[],
): Setting => ({
  type: 'recommended',
  value,
  range,
  reasons,
})
