import { css, html, nothing, type TemplateResult } from 'lit'
import { LIMB_LOSS_LEVELS } from '../../src/body/person.ts'
import type { FieldValue } from '../../src/case/fields.ts'
import { optionLabel, yesOrNo } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { FieldElement } from './field-element.ts'

type LegName = 'limbLossLeft' | 'limbLossRight'
type Loss = FieldValue<LegName>

const STEP = 0.05
const LEAST = 0.05
const MOST = 0.95
const MIDDLE = 0.5

/** What of a leg is missing, how much of the cut part is left, and whether a prosthesis is worn in the chair. */
export class SpokeLimbLoss extends FieldElement<LegName> {
  static override styles = [
    ...FieldElement.styles,
    css`
      .left { display: flex; align-items: center; gap: var(--space-3); flex-wrap: wrap; }
      .left output { min-inline-size: 4.5rem; text-align: center; }
      .part { margin-block-start: var(--space-4); }
    `,
  ]

  get #loss(): Loss | undefined {
    return this.shown
  }

  #setLevel(level: NonNullable<Loss>['level'] | null): void {
    if (level === null) {
      this.change(null)
      return
    }
    const worn = this.#loss?.prosthesisWorn
    this.change({ level, ...(worn === undefined ? {} : { prosthesisWorn: worn }) })
  }

  #setLeft(remainingFraction: number): void {
    const loss = this.#loss
    if (loss)
      this.change({ ...loss, remainingFraction: Math.min(MOST, Math.max(LEAST, Number(remainingFraction.toFixed(2)))) })
  }

  #setWorn(prosthesisWorn: boolean): void {
    const loss = this.#loss
    if (loss) this.change({ ...loss, prosthesisWorn })
  }

  protected override renderControl(): TemplateResult {
    const loss = this.#loss
    return html`<fieldset aria-describedby=${this.error === '' ? nothing : 'error'}>
        <legend>${this.labelText}</legend>
        <div class="answers">
          ${[null, ...LIMB_LOSS_LEVELS].map(
            level => html`<label class="answer">
              <input
                type="radio"
                name="level"
                .checked=${level === null ? loss === null : loss?.level === level}
                @change=${() => this.#setLevel(level)}
              />
              <span class="name">${optionLabel('limbLoss', level ?? 'none')}</span>
            </label>`,
          )}
        </div>
      </fieldset>
      ${loss ? html`${this.#renderLeft(loss)} ${this.#renderWorn(loss)}` : nothing}`
  }

  #renderLeft({ level, remainingFraction: left }: NonNullable<Loss>): TemplateResult | typeof nothing {
    if (level !== 'transfemoral' && level !== 'transtibial') return nothing
    const words = t(level === 'transfemoral' ? 'form.howMuchThigh' : 'form.howMuchLeg')
    return html`<div class="part" role="group" aria-label=${words}>
      <p class="label">${words}</p>
      <div class="left">
        <button type="button" @click=${() => this.#setLeft((left ?? MIDDLE) - (left === undefined ? 0 : STEP))}>
          ${t('form.lessLeft')}
        </button>
        <output class="number">${left === undefined ? '?' : t('form.percent', { count: Math.round(left * 100) })}</output>
        <button type="button" @click=${() => this.#setLeft((left ?? MIDDLE) + (left === undefined ? 0 : STEP))}>
          ${t('form.moreLeft')}
        </button>
      </div>
    </div>`
  }

  #renderWorn({ prosthesisWorn }: NonNullable<Loss>): TemplateResult {
    return html`<fieldset class="part">
      <legend>${t('form.prosthesis')}</legend>
      <div class="answers">
        ${[true, false].map(
          worn => html`<label class="answer">
            <input type="radio" name="worn" .checked=${prosthesisWorn === worn} @change=${() => this.#setWorn(worn)} />
            <span class="name">${yesOrNo(worn)}</span>
          </label>`,
        )}
      </div>
    </fieldset>`
  }
}

customElements.define('spoke-limb-loss', SpokeLimbLoss)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-limb-loss': SpokeLimbLoss
  }
}
