import { html, nothing, type TemplateResult } from 'lit'
import type { WeighedDifference } from '../../src/case/differences.ts'
import { type FieldName, fieldOf } from '../../src/case/fields.ts'
import { announce } from '../app/announce.ts'
import { focusFirstError, textControl } from '../case/answers.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import type { FieldChangeEvent } from '../fields/field-events.ts'
import { en } from '../text/en/index.ts'
import { fieldLabel } from '../text/say-value.ts'
import { type TextKey, t } from '../text/text.ts'
import { answerAnew, canAnswerAnew } from './answer-anew.ts'
import { consequencesOf } from './consequences.ts'
import { differenceStyles } from './difference-styles.ts'
import { comparedTemplate, optionsTemplate, sayAnswer } from './options-template.ts'
import { beginSettling, type Settling, settlingOf } from './settling.ts'
import { meanwhileTemplate, weighingTemplate } from './weighing-template.ts'

/**
 * One difference: every value with who, when and how; whether it matters and what each would change; the ways to end it;
 * what waits meanwhile. Measuring again hides the earlier values. Nothing is settled without a reason or a new value.
 */
export class SpokeDifference extends CasePart {
  static override styles = [...CasePart.styles, differenceStyles]
  static override properties = {
    ...CasePart.properties,
    field: {},
    error: { state: true },
    failure: { state: true },
    saving: { state: true },
  }
  declare field: FieldName
  declare error: string
  declare failure: string
  declare saving: boolean

  constructor() {
    super()
    this.error = ''
    this.failure = ''
    this.saving = false
  }

  get #settling(): Settling | undefined {
    const { app, view } = this
    return app && view ? settlingOf(app.casebook, view.caseId, this.field) : undefined
  }

  get #isMeasure(): boolean {
    return fieldOf(this.field).kind === 'measure'
  }

  async #begin(way: 'keep' | 'again', value?: unknown): Promise<void> {
    const { app, view } = this
    if (!app || !view) return
    const settling = beginSettling(app.casebook, view, this.field, way)
    if (way === 'keep') settling.answer(value, view)
    this.error = ''
    this.failure = ''
    this.requestUpdate()
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('.settle')?.focus()
  }

  #leave(): void {
    this.#settling?.end()
    this.error = ''
    this.failure = ''
    this.requestUpdate()
  }

  readonly #handleChange = (event: FieldChangeEvent): void => {
    event.stopPropagation()
    const { view } = this
    const settling = this.#settling
    if (!view || !settling) return
    settling.answer(event.value, view)
    this.error = ''
    this.requestUpdate()
  }

  /** What is wrong with the decision in words; empty where it can be saved. */
  #problem(settling: Settling): string {
    if (settling.way === 'keep') return settling.why.trim() === '' ? t('difference.keepNeeded') : ''
    const { edit } = settling
    if (!edit) return t(this.#isMeasure ? 'difference.againNeeded' : 'difference.againAnswerNeeded')
    if (fieldOf(this.field).schema.safeParse(edit.value).success) return ''
    return t(this.#isMeasure ? 'form.notANumber' : 'difference.againAnswerNeeded')
  }

  async #save(facts: PartFacts, settling: Settling): Promise<void> {
    if (this.saving) return
    this.error = this.#problem(settling)
    this.failure = ''
    if (this.error !== '') {
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    this.saving = true
    const value = sayAnswer(this.field, settling.edit?.value, facts)
    const saved = await settling.save()
    this.saving = false
    if (!saved.ok) {
      this.failure = t('difference.notSaved', { reason: saved.message })
      return
    }
    settling.end()
    announce(t('difference.saved', { field: fieldLabel(this.field), value }))
    this.requestUpdate()
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const difference = facts.outcome.differences.find(one => one.field === this.field)
    const settling = this.#settling
    if (!difference)
      return settling
        ? html`${this.#renderSettledMeanwhile(facts)} ${this.#renderSettling(undefined, facts, settling)}`
        : html`<p class="quiet">${t('difference.none')}</p>`
    const consequences = consequencesOf(difference, facts.outcome, facts.context.catalogue)
    const options = difference.options.map(option => sayAnswer(this.field, option.value, facts))
    return html`
      ${settling?.way === 'again' ? nothing : optionsTemplate(difference, facts, settling?.stood)}
      ${settling?.way === 'again' ? nothing : weighingTemplate(difference.effect, consequences, options)}
      ${settling ? this.#renderSettling(difference, facts, settling) : this.#renderWays(difference, options)}
      ${settling ? nothing : meanwhileTemplate(difference.effect, consequences)}
    `
  }

  #renderSettledMeanwhile(facts: PartFacts): TemplateResult {
    const now = facts.view.values[this.field as keyof typeof facts.view.values]
    const value = now === undefined ? t('form.nobodyYet') : sayAnswer(this.field, now, facts)
    return html`<p class="notice warn">${t('difference.settledMeanwhile', { value })}</p>`
  }

  #renderWays({ options }: WeighedDifference, said: readonly string[]): TemplateResult {
    return html`<div class="ways">
      ${
        canAnswerAnew(this.field)
          ? html`<button class="main" @click=${() => this.#begin('again')}>
              ${t(this.#isMeasure ? 'difference.measureAgain' : 'difference.askAgain')}
            </button>`
          : nothing
      }
      ${options.map(
        (option, index) => html`<button @click=${() => this.#begin('keep', option.heads[0]?.value)}>
          ${t('difference.keep', { option: said[index] ?? '' })}
        </button>`,
      )}
    </div>`
  }

  #renderSettling(difference: WeighedDifference | undefined, facts: PartFacts, settling: Settling): TemplateResult {
    const again = settling.way === 'again'
    const option = settling.edit ? sayAnswer(this.field, settling.edit.value, facts) : ''
    const save = again ? t('difference.againSave') : t('difference.keepSave', { option })
    return html`<div class="settle" tabindex="-1" @field-change=${this.#handleChange}>
      ${again ? this.#renderAgain(difference, facts, settling) : this.#renderWhy(option, settling)}
      ${this.failure === '' ? nothing : html`<p class="error" role="alert">${this.failure}</p>`}
      <div class="actions">
        <button class="main" aria-busy=${this.saving} @click=${() => this.#save(facts, settling)}>
          ${this.saving ? t('form.saving') : save}
        </button>
        <button class="quiet" @click=${this.#leave}>${t('difference.keepLeave')}</button>
      </div>
    </div>`
  }

  #renderWhy(option: string, settling: Settling): TemplateResult {
    return textControl({
      id: 'why',
      label: t('difference.keepWhy', { option }),
      hint: t('difference.keepHint'),
      error: this.error,
      value: settling.why,
      most: 2000,
      lines: 3,
      change: why => {
        settling.say(why)
        this.error = ''
        this.requestUpdate()
      },
    })
  }

  /** Only once the new one is typed is it held against the earlier ones. */
  #renderAgain(difference: WeighedDifference | undefined, facts: PartFacts, settling: Settling): TemplateResult {
    const how = `how ${this.field}`
    const isTyped = settling.edit !== undefined && this.#problem(settling) === ''
    return html`<p>${t('difference.againLead')}</p>
      ${Object.hasOwn(en.measuring, how) ? html`<p class="lead">${t(`measuring.${how}` as TextKey)}</p>` : nothing}
      ${answerAnew(this.field, settling.edit, this.error)}
      ${difference && isTyped ? comparedTemplate(difference, settling.edit?.value, facts) : nothing}`
  }
}

customElements.define('spoke-difference', SpokeDifference)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-difference': SpokeDifference
  }
}
