import { html, type TemplateResult } from 'lit'
import type { WEIGHED_WITH } from '../../src/case/fields.ts'
import { readingValue } from '../../src/case/fields.ts'
import { roundHalfUp } from '../../src/units.ts'
import { sayMeasure } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { readTyped } from './typed-number.ts'

/** Two weighings as typed: together, and what was on the scale too, alone. */
export interface Weighing {
  readonly typed: string
  readonly less: string
}
export type Typed = { -readonly [Part in keyof Weighing]?: string }

interface WeighingControl {
  readonly weighing: Weighing
  readonly how: keyof typeof WEIGHED_WITH
  readonly unit: string
  readonly pad: boolean
  readonly turn: keyof Weighing
  readonly hasError: boolean
  readonly choice: TemplateResult
  say(typed: Typed): void
  turnTo(part: keyof Weighing): void
}

const LABELS = {
  'scale-in-chair': { typed: 'measuring.personAndChair', less: 'measuring.chairAlone' },
  'scale-in-arms': { typed: 'measuring.adultAndChild', less: 'measuring.adultAlone' },
} as const

/** Two numbers one below the other as on paper, the unit beside the first, what lies between them below. */
export const weighingTemplate = (control: WeighingControl): TemplateResult => {
  const { weighing, how, unit, pad, turn, hasError, choice, say, turnTo } = control
  const [together, alone] = [readTyped(weighing.typed), readTyped(weighing.less)]
  const between = together !== undefined && alone !== undefined && alone < together
  const input = (
    name: keyof Weighing,
  ): TemplateResult => html`<div class="weighed ${pad && turn === name ? 'now' : ''}">
    <label class="label" for=${name}>${t(LABELS[how][name])}</label>
    <input
      id=${name}
      class="number"
      inputmode=${pad ? 'none' : 'decimal'}
      autocomplete="off"
      maxlength="9"
      aria-describedby="own ${hasError ? 'error' : ''}"
      aria-invalid=${hasError}
      .value=${weighing[name]}
      @focus=${() => turnTo(name)}
      @input=${(event: Event) => say({ [name]: (event.target as HTMLInputElement).value })}
    />
  </div>`
  return html`<div class="weighing">${input('typed')} ${input('less')}</div>
    <div class="line sum">
      <p class="own" id="own" role="status">
        ${
          between
            ? t('measuring.personIs', {
                value: sayMeasure(
                  'massKg',
                  roundHalfUp(readingValue('massKg', { typed: together, less: alone, unit }), 0.1),
                ),
              })
            : t('measuring.bothNeeded')
        }
      </p>
      ${choice}
    </div>`
}
