import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit'
import { askToPersist, type Readiness, readiness } from '../../sync/storage/readiness.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { announce } from './announce.ts'
import { appContext } from './context.ts'
import { type Camera, type ReadyLine, readyLines } from './field-readiness.ts'
import { addressOf } from './routes.ts'
import type { OfflineCopy } from './service-worker.ts'
import type { Session } from './session.ts'
import { SessionController } from './session-controller.ts'

/** What of the browser is asked; something else in tests. */
export interface ReadyPlatform {
  readiness(): Promise<Readiness>
  camera(): Promise<Camera>
  askToPersist(): Promise<boolean | null>
  askForCamera(): Promise<void>
}

const markDone = svg`<path d="M7 12.5l3.5 3.5L17 9"></path>`

type Facts =
  | { readonly status: 'loading' }
  | { readonly status: 'there'; readonly readiness: Readiness; readonly camera: Camera }
  | { readonly status: 'failed'; readonly reason: string }

/** Ready for the field: each thing in words, with what to do about it. */
export class SpokeReady extends LitElement {
  static override styles = [
    base,
    formStyles,
    css`
      .line { display: grid; grid-template-columns: auto minmax(0, 1fr); gap: 0 var(--space-3); padding-block: var(--space-3); border-block-end: 1px solid var(--line); }
      .mark { inline-size: 1.5rem; block-size: 1.5rem; margin-block-start: 0.15rem; }
      .mark path, .mark circle { fill: none; stroke: var(--accent); stroke-width: 3; stroke-linecap: round; stroke-linejoin: round; }
      .open .mark circle { stroke: var(--warn); stroke-dasharray: 4 4; }
      .open .words { font-weight: 700; }
      .line a { display: inline-flex; align-items: center; min-block-size: var(--target); font-weight: 600; }
      .line button { margin-block-start: var(--space-2); }
    `,
  ]
  static override properties = {
    session: { attribute: false },
    offlineCopy: { attribute: false },
    platform: { attribute: false },
    facts: { state: true },
    keptRefused: { state: true },
  }
  declare session: Session | undefined
  /** By its value: what is shown changes in the moment the copy is whole. */
  declare offlineCopy: OfflineCopy
  declare platform: ReadyPlatform | undefined
  declare facts: Facts
  declare keptRefused: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #session = new SessionController(this)

  constructor() {
    super()
    this.facts = { status: 'loading' }
    this.keptRefused = false
    this.offlineCopy = 'impossible'
    new SpeechController(this)
  }

  override willUpdate(): void {
    this.#session.follow(this.session)
  }

  override firstUpdated(): void {
    void this.#look()
  }

  async #look(): Promise<void> {
    const platform = this.#platformNow()
    if (!platform) return
    try {
      const [known, camera] = await Promise.all([platform.readiness(), platform.camera()])
      this.facts = { status: 'there', readiness: known, camera }
    } catch (error) {
      this.facts = { status: 'failed', reason: sayError(error) }
    }
  }

  #platformNow(): ReadyPlatform | undefined {
    const [app, device] = [this.#app.value, this.session?.device]
    return (
      this.platform ??
      (app && device ? browserPlatform(() => readiness(navigator, device.storage, app.today())) : undefined)
    )
  }

  async #ask(what: NonNullable<ReadyLine['ask']>): Promise<void> {
    const platform = this.#platformNow()
    if (what === 'persist') this.keptRefused = (await platform?.askToPersist()) === false
    else await platform?.askForCamera()
    await this.#look()
    const { facts } = this
    if (facts.status !== 'there') return
    const key = what === 'persist' ? 'kept' : 'camera'
    const line = this.#lines(facts).find(one => one.key === key)
    announce([line?.words, line?.whatToDo].filter(Boolean).join(' '))
  }

  #lines({ readiness: known, camera }: Extract<Facts, { status: 'there' }>): readonly ReadyLine[] {
    const app = this.#app.value
    return readyLines({
      copy: this.offlineCopy,
      readiness: known,
      camera,
      practice: app?.practice ?? false,
      keptRefused: this.keptRefused,
      chairCount: app?.casebook.context().catalogue.models.length ?? 0,
    })
  }

  override render(): TemplateResult {
    return html`<div class="page"><h1>${t('ready.title')}</h1>${this.#renderFacts()}</div>`
  }

  #renderFacts(): TemplateResult {
    const { facts } = this
    if (facts.status === 'loading') return html`<p role="status">${t('ready.looking')}</p>`
    if (facts.status === 'failed')
      return html`<p class="notice danger" role="alert">${t('app.failed', { reason: facts.reason })}</p>
        <button @click=${() => void this.#look()}>${t('app.tryAgain')}</button>`
    const lines = this.#lines(facts)
    const open = lines.filter(line => !line.isInOrder).length
    return html`
      <p class="notice ${open > 0 ? 'warn' : ''}">
        <strong>${open > 0 ? t('ready.some', { count: open }) : t('ready.all')}</strong>
      </p>
      <ul>${[...lines].sort((a, b) => Number(a.isInOrder) - Number(b.isInOrder)).map(line => this.#renderLine(line))}</ul>
    `
  }

  #renderLine({ key, isInOrder, words, whatToDo, ask }: ReadyLine): TemplateResult {
    return html`<li class="line ${isInOrder ? '' : 'open'}">
      <svg class="mark" viewBox="0 0 24 24" aria-hidden="true">
        <circle cx="12" cy="12" r="10"></circle>${isInOrder ? markDone : nothing}
      </svg>
      <div>
        <p class="words"><span class="unseen">${t(isInOrder ? 'ready.doneMark' : 'ready.openMark')}: </span>${words}</p>
        ${whatToDo ? html`<p class="quiet">${whatToDo}</p>` : nothing}
        ${
          ask
            ? html`<button @click=${() => void this.#ask(ask)}>${t(ask === 'persist' ? 'ready.keptAsk' : 'ready.cameraAskButton')}</button>`
            : nothing
        }
        ${
          key === 'handed' && !this.#app.value?.practice
            ? html`<a href=${addressOf({ page: 'hand-on' })}>${t('handOn.title')}</a>`
            : nothing
        }
      </div>
    </li>`
  }
}

const browserPlatform = (known: () => Promise<Readiness>): ReadyPlatform => ({
  readiness: known,
  camera: async () => {
    const devices = await navigator.mediaDevices?.enumerateDevices()
    if (!devices?.some(({ kind }) => kind === 'videoinput')) return 'none'
    try {
      return (await navigator.permissions.query({ name: 'camera' })).state
    } catch {
      // A browser that does not tell is asked when the camera is first needed.
      return 'prompt'
    }
  },
  askToPersist: () => askToPersist(navigator),
  askForCamera: async () => {
    try {
      const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
      for (const track of stream.getTracks()) track.stop()
    } catch {
      // Refused or missing: what the browser says afterwards is shown in words.
    }
  },
})

customElements.define('spoke-ready', SpokeReady)
