import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import { type AppContext, appContext } from '../app/context.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { type Job, sayJob } from './spoke-paper-day-sheet.ts'

type DayState =
  | { readonly status: 'loading' }
  | { readonly status: 'there'; readonly jobs: readonly Job[]; readonly skipped: number }
  | { readonly status: 'failed'; readonly reason: string }

/** The day's work on several chairs: everybody whose chair has steps left, tools and parts merged, then each build sheet. */
export class SpokePaperDay extends LitElement {
  static override styles = [
    base,
    css`
      .who { min-inline-size: 0; overflow-wrap: anywhere; display: grid; gap: var(--space-1); padding: var(--space-4); max-inline-size: 190mm; margin-inline: auto; border: 0; }
      .who legend { font-weight: 600; padding: 0; }
      .who label { display: flex; gap: var(--space-3); align-items: center; min-block-size: var(--target); }
      .who input { flex: none; }
      .state { padding: var(--space-5) var(--space-4); }
      @media print { .who { display: none; } }
    `,
  ]
  static override properties = { state: { state: true }, left: { state: true } }
  declare state: DayState
  /** Cases that somebody left out of this sheet. */
  declare left: ReadonlySet<CaseId>

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  #loadedFor: AppContext | undefined
  #stop: (() => void) | undefined
  #turn = 0

  constructor() {
    super()
    this.state = { status: 'loading' }
    this.left = new Set()
    new SpeechController(this)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#stop?.()
    this.#stop = undefined
    this.#loadedFor = undefined
  }

  override willUpdate(): void {
    const app = this.#app.value
    if (!app || app === this.#loadedFor) return
    this.#loadedFor = app
    this.#stop?.()
    this.#stop = app.casebook.subscribe(() => void this.#load(app))
    void this.#load(app)
  }

  async #load(app: AppContext): Promise<void> {
    this.#turn += 1
    const turn = this.#turn
    const ids = app.casebook
      .summaries()
      .filter(one => one.open && (one.brief?.stepsToDo ?? 0) > 0)
      .map(one => one.caseId)
    try {
      const jobs: Job[] = []
      let skipped = 0
      for (const caseId of ids) {
        const view = await app.casebook.view(caseId)
        const outcome = await app.casebook.outcome(caseId, app.today())
        if (view && outcome?.build) jobs.push({ caseId, view, outcome })
        else skipped += 1
      }
      if (turn === this.#turn) this.state = { status: 'there', jobs, skipped }
    } catch (error) {
      if (turn === this.#turn) this.state = { status: 'failed', reason: sayError(error) }
    }
  }

  #choose(caseId: CaseId, on: boolean): void {
    this.left = new Set(on ? [...this.left].filter(one => one !== caseId) : [...this.left, caseId])
  }

  override render(): TemplateResult {
    const { state } = this
    if (state.status === 'loading') return html`<p class="state quiet" aria-busy="true">${t('app.loading')}</p>`
    if (state.status === 'failed')
      return html`<p class="state error" role="alert">${t('app.failed', { reason: state.reason })}</p>`
    if (state.jobs.length === 0) return html`<p class="state">${t('paper.dayEmpty')}</p>`
    const chosen = state.jobs.filter(job => !this.left.has(job.caseId))
    return html`${this.#renderChoice(state.jobs)}
      ${state.skipped > 0 ? html`<p class="state">${t('paper.daySkipped', { count: state.skipped })}</p>` : nothing}
      ${
        chosen.length === 0
          ? html`<p class="state">${t('paper.dayNone')}</p>`
          : html`<spoke-paper-day-sheet .jobs=${chosen} .app=${this.#app.value}></spoke-paper-day-sheet>`
      }`
  }

  #renderChoice(jobs: readonly Job[]): TemplateResult {
    return html`<fieldset class="who">
      <legend>${t('paper.dayWho')}</legend>
      ${jobs.map(
        ({ caseId, view, outcome }) => html`<label>
          <input
            type="checkbox"
            .checked=${!this.left.has(caseId)}
            @change=${(event: Event) => this.#choose(caseId, (event.target as HTMLInputElement).checked)}
          />
          <span>${sayJob(view, outcome, this.#app.value)}</span>
        </label>`,
      )}
    </fieldset>`
  }
}

customElements.define('spoke-paper-day', SpokePaperDay)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper-day': SpokePaperDay
  }
}
