import { html, type TemplateResult } from 'lit'
import type { Head } from '../../../src/case/case-view.ts'
import { type Reading, readingValue, repeatTolerance } from '../../../src/case/fields.ts'
import type { AppCasebook } from '../../app/context.ts'
import { optionLabel, sayMeasure, sayName, sayWhoMeasured } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import type { MeasureName } from './landmarks.ts'
import { sayBoth } from './reading-doubts.ts'

const sayDay = ({ at, value: { on } }: Head<Reading>): string =>
  on ? currentSpeech().date(on, 'short') : currentSpeech().moment(at)

const earlierLine = (field: MeasureName, head: Head<Reading>, casebook: AppCasebook | undefined): TemplateResult => {
  const { how } = head.value
  const words = [
    ...(casebook ? [sayWhoMeasured(casebook, head)] : []),
    sayDay(head),
    ...(how ? [optionLabel('how', how).toLowerCase()] : []),
  ]
  return html`<li><strong class="number">${sayBoth(field, head.value)}</strong> ${currentSpeech().series(words)}</li>`
}

/** What was read before, by whom, when and how, and whether the new reading agrees with it. */
export const earlierTemplate = (
  field: MeasureName,
  earlier: readonly Head<Reading>[],
  reading: Reading,
  casebook: AppCasebook | undefined,
): TemplateResult => {
  const readings = [...earlier.map(head => head.value), reading]
  const values = readings.map(one => readingValue(field, one))
  const apart = Math.max(...values) - Math.min(...values)
  const tolerance = repeatTolerance(field, readings)
  const words = { apart: sayMeasure(field, apart), tolerance: sayMeasure(field, tolerance) }
  const agree = apart <= tolerance
  return html`<div class="earlier">
    <h4>${t('measuring.earlier')}</h4>
    <ul>
      ${earlier.map(head => earlierLine(field, head, casebook))}
    </ul>
    <p class=${agree ? '' : 'notice warn'}>${t(agree ? 'measuring.agrees' : 'measuring.differs', words)}</p>
  </div>`
}

/** By whom and when a measure was taken, and how often: measured twice, Sira and Joss, 12 May. */
export const sayTaken = (heads: readonly Head<Reading>[], casebook: AppCasebook): string => {
  const last = heads.toSorted((a, b) => a.at - b.at).at(-1)
  if (!last) return ''
  const nameOf = ({ by, value }: Head<Reading>): string =>
    value.measuredBy === undefined
      ? sayName(casebook, by)
      : t('measuring.typedBy', { who: value.measuredBy, typist: sayName(casebook, by) })
  const names = [...new Set(heads.map(nameOf))]
  return currentSpeech().series([
    ...(heads.length > 1 ? [t('measuring.times', { count: heads.length })] : []),
    currentSpeech().list(names),
    sayDay(last),
  ])
}

/** From so many rows on what they share is said once, above them. */
const SHARED_ROWS = 3

/** By whom and when most of several measures were taken; nothing where few share it. */
export const usualTaken = (all: readonly (readonly Head<Reading>[])[], casebook: AppCasebook): string => {
  const taken = all.map(heads => sayTaken(heads, casebook)).filter(words => words !== '')
  const count = (words: string): number => taken.filter(one => one === words).length
  const [usual] = [...new Set(taken)].sort((a, b) => count(b) - count(a))
  return usual !== undefined && count(usual) >= SHARED_ROWS ? usual : ''
}
