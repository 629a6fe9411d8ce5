import { html, nothing, type TemplateResult } from 'lit'
import { t } from '../text/text.ts'
import { FieldElement } from './field-element.ts'

/** A day, by the device's own way of giving one. Half a date stays on screen and is said to be half a date. */
export class SpokeDate extends FieldElement {
  static override properties = { ...FieldElement.properties, half: { state: true } }
  declare half: boolean

  constructor() {
    super()
    this.half = false
  }

  readonly #handleInput = (event: Event): void => {
    const input = event.target as HTMLInputElement
    this.half = input.validity.badInput
    if (!this.half) this.change((input.value === '' ? undefined : input.value) as never)
  }

  protected override renderControl(): TemplateResult {
    const today = this.app?.today()
    const value = String(this.shown ?? '')
    const future = today !== undefined && value > today
    const problem = this.half ? t('form.notADate') : future ? t('form.dateAfterToday') : ''
    return html`<label class="label" for="day">${this.labelText}</label>
      <input
        id="day"
        type="date"
        min="1900-01-01"
        max=${today ?? nothing}
        aria-describedby=${problem !== '' ? 'problem' : this.error === '' ? nothing : 'error'}
        aria-invalid=${problem !== '' || this.error !== ''}
        .value=${value}
        @input=${this.#handleInput}
      />
      ${problem === '' ? nothing : html`<p class="error" id="problem">${problem}</p>`}`
  }
}

customElements.define('spoke-date', SpokeDate)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-date': SpokeDate
  }
}
