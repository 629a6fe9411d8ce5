import { ContextConsumer } from '@lit/context'
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit'
import { isInGoodStanding } from '../../src/crew/crew.ts'
import type { Result } from '../../src/result.ts'
import { type AppCasebook, type AppContext, appContext } from '../app/context.ts'
import { settingsStyles } from '../app/settings-styles.ts'
import { focusFirstError } from '../case/answers.ts'
import { ActController } from '../controllers/act-controller.ts'
import { draftsOf } from '../controllers/drafts.ts'
import { FollowController } from '../controllers/follow-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { type Refusal, sayFailure } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { crewStyles } from './crew-styles.ts'

/** What the parts of the crew page have in common: the casebook, followed; one act at a time; what is typed is kept. */
export abstract class CrewPart extends LitElement {
  static override styles = [base, formStyles, settingsStyles, crewStyles]
  protected readonly act = new ActController(this)

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #casebook = new FollowController<AppCasebook>(
    this,
    (casebook, told) => casebook.subscribe(told),
    () => this.#changed(),
  )

  constructor() {
    super()
    new SpeechController(this)
  }

  override willUpdate(_changed: PropertyValues): void {
    this.#casebook.follow(this.#app.value?.casebook)
  }

  protected get app(): AppContext | undefined {
    return this.#app.value
  }

  /** Whether this device may say anything about the crew. */
  protected mayAct({ casebook }: AppContext): boolean {
    return isInGoodStanding(casebook.crew(), casebook.device)
  }

  /** One act; a refusal is said at `key`. True once the store has committed. */
  protected do(key: string, act: () => Promise<Result<unknown, Refusal>>): Promise<boolean> {
    return this.act.run(key, async () => {
      const result = await act()
      return result.ok ? { ok: true } : { ok: false, message: sayFailure(result.failure), field: null }
    })
  }

  /** Refuses in words, and puts the person's place where something is missing. */
  protected async lacks(key: string, words: string): Promise<void> {
    this.act.fail(key, words)
    await this.updateComplete
    focusFirstError(this.renderRoot)
  }

  /** Words typed along with an act of the crew, kept until it is done. */
  protected words(key: string): string {
    const kept = this.app && draftsOf(this.app.casebook).kept(`crew ${key}`)
    return typeof kept === 'string' ? kept : ''
  }

  protected keep(key: string, words: string): void {
    if (!this.app) return
    draftsOf(this.app.casebook).keep(`crew ${key}`, words === '' ? undefined : words)
    this.requestUpdate()
  }

  /** Called when the casebook has changed, and at the start: what is read from the store is read anew. */
  protected read(_casebook: AppCasebook): Promise<void> {
    return Promise.resolve()
  }

  #changed(): void {
    const casebook = this.#app.value?.casebook
    if (casebook) void this.read(casebook)
  }

  protected abstract renderPart(app: AppContext): TemplateResult

  override render(): TemplateResult {
    return this.app ? this.renderPart(this.app) : html`<p role="status">${t('app.loading')}</p>`
  }
}
