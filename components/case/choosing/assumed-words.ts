import { isFieldName } from '../../../src/case/fields.ts'
import type { Recommendation } from '../../../src/fitting/recommend.ts'
import { en } from '../../text/en/index.ts'
import { fieldLabel } from '../../text/say-value.ts'
import { type TextKey, t } from '../../text/text.ts'

type Missing = Recommendation['missing'][number]

const LIMB_PART = /^limbLoss\.(left|right)\.(remainingFraction|prosthesisWorn)$/

const sayName = (field: string): string => {
  if (field === 'skin') return t('ask.skin')
  const [, side, part] = LIMB_PART.exec(field) ?? []
  if (part === 'remainingFraction') return t(side === 'left' ? 'choosing.limbLeft' : 'choosing.limbRight')
  if (part === 'prosthesisWorn') return t(side === 'left' ? 'choosing.prosthesisLeft' : 'choosing.prosthesisRight')
  return isFieldName(field) ? fieldLabel(field) : field
}

const sayTaken = (field: string, value: number | string): string => {
  if (typeof value === 'number') return t('form.percent', { count: Math.round(value * 100) })
  if (field === 'skin') return t('choosing.noRiskKnown')
  if (value === 'adult') return t('choosing.adult')
  if (value === 'not-worn') return t('option.no')
  const key = `${field} ${value}`
  return Object.hasOwn(en.option, key) ? t(`option.${key}` as TextKey) : value
}

/** What the ranking had to take for granted, because nobody noted it. */
export const assumedWords = (missing: readonly Missing[]): readonly string[] =>
  missing.flatMap(({ field, effect, assumed }) =>
    effect === 'assumed' && assumed !== undefined
      ? [t('choosing.assumedLine', { field: sayName(field), value: sayTaken(field, assumed) })]
      : [],
  )
