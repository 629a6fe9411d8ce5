import { ContextConsumer } from '@lit/context'
import { html, LitElement, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import type { SharedContext } from '../../src/crew/shared-context.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { type AppContext, appContext } from '../app/context.ts'
import { keepWords, keptWords } from '../controllers/kept-words.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { fieldStyles } from '../styles/field-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { partStyles } from './part-styles.ts'

/** Everything that a part of a case is shown from, once it is there. */
export interface PartFacts {
  readonly app: AppContext
  readonly view: CaseView
  readonly outcome: Outcome
  readonly context: SharedContext
}

/**
 * What the later parts of a case have in common: the case as it stands comes in as properties, the app by context. Until
 * both are there it says that it opens; what goes wrong while showing is said in words instead of an empty page.
 */
export abstract class CasePart extends LitElement {
  static override styles = [base, fieldStyles, partStyles]
  static override properties: Record<string, object> = { view: { attribute: false }, outcome: { attribute: false } }
  declare view: CaseView | undefined
  declare outcome: Outcome | undefined

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    new SpeechController(this)
  }

  protected get app(): AppContext | undefined {
    return this.#app.value
  }

  protected get facts(): PartFacts | undefined {
    const { app, view, outcome } = this
    return app && view && outcome ? { app, view, outcome, context: app.casebook.context() } : undefined
  }

  /** Words typed along with an act, kept until it is done. */
  protected words(form: string): string {
    const { app, view } = this
    return app && view ? keptWords(app.casebook, view.caseId, form) : ''
  }

  protected keep(form: string, words: string): void {
    const { app, view } = this
    if (!app || !view) return
    keepWords(app.casebook, view.caseId, form, words)
    this.requestUpdate()
  }

  /** The case is here: what there is to see and to do. Says itself where nothing is there yet. */
  protected abstract renderPart(facts: PartFacts): TemplateResult

  override render(): TemplateResult {
    const { facts } = this
    if (!facts) return html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    try {
      return this.renderPart(facts)
    } catch (error) {
      return html`<p class="error" role="alert">${t('app.failed', { reason: sayError(error) })}</p>`
    }
  }
}
