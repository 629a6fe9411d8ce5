import { html, nothing, type TemplateResult } from 'lit'
import { optionLabel } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { answersOf } from './answers-of.ts'
import { FieldElement } from './field-element.ts'

/** Any of the answers that the registry names, each a large native checkbox; "none" where an empty list is an answer. */
export class SpokeMany extends FieldElement {
  get #chosen(): readonly string[] | undefined {
    return this.shown as readonly string[] | undefined
  }

  #toggle(answer: string, on: boolean): void {
    const { options, none } = answersOf(this.name)
    const chosen = options.filter(one => (one === answer ? on : (this.#chosen ?? []).includes(one)))
    // Taking away the last one is taking back what was typed, unless "none" is an answer.
    this.change((chosen.length === 0 && !none ? undefined : chosen) as never)
    this.requestUpdate()
  }

  protected override renderControl(): TemplateResult {
    const { options, none } = answersOf(this.name)
    const chosen = this.#chosen
    return html`<fieldset aria-describedby=${this.error === '' ? nothing : 'error'}>
      <legend>${this.labelText}</legend>
      <div class="answers">
        ${options.map(answer =>
          this.#renderAnswer(optionLabel(this.name, answer), chosen?.includes(answer) ?? false, on =>
            this.#toggle(answer, on),
          ),
        )}
        ${none ? this.#renderAnswer(t('option.none'), chosen?.length === 0, () => this.change([] as never)) : nothing}
      </div>
    </fieldset>`
  }

  #renderAnswer(words: string, checked: boolean, whenChanged: (on: boolean) => void): TemplateResult {
    return html`<label class="answer">
      <input
        type="checkbox"
        .checked=${checked}
        @change=${(event: Event) => whenChanged((event.target as HTMLInputElement).checked)}
      />
      <span class="name">${words}</span>
    </label>`
  }
}

customElements.define('spoke-many', SpokeMany)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-many': SpokeMany
  }
}
