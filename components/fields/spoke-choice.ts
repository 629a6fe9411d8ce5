import { html, nothing, type TemplateResult } from 'lit'
import { optionHint, optionLabel, yesOrNo } from '../text/say-value.ts'
import { answersOf, isYesOrNo } from './answers-of.ts'
import { FieldElement } from './field-element.ts'

interface Option {
  readonly value: unknown
  readonly words: string
  readonly hint: string | undefined
}

/** One answer out of the few that the registry names (or yes and no), each a large native radio. */
export class SpokeChoice extends FieldElement {
  get #options(): readonly Option[] {
    if (isYesOrNo(this.name)) return [true, false].map(value => ({ value, words: yesOrNo(value), hint: undefined }))
    const { options, none } = answersOf(this.name)
    const words = options.map(value => ({
      value,
      words: optionLabel(this.name, value),
      hint: optionHint(this.name, value),
    }))
    return none ? [{ value: null, words: optionLabel(this.name, 'none'), hint: undefined }, ...words] : words
  }

  protected override renderControl(): TemplateResult {
    const options = this.#options
    const hinted = options.some(option => option.hint !== undefined)
    return html`<fieldset aria-describedby=${this.error === '' ? nothing : 'error'}>
      <legend>${this.labelText}</legend>
      <div class="answers ${hinted ? 'hinted' : ''}">
        ${options.map(
          ({ value, words, hint }) => html`<label class="answer">
            <input
              type="radio"
              name="answer"
              .checked=${this.shown === value}
              @change=${() => this.change(value as never)}
            />
            <span class="name">${words}</span>
            ${hint === undefined ? nothing : html`<span class="hint">${hint}</span>`}
          </label>`,
        )}
      </div>
    </fieldset>`
  }
}

customElements.define('spoke-choice', SpokeChoice)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-choice': SpokeChoice
  }
}
