import { html, nothing, type TemplateResult } from 'lit'
import type { DifferenceOption, Head } from '../../src/case/case-view.ts'
import type { WeighedDifference } from '../../src/case/differences.ts'
import {
  type FieldName,
  fieldOf,
  type NamesOfKind,
  type Reading,
  readingValue,
  repeatTolerance,
} from '../../src/case/fields.ts'
import { stableText } from '../../src/case/same-value.ts'
import type { EntryId } from '../../src/ids.ts'
import type { PartFacts } from '../case/case-part.ts'
import { sayInFull } from '../case/say-in-full.ts'
import { optionLabel, ownUnit, sayReading, sayWho } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'

/** A value as a statement gives it, or as an option comes to. */
export const sayAnswer = (field: FieldName, value: unknown, { view, context }: PartFacts): string =>
  fieldOf(field).kind === 'measure' && typeof value === 'object' && value !== null
    ? sayReading(value as Reading)
    : sayInFull(field, value, view, context.catalogue)

/** A number large with a small unit; longer answers as text. */
const valueTemplate = (name: FieldName, value: unknown, facts: PartFacts): TemplateResult => {
  const field = fieldOf(name)
  if (field.kind !== 'measure' || typeof value !== 'number')
    return html`<p class="value long">${sayAnswer(name, value, facts)}</p>`
  const unit = t(`unit.${ownUnit(field.quantity)}` as TextKey)
  return html`<p class="value">${currentSpeech().number(value)} <span class="unit">${unit}</span></p>`
}

/** Who stated it, when by their phone's clock, and how it was measured. */
const headTemplate = (field: FieldName, head: Head, { app }: PartFacts, isNew: boolean): TemplateResult => {
  const member = app.casebook.crew().members.get(head.by)
  const who = sayWho(app.casebook, head.by)
  const reading = fieldOf(field).kind === 'measure' ? (head.value as Reading) : undefined
  const held = reading?.measuredBy
  const details = [
    currentSpeech().moment(head.at),
    reading?.how === undefined ? '' : optionLabel('how', reading.how).toLowerCase(),
    reading && (reading.less !== undefined || (reading.unit !== 'mm' && reading.unit !== 'kg'))
      ? sayReading(reading)
      : '',
    reading?.note ?? '',
  ].filter(part => part !== '')
  return html`<div class="head">
    <p class="who">${held ?? who}</p>
    ${held === undefined ? nothing : html`<p>${t('difference.typedBy', { who })}</p>`}
    ${member ? html`<p>${t(`settings.role ${member.role}`)}</p>` : nothing}
    <p>${currentSpeech().series(details)}</p>
    ${head.why === undefined ? nothing : html`<p dir="auto">${t('difference.saidWhy', { why: head.why })}</p>`}
    ${isNew ? html`<p class="mark calls">${t('difference.arrived')}</p>` : nothing}
  </div>`
}

/** Every value side by side. `stood`: what was on screen when somebody began to decide; what is not among it came since. */
export const optionsTemplate = (
  { field, options }: WeighedDifference,
  facts: PartFacts,
  stood: readonly EntryId[] | undefined,
): TemplateResult => html`<p class="lead">${t('difference.apart', { count: options.length })}</p>
  <ul class="options">
    ${options.map(
      option => html`<li class="option">
        ${valueTemplate(field, option.value, facts)}
        ${option.heads.map(head => headTemplate(field, head, facts, stood?.includes(head.id) === false))}
      </li>`,
    )}
  </ul>`

const agrees = (name: NamesOfKind<'measure'>, reading: Reading, { value, heads }: DifferenceOption): boolean =>
  Math.abs(readingValue(name, reading) - Number(value)) <=
  repeatTolerance(name, [reading, ...heads.map(head => head.value as Reading)])

/** What a value taken anew agrees with, in words: within the tolerance of repeats, or the same answer. */
export const comparedTemplate = (
  { field: name, options }: WeighedDifference,
  value: unknown,
  facts: PartFacts,
): TemplateResult => {
  const field = fieldOf(name)
  const same = options.filter(option =>
    field.kind === 'measure'
      ? agrees(name as NamesOfKind<'measure'>, value as Reading, option)
      : stableText(option.value) === stableText(value),
  )
  const said = currentSpeech().list(same.map(option => sayAnswer(name, option.value, facts)))
  return html`<p role="status">
    ${same.length === 0 ? t('difference.againNew') : t('difference.againAgrees', { option: said })}
  </p>`
}
