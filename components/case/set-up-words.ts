import type { Catalogue, ChairModel, SettingKey } from '../../src/chair/chair-model.ts'
import type { ChosenSetUp } from '../../src/chair/set-up.ts'
import type { Setting } from '../../src/fitting/reason.ts'
import type { HardRule } from '../../src/fitting/rules.ts'
import type { OutOfTolerance } from '../../src/fitting/setting-parts.ts'
import type { Settings } from '../../src/fitting/settings.ts'
import type { TipAngle } from '../../src/fitting/stability.ts'
import { sayNumber } from '../text/say-value.ts'
import { t } from '../text/text.ts'

/** Chairs, sizes and settings in words: keys of the catalogue become what a person reads on the chair or on a tape. */
export const modelIn = (catalogue: Catalogue, chair: string): ChairModel | undefined =>
  catalogue.models.find(one => one.key === chair)

/** A chair that left the catalogue keeps its key as its name. */
export const chairTitle = (catalogue: Catalogue, chair: string): string => modelIn(catalogue, chair)?.title ?? chair

export const cushionTitle = (model: ChairModel | undefined, cushion: string): string =>
  model?.cushions.find(one => one.key === cushion)?.title ?? cushion

export const depthMm = (model: ChairModel | undefined, seatDepth: string): number | string =>
  model?.seatDepths.find(one => one.key === seatDepth)?.valueMm ?? seatDepth

/** Trail folding 400 × 440. */
export const saySize = (
  catalogue: Catalogue,
  { chair, seatWidthMm, seatDepth }: Pick<ChosenSetUp, 'chair' | 'seatWidthMm' | 'seatDepth'>,
): string =>
  t('choosing.size', {
    chair: chairTitle(catalogue, chair),
    width: seatWidthMm,
    depth: depthMm(modelIn(catalogue, chair), seatDepth),
  })

export const sayMm = (valueMm: number): string => sayNumber(valueMm, 'mm', 0)
const sayMmOrOff = (valueMm: number | null): string => (valueMm === null ? t('choosing.off') : sayMm(valueMm))

/** Holes are counted from the rear, as the catalogue lists them. */
export const sayAxle = (model: ChairModel | undefined, axle: string): string => {
  const index = model?.axlePositions.findIndex(one => one.key === axle) ?? -1
  return model && index >= 0 ? t('fit.axleHole', { number: index + 1, count: model.axlePositions.length }) : axle
}

export const saySeatHeight = (model: ChairModel | undefined, seatHeight: string): string => {
  const height = model?.seatHeights.find(one => one.key === seatHeight)
  return height ? t('fit.seatHeightValue', { rear: height.rearMm, front: height.frontMm }) : seatHeight
}

export const sayBackHeight = (model: ChairModel | undefined, backHeight: string): string => {
  const back = model?.backHeights.find(one => one.key === backHeight)
  if (back) return sayMm(back.valueMm)
  return Number.isFinite(Number(backHeight)) ? sayMm(Number(backHeight)) : backHeight
}

/** Chair, width and depth of a size kept as text; a depth may be a key or read in mm. */
const SIZE_TEXT = /^(\S+) (\S+) x (\S+)$/

const saySizeText = (catalogue: Catalogue, text: string): string => {
  const [, chair = '', width = '', depth = ''] = SIZE_TEXT.exec(text) ?? []
  if (chair === '') return text
  return t('choosing.size', {
    chair: chairTitle(catalogue, chair),
    width,
    depth: String(depthMm(modelIn(catalogue, chair), depth)),
  })
}

/** A setting as it stands in a check, a tick or a change: its kept text, in words. */
export const saySettingText = (catalogue: Catalogue, chair: string, setting: SettingKey, text: string): string => {
  const model = modelIn(catalogue, chair)
  switch (setting) {
    case 'size':
      return saySizeText(catalogue, text)
    case 'axle':
      return sayAxle(model, text)
    case 'seatHeight':
      return saySeatHeight(model, text)
    case 'backHeight':
      return sayBackHeight(model, text)
    case 'cushion':
      return cushionTitle(model, text)
    case 'footrestLeft':
    case 'footrestRight':
    case 'armrest':
      return text === 'off' ? t('choosing.off') : sayMm(Number(text))
  }
}

/** The value of a recommended setting. */
export const saySettingValue = (
  model: ChairModel | undefined,
  setting: keyof Settings,
  value: number | string | null,
): string => {
  if (typeof value !== 'string') return sayMmOrOff(value)
  if (setting === 'axle') return sayAxle(model, value)
  if (setting === 'seatHeight') return saySeatHeight(model, value)
  return setting === 'cushion' ? cushionTitle(model, value) : value
}

/** The values that would serve as well, without the one taken. */
export const sayAlsoServes = (
  model: ChairModel | undefined,
  name: keyof Settings,
  setting: Setting,
): readonly string[] =>
  setting.type === 'recommended'
    ? setting.range.filter(one => one !== setting.value).map(one => saySettingValue(model, name, one))
    : []

export const sayTipAngle = (angle: TipAngle): string => {
  if (angle === 'cannotTip') return t('fit.cannotTip')
  return angle === 'outsideBase' ? t('fit.outsideBase') : sayNumber(angle, 'deg')
}

export const sayTolerance = ({ dimension, by, unit }: OutOfTolerance): string =>
  t(`tolerance.${dimension}`, { by: sayNumber(by, unit, unit === 'mm' ? 0 : 1) })

const ANGLE_RULES: readonly HardRule[] = ['rearward', 'forward', 'sideways']

/** How far a set-up misses a rule, in the rule's unit; undefined where a rule is kept or broken whole. */
export const sayShortBy = (rule: HardRule, shortBy: number): string | undefined => {
  if (!(shortBy > 0) || shortBy >= 999) return undefined
  if (ANGLE_RULES.includes(rule)) return sayNumber(shortBy, 'deg')
  return sayNumber(shortBy, rule === 'capacity' ? 'kg' : 'mm')
}
