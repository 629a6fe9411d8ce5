import { html, nothing, type TemplateResult } from 'lit'
import type { WeighedDifference } from '../../src/case/differences.ts'
import { SET_UP_NAMES, setUpName } from '../case/say-set-up.ts'
import { inside } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { type Consequence, settingsWaiting } from './consequences.ts'

/** More than so many make no sentence; the rest stands in the list below. */
const NAMED = 2

/** With 394 mm: seat width 420 mm, rear axle hole 2 of 4. */
const sentenceFor = (option: string, index: number, consequences: readonly Consequence[]): string | undefined => {
  const [hold] = consequences.filter(one => one.kind === 'hold' && one.standsInTheWay && one.said[index] != null)
  const settings = consequences
    .filter(one => one.kind !== 'hold' && one.said[index] != null)
    .slice(0, NAMED)
    .map(one => (one.setting === 'chair' ? `${one.said[index]}` : `${inside(one.name)} ${one.said[index]}`))
  if (settings.length > 0) return t('difference.gives', { option, what: currentSpeech().list(settings) })
  return hold ? t('difference.givesHold', { option, what: hold.said[index] ?? '' }) : undefined
}

const renderOne = (one: Consequence, options: readonly string[]): TemplateResult => html`<div class="change">
  <dt>${one.name}${one.onlyWith === '' ? nothing : html` <span class="quiet">(${t('difference.onlyWith', { with: one.onlyWith })})</span>`}</dt>
  ${options.map(
    (option, index) =>
      html`<dd>${t('difference.optionValue', { option, value: one.said[index] ?? t('difference.nothing') })}</dd>`,
  )}
</div>`

/** What waits until a difference is settled, and what may go on. */
export const meanwhileTemplate = (
  effect: WeighedDifference['effect'],
  consequences: readonly Consequence[],
): TemplateResult => {
  const waiting = settingsWaiting(consequences)
  const sizeWaits = (['chair', 'seatWidthMm', 'seatDepth'] as const).some(name => waiting.has(name))
  const names = (wanted: boolean): string =>
    currentSpeech().list(
      SET_UP_NAMES.filter(name => name !== 'chair' && waiting.has(name) === wanted).map(name =>
        inside(setUpName(name)),
      ),
    )
  const rest =
    effect === 'changes' && !sizeWaits && waiting.size > 0
      ? [t('difference.goOnBuild', { settings: names(false) })]
      : []
  return html`<section class="meanwhile">
    <h3>${t('difference.meanwhile')}</h3>
    <div class="row">
      <span>${t('difference.handover')}</span>
      <span class="number">${t(effect === 'none' ? 'difference.handoverGoesOn' : 'difference.handoverWaits')}</span>
    </div>
    ${
      effect === 'none'
        ? html`<p class="quiet">${t('difference.nothingWaits')}</p>`
        : html`
            ${sizeWaits ? html`<p>${t('difference.sizeWaits')}</p>` : nothing}
            ${!sizeWaits && waiting.size > 0 ? html`<p>${t('difference.wait', { settings: names(true) })}</p>` : nothing}
            <p class="quiet">${t('difference.goOn', { what: currentSpeech().series([...rest, t('difference.goOnElse')]) })}</p>
          `
    }
  </section>`
}

/** Whether a difference matters, and what each answer would change. */
export const weighingTemplate = (
  effect: WeighedDifference['effect'],
  consequences: readonly Consequence[],
  options: readonly string[],
): TemplateResult => {
  if (effect === 'none')
    return html`<p class="notice"><strong>${t('difference.mattersNot')}</strong> ${t('difference.mattersNotWhy')}</p>`
  const sentences = options.map((option, index) => sentenceFor(option, index, consequences))
  return html`<div class="notice warn">
      <p>
        <strong>${t('difference.matters')}</strong>
        ${effect === 'too-many' ? t('difference.tooMany') : nothing}
      </p>
      ${effect === 'too-many' ? html`<p>${t('difference.tooManyHint')}</p>` : nothing}
      ${
        effect === 'changes'
          ? options.map((option, index) => html`<p>${sentences[index] ?? t('difference.givesNothing', { option })}</p>`)
          : nothing
      }
    </div>
    ${
      consequences.length > NAMED
        ? html`<details>
            <summary>${t('difference.all', { count: consequences.length })}</summary>
            <dl>${consequences.map(one => renderOne(one, options))}</dl>
          </details>`
        : nothing
    }`
}
