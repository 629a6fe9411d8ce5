import type { AsBuilt } from '../../src/chair/as-built.ts'
import type { SettingKey } from '../../src/chair/chair-model.ts'
import type { ResolvedSetUp } from '../../src/chair/set-up.ts'
import type { RearView } from '../../src/fitting/drawn-rear.ts'
import { currentSpeech, t } from '../text/text.ts'
import type { Built } from './built-set-up.ts'
import { comAheadMm } from './number-rows.ts'
import { type SettingName, settingWords } from './setting-rows.ts'
import { degrees, millimetres, tipWords } from './side-labels.ts'
import type { Fitted } from './trial.ts'

/** The side view in whole sentences, for those who do not see it. */
export const sideDescription = (fitted: Fitted, withBuilt: boolean): string => {
  const { drawing, evaluation, setUp } = fitted
  const { side } = drawing
  const { axleAngles, wheels } = evaluation
  const words = t('fit.sideText', {
    hole: setUp.model.axlePositions.indexOf(setUp.axle) + 1,
    holes: setUp.model.axlePositions.length,
    ahead: millimetres(comAheadMm(fitted)),
    high: millimetres(wheels.comHeightMm),
    rearward: tipWords(axleAngles.rearTyrePivotDeg),
    forward: tipWords(axleAngles.forwardDeg),
    elbow: side.elbow
      ? side.elbow.deg === 'outOfReach'
        ? t('fit.sideElbowOut')
        : t('fit.sideElbow', { angle: degrees(side.elbow.deg) })
      : '',
    clearance: side.groundClearance ? t('fit.sideClearance', { length: millimetres(side.groundClearance.mm) }) : '',
  })
  return `${words} ${withBuilt ? t('fit.sideBuilt') : ''}`.trim()
}

export const rearDescription = (rear: RearView): string =>
  t('fit.rearText', {
    seat: millimetres(rear.seatWidthMm),
    hips: millimetres(rear.hipWidthMm),
    hands: millimetres(rear.widthWithHandsMm),
    left: tipWords(rear.left.deg),
    right: tipWords(rear.right.deg),
    door: rear.doorMm === null ? '' : t('fit.rearDoor', { door: millimetres(rear.doorMm) }),
  }).trim()

/** What of the chair as built stands otherwise: its parts by name. */
export const builtWords = (target: ResolvedSetUp, built: Built | undefined, read: AsBuilt): string => {
  if (!built) return read.chair === undefined ? '' : t('fit.builtOther', { chair: read.chair })
  if (built.differs.size === 0) return t('fit.builtSame')
  const namesOf = (key: SettingKey): readonly SettingName[] => {
    if (key !== 'size') return [key]
    const depthDiffers = built.setUp.depth.valueMm !== target.depth.valueMm
    const widthDiffers = built.setUp.seatWidthMm !== target.seatWidthMm
    return [...(widthDiffers ? (['seatWidth'] as const) : []), ...(depthDiffers ? (['seatDepth'] as const) : [])]
  }
  const parts = [...built.differs].flatMap(namesOf).map(name =>
    t('fit.builtPart', {
      part: currentSpeech().language === 'en' ? t(`fit.${name}`).toLowerCase() : t(`fit.${name}`),
      value: settingWords(name, built.setUp),
    }),
  )
  return t('fit.built', { parts: currentSpeech().list(parts) })
}
