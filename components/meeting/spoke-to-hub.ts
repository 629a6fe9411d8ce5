import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { announce } from '../app/announce.ts'
import { type GivenToHub, giveToHub } from '../app/give-to-hub.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { meetingStyles } from './meeting-styles.ts'

/** For an answer to a laptop that has no camera: it is given to the hub that runs there, at the tap of whoever holds the phone. */
export class SpokeToHub extends LitElement {
  static override styles = [base, formStyles, meetingStyles]
  static override properties = {
    offer: { attribute: false },
    answer: { attribute: false },
    outcome: { state: true },
  }
  /** The code as it was read off the laptop's screen. */
  declare offer: string
  declare answer: string
  declare outcome: GivenToHub | 'giving' | null

  constructor() {
    super()
    this.outcome = null
    new SpeechController(this)
  }

  readonly #handleGive = async (): Promise<void> => {
    this.outcome = 'giving'
    this.outcome = await giveToHub(this.offer, this.answer)
    announce(t(`codes.toHub ${this.outcome}`))
  }

  override render(): TemplateResult {
    const { outcome } = this
    return html`<details class="stack">
      <summary>${t('codes.toHub')}</summary>
      <p class="hint">${t('codes.toHubHint')}</p>
      <div class="actions">
        <button ?disabled=${outcome === 'giving' || outcome === 'given'} @click=${this.#handleGive}>${t('codes.toHubGive')}</button>
      </div>
      ${
        outcome === null || outcome === 'giving'
          ? nothing
          : html`<p class=${outcome === 'given' ? '' : 'notice warn'}>${t(`codes.toHub ${outcome}`)}</p>`
      }
    </details>`
  }
}

customElements.define('spoke-to-hub', SpokeToHub)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-to-hub': SpokeToHub
  }
}
