import { css, html, nothing, type TemplateResult } from 'lit'
import type { FieldValue } from '../../src/case/fields.ts'
import { optionLabel, yesOrNo } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { FieldElement } from './field-element.ts'

type Agreement = FieldValue<'toldAndAgreed'>
const WHO = ['person', 'guardian', 'relative'] as const

/** What the person was told about this record and who agreed for whom; a no is an answer, and is kept. */
export class SpokeAgreement extends FieldElement<'toldAndAgreed'> {
  static override styles = [...FieldElement.styles, css`.part + .part { margin-block-start: var(--space-4); }`]

  /** What is answered so far; the save asks for the rest. */
  get #answers(): Partial<Agreement> {
    return this.shown ?? {}
  }

  #say(change: Partial<Agreement>): void {
    const on = this.#answers.on ?? this.app?.today()
    this.change({ ...(on ? { on } : {}), ...this.#answers, ...change } as Agreement)
  }

  #sayName(typed: string): void {
    const { byName: _, ...rest } = this.#answers
    this.change((typed.trim() === '' ? rest : { ...rest, byName: typed }) as Agreement)
  }

  protected override renderControl(): TemplateResult {
    const { told, agreed, by, byName } = this.#answers
    return html`<div role="group" aria-label=${this.labelText}>
      ${this.#renderYesOrNo('told', t('form.told'), told)} ${this.#renderYesOrNo('agreed', t('form.agreed'), agreed)}
      <fieldset class="part">
        <legend>${t('form.agreedBy')}</legend>
        <div class="answers">
          ${WHO.map(
            who => html`<label class="answer">
              <input type="radio" name="by" .checked=${by === who} @change=${() => this.#say({ by: who })} />
              <span class="name">${optionLabel('toldAndAgreed', who)}</span>
            </label>`,
          )}
        </div>
      </fieldset>
      ${
        by === undefined || by === 'person'
          ? nothing
          : html`<div class="part">
              <label class="label" for="by-name">${t('form.agreedName')}</label>
              <input
                id="by-name"
                maxlength="120"
                dir="auto"
                autocomplete="off"
                .value=${byName ?? ''}
                @input=${(event: Event) => this.#sayName((event.target as HTMLInputElement).value)}
              />
            </div>`
      }
    </div>`
  }

  #renderYesOrNo(part: 'told' | 'agreed', words: string, answer: boolean | undefined): TemplateResult {
    return html`<fieldset class="part">
      <legend>${words}</legend>
      <div class="answers">
        ${[true, false].map(
          value => html`<label class="answer">
            <input type="radio" name=${part} .checked=${answer === value} @change=${() => this.#say({ [part]: value })} />
            <span class="name">${yesOrNo(value)}</span>
          </label>`,
        )}
      </div>
    </fieldset>`
  }
}

customElements.define('spoke-agreement', SpokeAgreement)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-agreement': SpokeAgreement
  }
}
