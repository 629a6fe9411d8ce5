import type { ChairModel } from '../../../src/chair/chair-model.ts'
import { armrestValues, footrestValues } from '../../../src/fitting/wanted.ts'

/** How many set-ups a model has altogether. */
export const setUpCount = (model: ChairModel): number =>
  model.seatWidthsMm.length *
  model.seatDepths.length *
  model.seatHeights.length *
  model.axlePositions.length *
  model.backHeights.length *
  model.cushions.length *
  footrestValues(model).length ** 2 *
  armrestValues(model).length
