import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { announce } from '../app/announce.ts'
import type { HubStay } from '../app/hub-stay.ts'
import { FollowController } from '../controllers/follow-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { sayUnmet } from '../text/say-meeting.ts'
import { t } from '../text/text.ts'

/** Being with the hub that the app came from: to join it by one tap, how it stands, to leave it. */
export class SpokeHub extends LitElement {
  static override styles = [base]
  static override properties = { stay: { attribute: false }, failed: { state: true } }
  declare stay: HubStay | undefined
  declare failed: string

  readonly #stay = new FollowController<HubStay>(this, (stay, told) => stay.subscribe(told))
  #said: string | undefined

  constructor() {
    super()
    this.failed = ''
    new SpeechController(this)
  }

  override willUpdate(): void {
    this.#stay.follow(this.stay)
  }

  override updated(): void {
    const state = this.stay?.visit?.state
    if (state === this.#said) return
    const isNews = this.#said !== undefined
    this.#said = state
    if (isNews && state) announce(this.#sayState())
  }

  async #join(): Promise<void> {
    this.failed = ''
    this.#said = 'left'
    try {
      await this.stay?.join()
    } catch (error) {
      this.failed = t('nearby.hubFailed', { reason: sayError(error) })
    }
  }

  #sayState(): string {
    const host = this.stay?.host ?? ''
    switch (this.stay?.visit?.state) {
      case 'joined':
        return t('nearby.hubJoined', { host })
      case 'missing':
        return sayUnmet({ type: 'hub-unreachable' })
      case 'elsewhere':
        return t('nearby.hubElsewhere')
      default:
        return t('nearby.hubJoining', { host })
    }
  }

  override render(): TemplateResult | typeof nothing {
    const { stay } = this
    if (!stay) return nothing
    const { visit, host } = stay
    if (!visit)
      return html`<div class="stack">
        <p class="quiet">${t('nearby.hubWhat', { host })}</p>
        ${this.failed ? html`<p class="notice danger" role="alert">${this.failed}</p>` : nothing}
        <button class="main" @click=${() => void this.#join()}>${t('nearby.hubJoin', { host })}</button>
      </div>`
    const isWrong = visit.state === 'missing'
    return html`<div class="stack">
      <p class="notice ${isWrong ? 'warn' : ''}">${this.#sayState()}</p>
      ${visit.failures.map(failure => html`<p class="notice warn">${sayUnmet(failure)}</p>`)}
      <button @click=${() => stay.leave()}>${t('nearby.hubLeave')}</button>
    </div>`
  }
}

customElements.define('spoke-hub', SpokeHub)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-hub': SpokeHub
  }
}
