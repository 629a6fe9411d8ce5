import { html, LitElement, nothing, svg, type TemplateResult } from 'lit'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { doorStyles } from './door-styles.ts'
import { hereSpelt } from './here.ts'
import type { Session } from './session.ts'
import { SessionController } from './session-controller.ts'
import './spoke-lock.ts'
import './spoke-language.ts'

const SPOKE_COUNT = 12
const spokes = Array.from({ length: SPOKE_COUNT }, (_, index) => {
  const angle = (index * 2 * Math.PI) / SPOKE_COUNT
  const [x, y] = [Math.cos(angle), Math.sin(angle)]
  return `M${50 + 6 * x} ${50 + 6 * y}L${50 + 38 * x} ${50 + 38 * y}`
}).join('')

/** Before a casebook is open: the first run, founding, or the lock. */
export class SpokeWelcome extends LitElement {
  static override styles = [base, doorStyles]
  static override properties = { session: { attribute: false } }
  declare session: Session | undefined

  readonly #session = new SessionController(this, () => this.#loadNext())

  constructor() {
    super()
    new SpeechController(this)
  }

  override willUpdate(): void {
    this.#session.follow(this.session)
  }

  #loadNext(): void {
    const at = this.session?.state.at
    if (at === 'founding') void import('./spoke-found.ts')
    if (at === 'joining') void import('./spoke-join.ts')
  }

  override render(): TemplateResult {
    const state = this.session?.state
    if (state?.at === 'founding')
      return html`<spoke-found .session=${this.session} .again=${state.again}></spoke-found>`
    if (state?.at === 'joining')
      return html`<spoke-join .session=${this.session} .isSealed=${state.isSealed}></spoke-join>`
    if (state?.at === 'locked') return html`<spoke-lock .session=${this.session} .why=${state.why}></spoke-lock>`
    return this.#renderWelcome()
  }

  #renderWelcome(): TemplateResult {
    return html`<div class="door">
      <div class="top"><svg class="wheel" viewBox="0 0 100 100" aria-hidden="true">
        ${svg`<circle cx="50" cy="50" r="46" stroke-width="4"></circle><circle cx="50" cy="50" r="39" stroke-width="2"></circle>
          <circle cx="50" cy="50" r="5" stroke-width="3"></circle><path d=${spokes} stroke-width="2"></path>`}
      </svg><spoke-language></spoke-language></div>
      <h1>${t('app.name')}</h1>
      <p class="tagline">${t('door.tagline')}</p>
      ${this.#renderChoices()}
    </div>`
  }

  get #isLost(): boolean {
    const state = this.session?.state
    return state?.at === 'welcome' && state.lost === true
  }

  get #isSealed(): boolean {
    const state = this.session?.state
    return state?.at === 'welcome' && state.isSealed === true
  }

  #renderChoices(): TemplateResult {
    return html`
      ${this.#isSealed ? html`<p class="notice warn" role="alert">${t('door.sealedNotYet')}</p>` : nothing}
      ${this.#isLost ? html`<p class="notice warn" role="alert">${t('door.lost', { address: hereSpelt() })}</p>` : nothing}
      <div class="choice">
        <button class="main" @click=${() => void this.session?.openPractice()}>${t('door.tryPractice')}</button>
        <p>${t('door.tryPracticeHint')}</p>
      </div>
      ${this.session?.isSecure === false ? html`<p class="notice warn">${t('door.insecure', { address: hereSpelt() })}</p>` : this.#renderFounding()}
    `
  }

  #renderFounding(): TemplateResult {
    return html`
      <div class="choice">
        <button @click=${() => this.session?.beginFounding()}>${t('door.found')}</button>
        <p>${t('door.foundHint')}</p>
      </div>
      <div class="choice">
        <button @click=${() => this.session?.beginJoining()}>${t('door.join')}</button>
        <p>${t('door.joinHint')}</p>
      </div>
      ${this.#isLost || this.#isSealed ? nothing : html`<p class="here">${t('door.nothingHere', { address: hereSpelt() })}</p>`}
    `
  }
}

customElements.define('spoke-welcome', SpokeWelcome)
