import { html } from 'lit'
import { atStart, fieldLabel, sayMeasure } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn } from '../case-section.ts'
import { sayFields } from '../say-hold.ts'
import { setAside } from './landmarks.ts'

/** 452 / 450: both sides, or what there is of them. */
const sides = (left: number | undefined, right: number | undefined): string | undefined => {
  const numbers = [left, right].filter(value => value !== undefined).map(value => currentSpeech().number(value))
  return numbers.length === 0 ? undefined : numbers.join(' / ')
}

const sentenceOf = ({ view }: CaseFacts): string => {
  const { values } = view
  const mass = values.massKg === undefined ? undefined : sayMeasure('massKg', values.massKg)
  const thighs = sides(values.thighDepthLeftMm, values.thighDepthRightMm)
  const calves = sides(values.calfLengthLeftMm, values.calfLengthRightMm)
  const parts = [
    values.hipWidthMm === undefined
      ? undefined
      : `${t('measuring.short hipWidthMm')} ${sayMeasure('hipWidthMm', values.hipWidthMm)}`,
    thighs === undefined ? undefined : `${t('measuring.short thighDepthMm')} ${thighs}`,
    calves === undefined ? undefined : `${t('measuring.short calfLengthMm')} ${calves}`,
    mass === undefined ? undefined : view.massGuessed ? t('frame.guessedMass', { mass }) : mass,
    ...view.differences
      .filter(one => Object.hasOwn(view.readings, one.field))
      .map(one => t('frame.openDifference', { field: fieldLabel(one.field).toLowerCase() })),
  ].filter(part => part !== undefined)
  return parts.length === 0 ? t('frame.notMeasured') : atStart(currentSpeech().series(parts))
}

export const measuringSection: CaseSection = {
  key: 'measuring',
  title: 'frame.measuring',
  result: facts => {
    const again = setAside(facts)
    const left = leftIn(facts, 'measuring') + again.length
    return again.length === 0
      ? { text: sentenceOf(facts), left }
      : { text: t('frame.nextMeasureAgain', { fields: sayFields(again) }), left, calls: 'warn' }
  },
  load: () => import('./spoke-measuring.ts'),
  render: ({ view, outcome }) => html`<spoke-measuring .view=${view} .outcome=${outcome}></spoke-measuring>`,
}
