import type { CaseView, Head } from '../../src/case/case-view.ts'
import { type FieldName, fieldOf, type Reading } from '../../src/case/fields.ts'
import type { AppCasebook } from '../app/context.ts'
import { optionLabel, sayName, sayReading } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'

/** How a measure was taken, by whom and on which day, each reading of it; of two weighings both as typed. */
export const takenWords = (heads: readonly Head[], casebook: AppCasebook): string =>
  heads
    .map(head => {
      const reading = head.value as Reading
      const { how, on, less, measuredBy } = reading
      const typist = sayName(casebook, head.by)
      return currentSpeech().series([
        ...(less === undefined ? [] : [sayReading(reading)]),
        ...(how === undefined ? [] : [optionLabel('how', how).toLowerCase()]),
        ...(measuredBy === undefined ? [typist] : [measuredBy, t('difference.typedBy', { who: typist })]),
        on ? currentSpeech().date(on, 'short') : currentSpeech().moment(head.at),
      ])
    })
    .join('; ')

/** From so many measures on what they share is said once, above them. */
const SHARED = 3

/** How most of these measures were taken; nothing where few share it. */
export const usualTaken = (names: readonly FieldName[], view: CaseView, casebook: AppCasebook): string => {
  const taken = names
    .filter(name => fieldOf(name).kind === 'measure')
    .map(name => takenWords(view.heads[name] ?? [], casebook))
    .filter(words => words !== '')
  const count = (words: string): number => taken.filter(one => one === words).length
  const [usual] = [...new Set(taken)].sort((a, b) => count(b) - count(a))
  return usual !== undefined && count(usual) >= SHARED ? usual : ''
}
