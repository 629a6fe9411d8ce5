import type { Reason, ReasonInput } from '../../src/reason.ts'
import { en } from '../text/en/index.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'

/** Units that end a name, and how a value in them is said. The longest first. */
const UNITS: readonly (readonly [string, TextKey])[] = [
  ['Points', 'fit.points'],
  ['Years', 'fit.years'],
  ['Deg', 'fit.degrees'],
  ['Mm', 'fit.millimetres'],
  ['Kg', 'fit.kilograms'],
]

/** A value of a sum as a person reads it: unit from the name, words for keys, a list where several stand in one text. */
export const sayInput = (name: string, value: ReasonInput): string => {
  if (value === null) return t('fit.none')
  if (typeof value === 'boolean') return t(value ? 'fit.yes' : 'fit.no')
  if (typeof value === 'number') {
    const unit = UNITS.find(([end]) => name.endsWith(end))
    const number = currentSpeech().number(value, 1)
    return unit ? t(unit[1], { value: number }) : number
  }
  const words = value.split(' ').filter(word => word !== '')
  if (words.length === 0) return t('fit.none')
  return words.every(word => Object.hasOwn(en.sumValue, word))
    ? currentSpeech().list(words.map(word => t(`sumValue.${word}` as TextKey)))
    : value
}

/** What an input is called: a measure by its own name. A name from a rule of another room is said as it is written. */
export const sayInputName = (name: string): string => {
  if (Object.hasOwn(en.sumInput, name)) return t(`sumInput.${name}` as TextKey)
  if (Object.hasOwn(en.field, name)) return t(`field.${name}` as TextKey)
  return name
}

/** The one line of a reason; undefined for a rule that this table does not know. */
export const reasonWords = ({ rule, inputs }: Reason): string | undefined =>
  Object.hasOwn(en.reason, rule)
    ? t(
        `reason.${rule}` as TextKey,
        Object.fromEntries(Object.entries(inputs).map(([name, value]) => [name, sayInput(name, value)])),
      )
    : undefined
