import type { CalendarDate } from '../../src/calendar-date.ts'
import type { FieldName } from '../../src/case/fields.ts'
import type { Reason, ReasonInput } from '../../src/reason.ts'
import { isSumInput, SUM_INPUTS, type SumInput } from '../../src/sum.ts'
import { en } from '../text/en/index.ts'
import { fieldLabel, sayNumber } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'

/** Figures without a unit and shares of a turn want more places than lengths and angles. */
const DECIMALS: { readonly [Unit in (typeof SUM_INPUTS)[SumInput]]?: number } = { number: 4, mm2: 2, kN: 2 }

const sayWords = (value: string): string => {
  const words = value.split(' ').filter(word => word !== '')
  return words.length === 0 ? t('sum.none') : currentSpeech().list(words.map(word => t(`sumValue.${word}` as TextKey)))
}

/** A value of a sum as a person reads it: with its unit, words for keys, a list where several stand in one text. */
export const sayInput = (name: SumInput, value: ReasonInput): string => {
  if (value === null) return t('sum.none')
  if (typeof value === 'boolean') return t(value ? 'sum.yes' : 'sum.no')
  const unit = SUM_INPUTS[name]
  if (typeof value === 'string') {
    if (unit === 'date') return currentSpeech().date(value as CalendarDate)
    return unit === 'text' ? value : sayWords(value)
  }
  const decimals = name.endsWith('DiameterMm') ? 3 : (DECIMALS[unit] ?? 1)
  switch (unit) {
    case 'years':
    case 'months':
    case 'days':
    case 'points':
      return t(`sum.${unit}`, { count: value })
    case 'number':
      return currentSpeech().number(value, decimals)
    default:
      return sayNumber(value, unit, decimals)
  }
}

/** What an input is called: a measure of the person by its own name. */
export const sayInputName = (name: SumInput): string =>
  Object.hasOwn(en.sumInput, name) ? t(`sumInput.${name}` as TextKey) : fieldLabel(name as FieldName)

/** The one line of a reason; undefined for a rule that this table does not know. */
export const reasonWords = ({ rule, inputs }: Reason): string | undefined =>
  Object.hasOwn(en.reason, rule)
    ? t(
        `reason.${rule}` as TextKey,
        Object.fromEntries(
          Object.entries(inputs).flatMap(([name, value]) => (isSumInput(name) ? [[name, sayInput(name, value)]] : [])),
        ),
      )
    : undefined
