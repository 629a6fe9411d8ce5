import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { unsavedCount } from '../controllers/form-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { hasReferralDraft } from '../people/referral-draft.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import type { AppCasebook } from './context.ts'
import type { UpdateController } from './update.ts'

/** Offers a new version: never by itself, and never under a half-filled form. */
export class SpokeUpdate extends LitElement {
  static override styles = [base]
  static override properties = {
    updater: { attribute: false },
    casebook: { attribute: false },
    refusal: { state: true },
  }
  declare updater: Pick<UpdateController, 'takeUpdate'> | undefined
  declare casebook: AppCasebook | undefined
  declare refusal: string

  constructor() {
    super()
    this.refusal = ''
    new SpeechController(this)
  }

  async #take(): Promise<void> {
    if (this.#isHalfFilled()) {
      this.refusal = t('app.updateWaits')
      return
    }
    const taken = await this.updater?.takeUpdate()
    if (taken && !taken.ok) this.refusal = t('app.updateElsewhere')
  }

  #isHalfFilled(): boolean {
    return this.casebook !== undefined && (unsavedCount(this.casebook) > 0 || hasReferralDraft(this.casebook))
  }

  override render(): TemplateResult {
    return html`
      <span>${t('app.updateReady')}</span>
      <button class="quiet" @click=${() => void this.#take()}>${t('app.updateTake')}</button>
      ${this.refusal ? html`<p role="alert">${this.refusal}</p>` : nothing}
    `
  }
}

customElements.define('spoke-update', SpokeUpdate)
