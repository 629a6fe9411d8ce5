import { html, nothing, type TemplateResult } from 'lit'
import { FieldElement } from './field-element.ts'
import { readTyped } from './typed-number.ts'

/** A whole number that is no measure, such as a year. */
export class SpokeNumber extends FieldElement {
  readonly #handleInput = (event: Event): void => {
    const text = (event.target as HTMLInputElement).value
    this.change((text.trim() === '' ? undefined : (readTyped(text) ?? text)) as never)
  }

  protected override renderControl(): TemplateResult {
    return html`<label class="label" for="number">${this.labelText}</label>
      <input
        id="number"
        class="number"
        inputmode="numeric"
        autocomplete="off"
        maxlength="8"
        aria-describedby=${this.error === '' ? nothing : 'error'}
        aria-invalid=${this.error !== ''}
        .value=${String(this.shown ?? '')}
        @input=${this.#handleInput}
      />`
  }
}

customElements.define('spoke-number', SpokeNumber)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-number': SpokeNumber
  }
}
