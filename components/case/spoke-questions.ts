import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import { type FieldName, fieldOf, type Section } from '../../src/case/fields.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { appContext } from '../app/context.ts'
import { unsavedCount } from '../controllers/drafts.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { groupAnswer, isSaid } from './group-answer.ts'
import type { QuestionGroup } from './question-group.ts'
import { questionsStyles } from './questions-styles.ts'
import { sayFields } from './say-hold.ts'
import './spoke-question.ts'
import type { QuestionSavedEvent } from './spoke-question.ts'

/**
 * Questions of a part of the case, one open at a time, in any order. An answered one says its answer; saving opens the
 * next that nobody has answered.
 */
export class SpokeQuestions extends LitElement {
  static override styles = [base, questionsStyles]
  static override properties = {
    view: { attribute: false },
    outcome: { attribute: false },
    section: { attribute: false },
    groups: { attribute: false },
    openKey: { state: true },
    savedKey: { state: true },
  }
  declare view: CaseView | undefined
  declare outcome: Outcome | undefined
  declare section: Section
  declare groups: readonly QuestionGroup[]
  /** Undefined until the first look at the case; null when all are closed. */
  declare openKey: string | null | undefined
  declare savedKey: string | null

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.groups = []
    this.savedKey = null
    new SpeechController(this)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('view') as CaseView | undefined
    const otherCase = changed.has('view') && before?.caseId !== this.view?.caseId
    if (this.view && (this.openKey === undefined || otherCase)) this.openKey = this.#firstOpen()
  }

  #lacking({ fields }: QuestionGroup): readonly FieldName[] {
    const needs = this.outcome?.next.find(lack => lack.section === this.section)?.needs ?? []
    return fields.filter(field => needs.includes(field))
  }

  #typedIn(group: QuestionGroup): number {
    const app = this.#app.value
    return app && this.view ? unsavedCount(app.casebook, this.view.caseId, this.#formOf(group)) : 0
  }

  #formOf({ key }: QuestionGroup): string {
    return `${this.section} ${key}`
  }

  /** What is typed and not saved comes first, then what is needed, then what nobody has answered. */
  #firstOpen(after?: string): string | null {
    const { view } = this
    if (!view) return null
    const start = this.groups.findIndex(group => group.key === after) + 1
    const inTurn = [...this.groups.slice(start), ...this.groups.slice(0, start)].filter(group => group.key !== after)
    const next =
      inTurn.find(group => this.#typedIn(group) > 0) ??
      inTurn.find(group => this.#lacking(group).length > 0) ??
      inTurn.find(group => !group.fields.some(field => isSaid(view, field)))
    return next?.key ?? null
  }

  readonly #handleSaved = async (event: QuestionSavedEvent): Promise<void> => {
    this.savedKey = event.key
    this.openKey = this.#firstOpen(event.key)
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>(`[data-key="${this.openKey ?? event.key}"]`)?.focus()
  }

  /** What was open above closes: the question that was touched must not slip away. */
  async #toggle(key: string): Promise<void> {
    this.openKey = this.openKey === key ? null : key
    this.savedKey = null
    await this.updateComplete
    this.renderRoot.querySelector('.group.open h3')?.scrollIntoView({ block: 'nearest' })
  }

  override render(): TemplateResult {
    const { view, outcome } = this
    if (!view || !outcome) return html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    return html`${this.groups.map(group => this.#renderGroup(group, view))}`
  }

  #renderGroup(group: QuestionGroup, view: CaseView): TemplateResult {
    const open = this.openKey === group.key
    const typed = this.#typedIn(group)
    const answer = groupAnswer(view, group)
    const lacking = this.#lacking(group)
    return html`<div class="group ${open ? 'open' : ''}">
      <h3>
        <button type="button" data-key=${group.key} aria-expanded=${open} @click=${() => this.#toggle(group.key)}>
          <span class="ask">${t(`ask.${group.key}`)}</span>
          ${open ? nothing : this.#renderClosed(answer, lacking, typed, group.key)}
        </button>
      </h3>
      ${
        open
          ? html`<spoke-question
              .view=${view}
              .group=${group}
              .form=${this.#formOf(group)}
              @question-saved=${this.#handleSaved}
            ></spoke-question>`
          : nothing
      }
    </div>`
  }

  #renderClosed(answer: string, lacking: readonly FieldName[], typed: number, key: string): TemplateResult {
    return html`${answer === '' ? nothing : html`<span class="answer">${answer}</span>`}
      ${lacking.length > 0 ? html`<span class="lacks">${this.#sayLacking(lacking)}</span>` : nothing}
      ${typed > 0 ? html`<span class="typed">${t('form.unsaved', { count: typed })}</span>` : nothing}
      ${this.savedKey === key ? html`<span class="saved">${t('form.saved')}</span>` : nothing}`
  }

  #sayLacking(lacking: readonly FieldName[]): string {
    const risks = lacking.filter(field => fieldOf(field).kind === 'risk').length
    return risks > 1
      ? t('frame.left', { count: lacking.length })
      : t('form.stillNeeded', { fields: sayFields(lacking) })
  }
}

customElements.define('spoke-questions', SpokeQuestions)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-questions': SpokeQuestions
  }
}
