import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import { appContext, type Route } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { CaseController, type CaseState } from '../controllers/case-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { currentSpeech, LANGUAGES, type Language, type Speech, speechIn, t } from '../text/text.ts'
import '../case/handover/spoke-chair-label.ts'
import { PAGE_RULES } from './paper-styles.ts'
import { languageName, languageSpoken } from './spoken-language.ts'
import './spoke-paper-build-sheet.ts'
import './spoke-paper-day.ts'
import './spoke-paper-handover.ts'
import './spoke-paper-summary.ts'

export type PaperKind = Extract<Route, { page: 'print' }>['what']

const TITLES = {
  'build-sheet': 'paper.buildSheet',
  handover: 'paper.handover',
  summary: 'paper.summary',
  label: 'paper.label',
  day: 'paper.day',
} as const satisfies Readonly<Record<PaperKind, string>>
const OF_ONE_CASE: readonly PaperKind[] = ['build-sheet', 'handover', 'summary', 'label']

/**
 * The page that a sheet is printed from: what is on screen is what comes out of the printer, less the bar above it. The
 * handover sheet speaks the language of the person, guessed from what is written down and chosen here.
 */
export class SpokePaper extends LitElement {
  static override styles = [
    base,
    css`
      .bar { display: grid; gap: var(--space-3); padding: var(--space-4); border-block-end: 1px solid var(--line); max-inline-size: 190mm; margin-inline: auto; }
      .others { display: flex; flex-wrap: wrap; gap: 0 var(--space-4); }
      .others a { display: inline-flex; align-items: center; min-block-size: var(--target); }
      .others a[aria-current] { font-weight: 700; text-decoration: none; color: var(--ink); }
      .state { padding: var(--space-5) var(--space-4); }
      @media print { .bar { display: none; } }
    `,
  ]
  static override properties = {
    what: {},
    caseId: { attribute: false },
    speech: { state: true },
    languageFailure: { state: true },
  }
  declare what: PaperKind
  declare caseId: CaseId | null
  /** Chosen by hand for this sheet. */
  declare speech: Speech | undefined
  declare languageFailure: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #case = new CaseController(this)
  readonly #pageRules = new CSSStyleSheet()
  #speechFor: CaseId | null = null

  constructor() {
    super()
    this.what = 'day'
    this.caseId = null
    this.languageFailure = ''
    this.#pageRules.replaceSync(PAGE_RULES)
    new SpeechController(this)
  }

  override connectedCallback(): void {
    super.connectedCallback()
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, this.#pageRules]
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter(sheet => sheet !== this.#pageRules)
  }

  override willUpdate(): void {
    this.#case.show(this.#app.value, this.caseId ?? undefined)
    const { state } = this.#case
    if (this.what !== 'handover' || state.status !== 'there' || this.#speechFor === state.view.caseId) return
    this.#speechFor = state.view.caseId
    this.speech = undefined
    const spoken = languageSpoken(state.view.values.spokenLanguage)
    if (spoken) void this.#speak(spoken)
  }

  async #speak(language: Language): Promise<void> {
    try {
      this.speech = await speechIn(language)
      this.languageFailure = ''
    } catch (error) {
      this.languageFailure = t('app.failed', { reason: sayError(error) })
    }
  }

  override render(): TemplateResult {
    return html`${this.#renderBar()}
      ${this.languageFailure === '' ? nothing : html`<p class="state error" role="alert">${this.languageFailure}</p>`}
      ${this.what === 'day' ? html`<spoke-paper-day></spoke-paper-day>` : this.#renderState(this.#case.state)}`
  }

  #renderBar(): TemplateResult {
    const { caseId } = this
    const isThere = this.what === 'day' || this.#case.state.status === 'there'
    return html`<div class="bar">
      <nav class="others" aria-label=${t('paper.otherSheets')}>
        <a href=${caseId ? addressOf({ page: 'case', caseId, section: null }) : addressOf({ page: 'people' })}>
          ${t(caseId ? 'paper.back' : 'paper.backToPeople')}
        </a>
        ${
          caseId
            ? OF_ONE_CASE.map(
                what =>
                  html`<a
                    href=${addressOf({ page: 'print', what, caseId })}
                    aria-current=${what === this.what ? 'page' : nothing}
                    >${t(TITLES[what])}</a
                  >`,
              )
            : nothing
        }
      </nav>
      ${this.what === 'handover' && isThere && LANGUAGES.length > 1 ? this.#renderLanguages() : nothing}
      ${isThere ? html`<button class="main" @click=${() => print()}>${t('paper.print')}</button>` : nothing}
    </div>`
  }

  #renderLanguages(): TemplateResult {
    const chosen = (this.speech ?? currentSpeech()).language
    return html`<div>
      <label for="language">${t('paper.language')}</label>
      <select
        id="language"
        @change=${(event: Event) => this.#speak((event.target as HTMLSelectElement).value as Language)}
      >
        ${LANGUAGES.map(
          language =>
            html`<option value=${language} lang=${language} .selected=${language === chosen}>${languageName(language)}</option>`,
        )}
      </select>
    </div>`
  }

  #renderState(state: CaseState): TemplateResult {
    switch (state.status) {
      case 'nothing':
        return html`<p class="state">${t('paper.nobody')}</p>`
      case 'loading':
        return html`<p class="state quiet" aria-busy="true">${t('app.loading')}</p>`
      case 'failed':
        return html`<p class="state error" role="alert">${t('app.failed', { reason: state.reason })}</p>`
      case 'there':
        return this.#renderSheet(state)
    }
  }

  #renderSheet({ view, outcome }: Extract<CaseState, { status: 'there' }>): TemplateResult {
    switch (this.what) {
      case 'build-sheet':
        return html`<spoke-paper-build-sheet .view=${view} .outcome=${outcome}></spoke-paper-build-sheet>`
      case 'handover':
        return html`<spoke-paper-handover .view=${view} .outcome=${outcome} .speech=${this.speech}></spoke-paper-handover>`
      case 'summary':
        return html`<spoke-paper-summary .view=${view} .outcome=${outcome}></spoke-paper-summary>`
      case 'label':
        return html`<div class="state"><spoke-chair-label .view=${view} .outcome=${outcome}></spoke-chair-label></div>`
      case 'day':
        return html``
    }
  }
}

customElements.define('spoke-paper', SpokePaper)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper': SpokePaper
  }
}
