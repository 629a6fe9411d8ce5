import { css, html, nothing, type TemplateResult } from 'lit'
import { keepWords, keptWords } from '../controllers/kept-words.ts'
import { yesOrNo } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { FieldElement } from './field-element.ts'
import { RiskLowerEvent } from './field-events.ts'

/**
 * A risk: no or yes. A recorded yes is never simply taken back: "no" asks what was seen or done, and only that, saved as
 * its own decision, lowers it (B6).
 */
export class SpokeFlag extends FieldElement {
  static override styles = [
    ...FieldElement.styles,
    css`
      fieldset { display: flex; flex-wrap: wrap; align-items: center; gap: var(--space-2) var(--space-3); }
      legend { float: inline-start; flex: 1 1 9rem; margin: 0; font-weight: 400; }
      :host([raised]) legend { font-weight: 700; }
      .pair { display: flex; flex-wrap: wrap; gap: var(--space-2); flex: 0 1 auto; min-inline-size: 0; }
      .answer { min-inline-size: 4.75rem; gap: 0 var(--space-2); padding-inline: var(--space-2); }
      .lower { inline-size: 100%; }
      .lower > * + * { margin-block-start: var(--space-2); }
      .row { display: flex; flex-wrap: wrap; gap: var(--space-2); }
    `,
  ]
  static override properties = {
    ...FieldElement.properties,
    raised: { type: Boolean, reflect: true },
    lowering: { state: true },
    needsWhy: { state: true },
  }
  declare raised: boolean
  declare lowering: boolean
  declare needsWhy: boolean

  constructor() {
    super()
    this.raised = false
    this.lowering = false
    this.needsWhy = false
  }

  override willUpdate(): void {
    this.raised = this.shown === true
    if (this.recorded === true) this.lowering ||= this.#why !== ''
    // Somebody else lowered it meanwhile, or it was saved: what was typed as the reason has served.
    else if (this.lowering) this.#leave()
  }

  #answer(value: boolean): void {
    if (!value && this.recorded === true) {
      this.lowering = true
      return
    }
    this.#leave()
    this.change((value === this.recorded ? undefined : value) as never)
  }

  #lower(): void {
    const why = this.#why.trim()
    this.needsWhy = why === ''
    if (!this.needsWhy) this.dispatchEvent(new RiskLowerEvent(this.name, why))
  }

  #leave(): void {
    this.lowering = false
    this.#say('')
  }

  get #why(): string {
    const { app, view } = this
    return app && view ? keptWords(app.casebook, view.caseId, `lower ${this.name}`) : ''
  }

  #say(why: string): void {
    const { app, view } = this
    if (app && view) keepWords(app.casebook, view.caseId, `lower ${this.name}`, why)
  }

  protected override renderControl(): TemplateResult {
    return html`<fieldset>
        <legend>${this.labelText}</legend>
        <div class="pair">${[false, true].map(value => this.#renderAnswer(value))}</div>
      </fieldset>
      ${this.lowering ? this.#renderLowering() : nothing}`
  }

  #renderAnswer(value: boolean): TemplateResult {
    const checked = this.lowering ? !value : this.shown === value
    return html`<label class="answer">
      <input type="radio" name="answer" .checked=${checked} @change=${() => this.#answer(value)} />
      <span class="name">${yesOrNo(value)}</span>
    </label>`
  }

  #renderLowering(): TemplateResult {
    return html`<div class="notice warn below lower">
      <label for="why">${t('form.lowerAsk')}</label>
      <textarea
        id="why"
        rows="2"
        maxlength="2000"
        dir="auto"
        aria-invalid=${this.needsWhy}
        aria-describedby=${this.needsWhy ? 'needs' : nothing}
        .value=${this.#why}
        @input=${(event: Event) => {
          this.#say((event.target as HTMLTextAreaElement).value)
          this.needsWhy = false
        }}
      ></textarea>
      ${this.needsWhy ? html`<p class="error" id="needs">${t('form.lowerNeeds')}</p>` : nothing}
      <div class="row">
        <button type="button" @click=${this.#lower}>${t('form.lowerSave')}</button>
        <button
          type="button"
          class="quiet"
          @click=${this.#leave}
        >
          ${t('form.lowerCancel')}
        </button>
      </div>
    </div>`
  }
}

customElements.define('spoke-flag', SpokeFlag)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-flag': SpokeFlag
  }
}
