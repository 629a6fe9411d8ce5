import { isFieldName } from '../../src/case/fields.ts'
import type { ResolvedSetUp } from '../../src/chair/set-up.ts'
import type { Setting } from '../../src/fitting/reason.ts'
import type { Settings } from '../../src/fitting/settings.ts'
import type { WorkedReason } from '../../src/sum.ts'
import { fieldLabel, sayNumber } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { reasonWords } from './reason-words.ts'
import { millimetres } from './side-labels.ts'
import type { Fitted } from './trial.ts'

export type SettingName = keyof Settings

/** In the order in which a person looks at them: what can be moved here, then what follows from the chair and its size. */
export const MOVABLE = ['axle', 'cushion', 'footrestLeft', 'footrestRight'] as const
export const FOLLOWING = ['seatWidth', 'seatDepth', 'seatHeight', 'backHeight', 'armrest'] as const

const mmOrOff = (value: number | null): string => (value === null ? t('fit.off') : millimetres(value))

export const axleWords = ({ model, axle }: Pick<ResolvedSetUp, 'model' | 'axle'>): string => {
  const number = model.axlePositions.indexOf(axle) + 1
  const count = model.axlePositions.length
  return axle.raiseMm === 0
    ? t('fit.axleHole', { number, count })
    : t('fit.axleRaised', { number, count, raise: millimetres(axle.raiseMm) })
}

/** What a setting is set to, in words. */
export const settingWords = (name: SettingName, setUp: ResolvedSetUp): string => {
  switch (name) {
    case 'seatWidth':
      return millimetres(setUp.seatWidthMm)
    case 'seatDepth':
      return millimetres(setUp.depth.valueMm)
    case 'cushion':
      return setUp.cushion.title
    case 'seatHeight':
      return t('fit.seatHeightValue', {
        rear: currentSpeech().number(setUp.height.rearMm, 0),
        front: currentSpeech().number(setUp.height.frontMm, 0),
      })
    case 'axle':
      return axleWords(setUp)
    case 'backHeight':
      return millimetres(setUp.back.valueMm)
    case 'footrestLeft':
      return mmOrOff(setUp.footrestLeftMm)
    case 'footrestRight':
      return mmOrOff(setUp.footrestRightMm)
    case 'armrest':
      return mmOrOff(setUp.armrestMm)
  }
}

export interface SettingRow {
  readonly name: SettingName
  readonly label: string
  readonly value: string
  /** One line why, without the sum. */
  readonly why: string
  readonly reason: WorkedReason | undefined
}

/** Measures by their names, as a list. */
export const sayMeasures = (names: readonly string[]): string =>
  currentSpeech().list(names.filter(isFieldName).map(fieldLabel))

const whyOf = (setting: Setting, words: readonly string[]): string => {
  const list = words.join(' · ')
  switch (setting.type) {
    case 'recommended':
      return list
    case 'missing':
      return t('fit.needsMeasures', { fields: sayMeasures(setting.needs) })
    case 'outOfReach':
      return [t('fit.wanted', { wanted: sayNumber(setting.wanted, 'mm') }), list].join(' · ')
    case 'judge':
      return [t('fit.judge'), list].join(' · ')
  }
}

export const settingRow = (name: SettingName, fitted: Fitted): SettingRow => {
  const setting = fitted.settings[name]
  const reasons = setting.type === 'missing' ? [] : setting.reasons
  return {
    name,
    label: t(`fit.${name}`),
    value: settingWords(name, fitted.setUp),
    why: whyOf(
      setting,
      reasons.slice(0, 2).flatMap(one => reasonWords(one) ?? []),
    ),
    reason: reasons[0],
  }
}
