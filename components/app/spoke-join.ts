import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { askToPersist } from '../../sync/storage/readiness.ts'
import type { Met } from '../../sync/transport/two-codes.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import type { Camera } from '../meeting/camera.ts'
import { meetingStyles } from '../meeting/meeting-styles.ts'
import type { MetEvent } from '../meeting/spoke-code-walk.ts'
import '../meeting/spoke-code-walk.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayError, sayFailure } from '../text/say-failure.ts'
import { sayUnmet } from '../text/say-meeting.ts'
import { t } from '../text/text.ts'
import { announce } from './announce.ts'
import { doorStyles } from './door-styles.ts'
import { hereSpelt } from './here.ts'
import { goTo } from './routes.ts'
import type { Session } from './session.ts'
import type { SpokeNewPassphrase } from './spoke-new-passphrase.ts'
import { beginTwoCodes, takeWelcome } from './two-codes-port.ts'
import './spoke-new-passphrase.ts'

/** Joins a crew: the lock of this device first, then two codes, then waiting until the other one has named this one. */
export class SpokeJoin extends LitElement {
  static override styles = [base, formStyles, meetingStyles, doorStyles]
  static override properties = {
    session: { attribute: false },
    isSealed: { attribute: false },
    camera: { attribute: false },
    isBusy: { state: true },
    waitsFor: { state: true },
    error: { state: true },
  }
  declare session: Session | undefined
  /** The lock is made: now the other device is to be met. */
  declare isSealed: boolean
  declare camera: Camera | undefined
  declare isBusy: boolean
  /** Met, and naming this device at this moment. */
  declare waitsFor: Met | undefined
  declare error: string

  constructor() {
    super()
    this.isSealed = false
    this.isBusy = false
    this.error = ''
    new SpeechController(this)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#stopWaiting()
  }

  #stopWaiting(): void {
    const met = this.waitsFor
    this.waitsFor = undefined
    met?.transport.close({ type: 'ended', message: 'The other device stopped waiting to be let in.' })
  }

  readonly #handleSeal = async (event: Event): Promise<void> => {
    event.preventDefault()
    const lock = this.renderRoot.querySelector<SpokeNewPassphrase>('spoke-new-passphrase')
    if (this.isBusy || !lock) return
    this.error = ''
    if (!lock.check()) return lock.focusFault()
    this.isBusy = true
    const sealed = await this.session?.sealForJoining(lock.passphrase)
    this.isBusy = false
    if (!sealed || sealed.ok) return
    if (sealed.failure.type === 'short-passphrase') {
      lock.refuse(sayFailure(sealed.failure))
      await lock.focusFault()
    } else this.error = sayFailure(sealed.failure)
  }

  readonly #handleMet = async ({ met }: MetEvent): Promise<void> => {
    this.error = ''
    this.waitsFor = met
    announce(t('codes.waitTitle'))
    try {
      const welcome = await takeWelcome(met)
      if (this.waitsFor !== met) return
      this.waitsFor = undefined
      if (!welcome.ok) {
        this.error = sayUnmet(welcome.failure)
        return
      }
      // Where the exchange that begins now is shown.
      goTo({ page: 'two-codes' })
      const joined = await this.session?.join(met, welcome.value)
      if (joined?.ok) {
        announce(t('codes.joined'))
        void askToPersist(navigator)
        return
      }
      if (joined) this.error = sayFailure(joined.failure)
    } catch (error) {
      this.error = t('app.failed', { reason: sayError(error) })
    }
    met.transport.close({ type: 'ended', message: 'The other device could not take the casebook in.' })
  }

  override render(): TemplateResult {
    return html`<div class="door">
      <h1>${t('codes.joinTitle')}</h1>
      ${this.isSealed ? this.#renderMeeting() : this.#renderSeal()}
      <button class="quiet" type="button" @click=${() => void this.session?.toDoor()}>${t('app.back')}</button>
    </div>`
  }

  #renderSeal(): TemplateResult {
    return html`
      <p>${t('codes.joinWhat')}</p>
      <p class="notice">${t('door.livesHere', { address: hereSpelt() })}</p>
      <form class="stack" novalidate @submit=${this.#handleSeal}>
        <h2>${t('door.lockTitle')}</h2>
        <spoke-new-passphrase></spoke-new-passphrase>
        ${this.#renderError()}
        <button class="main" type="submit">${t(this.isBusy ? 'codes.joinSealing' : 'codes.joinSeal')}</button>
      </form>
    `
  }

  #renderMeeting(): TemplateResult {
    if (this.waitsFor)
      return html`<section class="stack">
        <h2>${t('codes.waitTitle')}</h2>
        <p>${t('codes.waitHow')}</p>
        <progress aria-label=${t('codes.waitTitle')}></progress>
      </section>`
    return html`<spoke-code-walk .begin=${() => beginTwoCodes(this.session)} .camera=${this.camera} @met=${this.#handleMet}>
      <div class="stack">
        ${this.#renderError()}
        <p>${t('codes.joinWhat')}</p>
        <p class="quiet">${t('codes.what')}</p>
      </div>
    </spoke-code-walk>`
  }

  #renderError(): TemplateResult | typeof nothing {
    return this.error ? html`<p class="error" role="alert">${this.error}</p>` : nothing
  }
}

customElements.define('spoke-join', SpokeJoin)
