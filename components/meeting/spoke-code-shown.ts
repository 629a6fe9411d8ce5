import { html, LitElement, nothing, type TemplateResult } from 'lit'
import type { ShownCode } from '../../sync/transport/two-codes.ts'
import { announce } from '../app/announce.ts'
import { QrController, qrTemplate } from '../controllers/qr-code.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { StayAwakeController } from '../controllers/stay-awake.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { meetingStyles } from './meeting-styles.ts'

/**
 * A code for the other one's camera, as large as the screen allows, and as text; the way on stands between them, in the slot.
 * The screen stays on meanwhile.
 */
export class SpokeCodeShown extends LitElement {
  static override styles = [base, formStyles, meetingStyles]
  static override properties = { code: { attribute: false }, said: { state: true } }
  declare code: ShownCode | undefined
  /** What came of copying. */
  declare said: string

  readonly #qr = new QrController(this)

  constructor() {
    super()
    this.said = ''
    new SpeechController(this)
    new StayAwakeController(this)
  }

  override willUpdate(): void {
    if (this.code) this.#qr.draw(this.code.forQr)
  }

  readonly #handleCopy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(this.code?.forPasting ?? '')
      this.said = t('codes.copied')
    } catch {
      // Not allowed, or no such thing here: the text is marked, and the system's own copying takes it.
      this.renderRoot.querySelector('textarea')?.select()
      this.said = t('codes.notCopied')
    }
    announce(this.said)
  }

  readonly #handleShare = async (): Promise<void> => {
    try {
      await navigator.share({ text: this.code?.forPasting ?? '' })
    } catch {
      // Given up, or not possible: the text still stands here.
      return
    }
  }

  override render(): TemplateResult | typeof nothing {
    const { code } = this
    if (!code) return nothing
    return html`<div class="stack">
      ${this.#renderPicture()}
      <slot></slot>
      <details class="stack" ?open=${this.#qr.code.status === 'failed'}>
        <summary>${t('codes.asText')}</summary>
        <p class="hint">${t('codes.asTextHint')}</p>
        <div class="question">
          <label for="text">${t('codes.codeText')}</label>
          <textarea id="text" readonly rows="4" spellcheck="false" .value=${code.forPasting} @focus=${this.#handleFocus}></textarea>
        </div>
        <div class="actions">
          <button @click=${this.#handleCopy}>${t('codes.copy')}</button>
          ${'share' in navigator ? html`<button @click=${this.#handleShare}>${t('codes.share')}</button>` : nothing}
        </div>
        <p ?hidden=${this.said === ''}>${this.said}</p>
      </details>
    </div>`
  }

  readonly #handleFocus = (event: Event): void => (event.target as HTMLTextAreaElement).select()

  #renderPicture(): TemplateResult {
    const { code } = this.#qr
    switch (code.status) {
      case 'loading':
        return html`<p class="frame blank" role="status">${t('codes.making')}</p>`
      case 'failed':
        return html`<p class="notice warn" role="alert">${t('codes.pictureFailed')}</p>`
      case 'there':
        return html`<div class="frame code">${qrTemplate(code.rows, t('codes.picture'))}</div>`
    }
  }
}

customElements.define('spoke-code-shown', SpokeCodeShown)
