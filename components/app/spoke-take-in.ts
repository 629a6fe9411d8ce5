import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { SpeechController } from '../controllers/speech-controller.ts'
import { whileWriting } from '../controllers/writing.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayError, sayFailure, sayStopped } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { announce } from './announce.ts'
import { sayChanged } from './changed-words.ts'
import { type AppCasebook, type AppContext, appContext } from './context.ts'
import { addressOf } from './routes.ts'
import { sharedFiles, wasNotKept } from './shared-files.ts'
import { type TakeInAccount, type TakingIn, takeIn } from './take-in.ts'
import type { NewCase } from './what-changed.ts'

/** Bundles by their name, on every device. */
export const BUNDLE_ENDING = '.outspoke-bundle'
/** More people than anybody reads (project value); the rest is counted. */
const NAMED = 50

/** Takes in bundles, by a picker or dropped on the page, and gives an account of what changed. */
export class SpokeTakeIn extends LitElement {
  static override styles = [
    base,
    formStyles,
    css`
      progress { inline-size: 100%; block-size: 0.75rem; accent-color: var(--accent); }
      .drop { position: fixed; inset: 0; z-index: 1; display: grid; place-content: center; background: var(--paper); border: 4px dashed var(--accent); font-size: var(--text-title); font-weight: 700; pointer-events: none; }
      li.person { border-block-start: 1px solid var(--line); padding-block-end: var(--space-3); }
      li.person p + p { margin-block-start: var(--space-2); }
      a.person { display: inline-flex; align-items: center; min-block-size: var(--target); min-inline-size: var(--target); font-weight: 700; }
    `,
  ]
  static override properties = {
    progress: { state: true },
    account: { state: true },
    failed: { state: true },
    waits: { state: true },
    isOver: { state: true },
  }
  declare progress: TakingIn | null
  declare account: TakeInAccount | null
  /** What went wrong beyond what a file can do. */
  declare failed: string
  /** What was shared is for another casebook than practice. */
  declare waits: boolean
  /** Files are held over the page. */
  declare isOver: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  #of: AppCasebook | undefined

  constructor() {
    super()
    this.progress = null
    this.account = null
    this.failed = ''
    this.waits = false
    this.isOver = false
    new SpeechController(this)
  }

  override connectedCallback(): void {
    super.connectedCallback()
    addEventListener('dragover', this.#handleOver)
    addEventListener('dragleave', this.#handleLeave)
    addEventListener('drop', this.#handleDrop)
  }

  override willUpdate(): void {
    const app = this.#app.value
    if (!app || app.casebook === this.#of) return
    this.#of = app.casebook
    void this.#takeShared(app)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    removeEventListener('dragover', this.#handleOver)
    removeEventListener('dragleave', this.#handleLeave)
    removeEventListener('drop', this.#handleDrop)
  }

  readonly #handleOver = (event: DragEvent): void => {
    if (!event.dataTransfer?.types.includes('Files')) return
    // Without this the browser would open the file in place of the app.
    event.preventDefault()
    this.isOver = true
  }

  readonly #handleLeave = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.isOver = false
  }

  readonly #handleDrop = (event: DragEvent): void => {
    this.isOver = false
    const files = [...(event.dataTransfer?.files ?? [])]
    if (files.length === 0) return
    event.preventDefault()
    void this.#take(files)
  }

  readonly #handleChosen = (event: Event): void => {
    const input = event.target as HTMLInputElement
    const files = [...(input.files ?? [])]
    input.value = ''
    if (files.length > 0) void this.#take(files)
  }

  /** What the share sheet handed over while the app was locked or closed. */
  async #takeShared({ practice }: AppContext): Promise<void> {
    if (wasNotKept(location.hash)) this.failed = t('handOn.sharedLost')
    const { files, forget } = await sharedFiles(t('handOn.sharedFile'))
    this.waits = practice && files.length > 0
    if (practice || files.length === 0) return
    await this.#take(files)
    if (this.account) await forget()
  }

  async #take(files: readonly File[]): Promise<void> {
    const app = this.#app.value
    if (!app) return
    if (this.progress) {
      this.failed = t('handOn.busy')
      announce(this.failed)
      return
    }
    this.progress = { at: 'reading' }
    this.account = null
    this.failed = ''
    try {
      const account = await whileWriting(() =>
        takeIn(app.casebook, files, app.today(), progress => {
          this.progress = progress
        }),
      )
      this.account = account
      this.failed = ''
      announce([...this.#notTaken(account), this.#inShort(account)].join(' '))
    } catch (error) {
      this.failed = t('app.failed', { reason: sayError(error) })
      announce(this.failed)
    }
    this.progress = null
  }

  #notTaken({ notTaken }: TakeInAccount): readonly string[] {
    return notTaken.map(({ name, type }) => t('handOn.notTaken', { file: name, reason: sayFailure({ type }) }))
  }

  #inShort({ entriesNew, filesTaken, refusedCount, removedCount }: TakeInAccount): string {
    if (filesTaken === 0) return ''
    if (entriesNew > 0) return t('handOn.entries', { count: entriesNew })
    return refusedCount + removedCount > 0 ? '' : t('handOn.nothingNew')
  }

