import { html, nothing, type TemplateResult } from 'lit'
import { mostCharacters } from '../controllers/form-controller.ts'
import { FieldElement } from './field-element.ts'

/** From so many characters on, a field is written over several lines. */
const SEVERAL_LINES = 300

/** Free text; long answers over several lines. Each keystroke goes into the draft. */
export class SpokeText extends FieldElement {
  readonly #handleInput = (event: Event): void => {
    const typed = (event.target as HTMLInputElement).value
    const nothingStands = (this.view?.heads[this.name] ?? []).length === 0
    this.change((typed.trim() === '' ? (nothingStands ? undefined : '') : typed) as never)
  }

  protected override renderControl(): TemplateResult {
    const most = mostCharacters(this.name) ?? 200
    const value = String(this.shown ?? '')
    const describedBy = this.error === '' ? nothing : 'error'
    const invalid = this.error !== ''
    return html`<label class="label" for="text">${this.labelText}</label>
      ${
        most > SEVERAL_LINES
          ? html`<textarea
              id="text"
              rows="3"
              maxlength=${most}
              dir="auto"
              aria-describedby=${describedBy}
              aria-invalid=${invalid}
              .value=${value}
              @input=${this.#handleInput}
            ></textarea>`
          : html`<input
              id="text"
              maxlength=${most}
              dir="auto"
              autocomplete="off"
              inputmode=${this.name === 'telephone' ? 'tel' : 'text'}
              aria-describedby=${describedBy}
              aria-invalid=${invalid}
              .value=${value}
              @input=${this.#handleInput}
            />`
      }`
  }
}

customElements.define('spoke-text', SpokeText)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-text': SpokeText
  }
}
