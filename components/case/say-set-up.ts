import type { ChairModel } from '../../src/chair/chair-model.ts'
import type { SetUp } from '../../src/chair/set-up.ts'
import { type TextKey, t } from '../text/text.ts'
import { cushionTitle, depthMm, sayAxle, sayBackHeight, sayMm, saySeatHeight } from './set-up-words.ts'

export type SetUpName = keyof SetUp

/** In the order in which a chair is chosen and then set. */
export const SET_UP_NAMES: readonly SetUpName[] = [
  'chair',
  'seatWidthMm',
  'seatDepth',
  'cushion',
  'seatHeight',
  'axle',
  'backHeight',
  'footrestLeftMm',
  'footrestRightMm',
  'armrestMm',
]

export const isSetUpName = (name: string): name is SetUpName => (SET_UP_NAMES as readonly string[]).includes(name)

const NAMES: Readonly<Record<SetUpName, TextKey>> = {
  chair: 'difference.chair',
  seatWidthMm: 'fit.seatWidth',
  seatDepth: 'fit.seatDepth',
  cushion: 'fit.cushion',
  seatHeight: 'fit.seatHeight',
  axle: 'fit.axle',
  backHeight: 'fit.backHeight',
  footrestLeftMm: 'fit.footrestLeft',
  footrestRightMm: 'fit.footrestRight',
  armrestMm: 'fit.armrest',
}

export const setUpName = (name: SetUpName): string => t(NAMES[name])

/** One value of a set-up in words: keys looked up in the model, lengths in mm, what is taken off as such. */
export const saySetUpValue = (name: SetUpName, value: SetUp[SetUpName], model: ChairModel | undefined): string => {
  if (value === null) return t('fit.off')
  if (typeof value === 'number') return sayMm(value)
  switch (name) {
    case 'chair':
      return model?.key === value ? model.title : value
    case 'seatDepth': {
      const depth = depthMm(model, value)
      return typeof depth === 'number' ? sayMm(depth) : depth
    }
    case 'cushion':
      return cushionTitle(model, value)
    case 'seatHeight':
      return saySeatHeight(model, value)
    case 'axle':
      return sayAxle(model, value)
    case 'backHeight':
      return sayBackHeight(model, value)
    default:
      return value
  }
}
