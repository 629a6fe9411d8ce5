import type { CaseView } from '../../src/case/case-view.ts'
import type { Catalogue } from '../../src/chair/chair-model.ts'
import { groundOr } from '../../src/fitting/policy.ts'
import type { Target } from '../../src/outcome/target.ts'
import { pressureFor } from '../../src/preparation/tyres.ts'
import { latestHandover } from '../case/latest-handover.ts'
import { chairTitle, cushionTitle, depthMm, modelIn, sayAxle, sayBackHeight, sayMm } from '../case/set-up-words.ts'
import { readFrom } from '../preparation/built-rows.ts'
import { pressureWords } from '../preparation/sheet-words.ts'
import { t } from '../text/text.ts'
import type { MarkedPart } from './marked-picture.ts'

export interface OwnNumber {
  readonly part: MarkedPart
  readonly words: string
}

const sayMmOrOff = (value: number | null): string => (value === null ? t('fit.off') : sayMm(value))

/** The chair's own numbers for the person who sits in it: as read from the real chair where it was read, else as chosen. */
export const ownNumbers = ({ values }: CaseView, target: Target, catalogue: Catalogue): readonly OwnNumber[] => {
  const { setUp } = target
  const built = readFrom(values, setUp.chair)
  const model = modelIn(catalogue, setUp.chair)
  const depth = built.builtSeatDepthMm ?? depthMm(model, setUp.seatDepth)
  const left = built.builtFootrestLeftMm === undefined ? setUp.footrestLeftMm : built.builtFootrestLeftMm
  const right = built.builtFootrestRightMm === undefined ? setUp.footrestRightMm : built.builtFootrestRightMm
  const armrest = built.builtArmrestMm === undefined ? setUp.armrestMm : built.builtArmrestMm
  const rear = model ? pressureFor(model.tyres.rear, groundOr(values.ground)) : undefined
  return [
    {
      part: 'back',
      words: t('given.back', {
        height: built.builtBackHeightMm ? sayMm(built.builtBackHeightMm) : sayBackHeight(model, setUp.backHeight),
      }),
    },
    {
      part: 'seat',
      words: t('given.seat', {
        width: sayMm(built.builtSeatWidthMm ?? setUp.seatWidthMm),
        depth: typeof depth === 'number' ? sayMm(depth) : depth,
        cushion: cushionTitle(model, built.builtCushion ?? setUp.cushion),
      }),
    },
    { part: 'footrests', words: t('given.footrests', { left: sayMmOrOff(left), right: sayMmOrOff(right) }) },
    { part: 'wheels', words: t('given.wheels', { axle: sayAxle(model, built.builtAxle ?? setUp.axle) }) },
    ...(rear
      ? [
          {
            part: 'tyres' as const,
            words:
              rear.type === 'solid'
                ? t('given.tyresSolid')
                : t('given.tyres', { pressure: pressureWords(rear.targetKPa) }),
          },
        ]
      : []),
    ...(armrest === null
      ? []
      : [{ part: 'armrests' as const, words: t('given.armrests', { height: sayMm(armrest) }) }]),
  ]
}

/** Trail folding, number LK-0021. */
export const sayChairGiven = (view: CaseView, target: Target, catalogue: Catalogue): string => {
  const serial = latestHandover(view)?.serialNumber ?? view.values.serialNumber
  const chair = chairTitle(catalogue, target.setUp.chair)
  return serial ? t('given.chair', { chair, serial }) : chair
}