  override render(): TemplateResult {
    const app = this.#app.value
    if (!app) return html`<p role="status">${t('app.loading')}</p>`
    return html`<section class="stack">
      <h2>${t('handOn.takeIn')}</h2>
      ${this.progress ? this.#renderProgress(this.progress) : this.#renderPicker()}
      ${this.waits ? html`<p class="notice">${t('handOn.sharedWaits')}</p>` : nothing}
      <p class="error" role="alert" ?hidden=${this.failed === ''}>${this.failed}</p>
      ${this.account ? this.#renderAccount(this.account, app) : nothing}
      ${this.isOver ? html`<p class="drop">${t('handOn.drop')}</p>` : nothing}
    </section>`
  }

  #renderPicker(): TemplateResult {
    return html`<div class="question">
      <label for="bundles">${t('handOn.choose')}</label>
      <p class="hint" id="bundles-hint">${t('handOn.chooseHint')}</p>
      <input id="bundles" type="file" multiple accept=${BUNDLE_ENDING} aria-describedby="bundles-hint" @change=${this.#handleChosen} />
    </div>`
  }

  #renderProgress(progress: TakingIn): TemplateResult {
    const words =
      progress.at === 'taking'
        ? t('handOn.taking', { done: progress.done, all: progress.all })
        : t(progress.at === 'reading' ? 'handOn.reading' : 'handOn.weighing')
    return html`<p>${words}</p>
      ${
        progress.at === 'taking'
          ? html`<progress aria-label=${t('handOn.takeIn')} max=${progress.all || 1} value=${progress.done}></progress>`
          : html`<progress aria-label=${words}></progress>`
      }`
  }

  #renderAccount(account: TakeInAccount, app: AppContext): TemplateResult {
    const { newCases, changedCases, removedCount, refusedCount, stopped } = account
    const notTaken = this.#notTaken(account)
    const inShort = this.#inShort(account)
    return html`
      ${notTaken.map(words => html`<p class="notice danger" dir="auto">${words}</p>`)}
      ${stopped ? html`<p class="notice danger">${t('handOn.stopped', { reason: sayStopped(stopped) })}</p>` : nothing}
      ${refusedCount > 0 ? html`<p class="notice warn">${t('handOn.refused', { count: refusedCount })}</p>` : nothing}
      ${account.filesTaken > 0 ? html`<h3>${t('handOn.account')}</h3>` : nothing}
      ${inShort ? html`<p class="notice"><strong>${inShort}</strong></p>` : nothing}
      ${removedCount > 0 ? html`<p>${t('handOn.removed', { count: removedCount })}</p>` : nothing}
      ${account.crewChanged ? html`<p>${t('handOn.crewChanged')}</p>` : nothing}
      ${account.catalogueChanged ? html`<p>${t('handOn.catalogueChanged')}</p>` : nothing}
      ${this.#renderPeople(t('handOn.changed', { count: changedCases.length }), changedCases, one =>
        sayChanged(one, app.casebook.context().catalogue),
      )}
      ${this.#renderPeople(t('handOn.newHere', { count: newCases.length }), newCases, () => [])}
    `
  }

  #renderPeople<Person extends NewCase>(
    title: string,
    people: readonly Person[],
    sentences: (person: Person) => readonly string[],
  ): TemplateResult | typeof nothing {
    if (people.length === 0) return nothing
    return html`<h3>${title}</h3>
      <ul>
        ${people.slice(0, NAMED).map(
          person => html`<li class="person">
            <a class="person" href=${addressOf({ page: 'case', caseId: person.caseId, section: null })}
              ><bdi>${person.name ?? t('people.unnamed')}</bdi></a>
            ${sentences(person).map(words => html`<p>${words}</p>`)}
          </li>`,
        )}
      </ul>
      ${people.length > NAMED ? html`<p>${t('handOn.more', { count: people.length - NAMED })}</p>` : nothing}`
  }
}

customElements.define('spoke-take-in', SpokeTakeIn)
