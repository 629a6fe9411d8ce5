import { USUAL_AXLE_SPANNER_MM, USUAL_FRAME_SPANNER_MM } from '../../../src/preparation/fasteners.ts'
import type { PublishedRow } from './row.ts'

const COMMON = 'common practice, no source: older M8 and M12 hardware of wheelchair frames and axles'

export const USUAL_SPANNER_ROWS: readonly PublishedRow[] = [
  ['usual frame bolts', 13, () => USUAL_FRAME_SPANNER_MM] as const,
  ['usual axle bolts', 19, () => USUAL_AXLE_SPANNER_MM] as const,
].map(([what, expected, actual]) => ({
  rule: 'usual spanners',
  source: COMMON,
  standing: 'common practice',
  what,
  expected,
  actual,
  tolerance: 0,
  unit: 'mm',
}))
