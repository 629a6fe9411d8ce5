import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import { type FieldName, fieldOf, type NamesOfKind } from '../../src/case/fields.ts'
import { appContext } from '../app/context.ts'
import { FormController } from '../controllers/form-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { fieldTemplate } from '../fields/field-template.ts'
import { base } from '../styles/tokens.ts'
import { en } from '../text/en/index.ts'
import { type TextKey, t } from '../text/text.ts'
import type { QuestionGroup } from './question-group.ts'

const LOSSES = ['limbLossLeft', 'limbLossRight', 'armLossLeft', 'armLossRight'] as const satisfies readonly FieldName[]
type NoField = NamesOfKind<'risk'> | (typeof LOSSES)[number]

const isLoss = (field: FieldName): field is (typeof LOSSES)[number] => (LOSSES as readonly FieldName[]).includes(field)
const isNoField = (field: FieldName): field is NoField => fieldOf(field).kind === 'risk' || isLoss(field)

/** The answers to one question were saved. */
export class QuestionSavedEvent extends Event {
  readonly key: string

  constructor(key: string) {
    super('question-saved', { bubbles: true, composed: true })
    this.key = key
  }
}

/** One open question: its fields, and their save. What is typed is kept whatever comes in or is closed. */
export class SpokeQuestion extends LitElement {
  static override styles = [
    base,
    css`
      :host { padding-block-end: var(--space-5); }
      .fields > * + * { margin-block-start: var(--space-5); }
      .fields > spoke-flag + spoke-flag { margin-block-start: var(--space-2); padding-block-start: var(--space-2); border-block-start: 1px solid var(--line); }
      .why { color: var(--ink-quiet); margin-block-end: var(--space-4); }
      .end { margin-block-start: var(--space-5); display: grid; gap: var(--space-2); }
      .end .quiet { justify-self: start; }
    `,
  ]
  static override properties = {
    view: { attribute: false },
    group: { attribute: false },
    form: { attribute: false },
  }
  declare view: CaseView | undefined
  declare group: QuestionGroup | undefined
  /** Name of the draft within the case. */
  declare form: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #form = new FormController(this)

  constructor() {
    super()
    this.form = ''
    new SpeechController(this)
  }

  override willUpdate(): void {
    this.#form.show(this.#app.value, this.view, this.form)
  }

  /** Questions of yes or no, and of what is missing, that nobody has answered. */
  get #unanswered(): readonly NoField[] {
    const { view, group } = this
    return (group?.fields ?? []).filter(isNoField).filter(field => !this.#form.draft.has(field) && !view?.heads[field])
  }

  readonly #handleNone = (): void => {
    for (const field of this.#unanswered) this.#form.set(field, isLoss(field) ? null : false)
  }

  readonly #handleSave = async (): Promise<void> => {
    const { group } = this
    if ((await this.#form.save()) && group) this.dispatchEvent(new QuestionSavedEvent(group.key))
  }

  override render(): TemplateResult {
    const { view, group } = this
    if (!view || !group) return html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    const { draft } = this.#form
    const last = group.fields.findLast(isNoField)
    return html`${
      Object.hasOwn(en.askHint, group.key) ? html`<p class="why">${t(`askHint.${group.key}` as TextKey)}</p>` : nothing
    }
      <div class="fields" @field-change=${this.#form.handleChange} @risk-lower=${this.#form.handleLower}>
        ${group.fields.map(field => [
          fieldTemplate(field, { view, edit: draft.edit(field), error: this.#form.errorOf(field) }),
          field === last && this.#unanswered.length > 1
            ? html`<button type="button" @click=${this.#handleNone}>${t(isLoss(field) ? 'form.nothingMissing' : 'form.noneOfThese')}</button>`
            : nothing,
        ])}
      </div>
      ${this.#renderEnd()}`
  }

  #renderEnd(): TemplateResult {
    const { state, draft } = this.#form
    const count = draft.fields.length
    const saving = state.status === 'saving'
    return html`<div class="end">
      ${
        state.status === 'failed' && state.field === null
          ? html`<p class="error" role="alert">${state.message}</p>`
          : nothing
      }
      <button type="button" class="main" aria-disabled=${saving} @click=${this.#handleSave}>
        ${saving ? t('form.saving') : count === 0 ? t('form.save') : t('form.saveCount', { count })}
      </button>
      ${
        count > 0
          ? html`<button type="button" class="quiet" @click=${() => this.#form.drop()}>${t('form.drop')}</button>`
          : nothing
      }
    </div>`
  }
}

customElements.define('spoke-question', SpokeQuestion)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-question': SpokeQuestion
  }
  interface HTMLElementEventMap {
    'question-saved': QuestionSavedEvent
  }
}
