import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { SpeechController } from '../controllers/speech-controller.ts'
import { StayAwakeController } from '../controllers/stay-awake.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { type TextKey, t } from '../text/text.ts'
import { type Camera, type CameraFault, cameraFaultOf, rearCamera } from './camera.ts'
import { CameraScan } from './camera-scan.ts'
import { meetingStyles } from './meeting-styles.ts'

/** A code was read by the camera, or taken as text. */
export class CodeReadEvent extends Event {
  readonly text: string

  constructor(text: string) {
    super('code-read', { bubbles: true, composed: true })
    this.text = text
  }
}

const FAULTS: Readonly<Record<CameraFault, TextKey>> = {
  refused: 'codes.cameraRefused',
  none: 'codes.cameraNone',
  busy: 'codes.cameraBusy',
}

/** The camera while it looks for a code, and a place to put one that came as text. Leaving it lets the camera go. */
export class SpokeCodeScan extends LitElement {
  static override styles = [base, formStyles, meetingStyles]
  static override properties = {
    camera: { attribute: false },
    refused: { attribute: false },
    state: { state: true },
    pasteError: { state: true },
  }
  declare camera: Camera | undefined
  /** Why the code that was read leads nowhere, in words; empty while there is nothing to say. */
  declare refused: string
  declare state: 'opening' | 'looking' | CameraFault
  declare pasteError: string

  #scan: CameraScan | undefined

  constructor() {
    super()
    this.refused = ''
    this.state = 'opening'
    this.pasteError = ''
    new SpeechController(this)
    new StayAwakeController(this, () => this.state === 'opening' || this.state === 'looking')
  }

  override connectedCallback(): void {
    super.connectedCallback()
    void this.updateComplete.then(() => this.#open())
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#stop()
  }

  #stop(): void {
    this.#scan?.stop()
    this.#scan = undefined
  }

  readonly #open = async (): Promise<void> => {
    this.#stop()
    const video = this.renderRoot.querySelector('video')
    if (!video || !this.isConnected) return
    const scan = new CameraScan(video, text => this.dispatchEvent(new CodeReadEvent(text)))
    this.#scan = scan
    this.state = 'opening'
    try {
      await scan.start(this.camera ?? rearCamera)
      if (scan === this.#scan) this.state = 'looking'
    } catch (error) {
      scan.stop()
      if (scan === this.#scan) this.state = cameraFaultOf(error)
    }
  }

  readonly #handlePaste = (event: Event): void => {
    event.preventDefault()
    const text = this.renderRoot.querySelector('textarea')?.value.trim() ?? ''
    this.pasteError = text === '' ? t('codes.pasteEmpty') : ''
    if (text === '') this.renderRoot.querySelector('textarea')?.focus()
    else this.dispatchEvent(new CodeReadEvent(text))
  }

  override render(): TemplateResult {
    const { state } = this
    const fault = state === 'opening' || state === 'looking' ? undefined : state
    return html`<div class="stack">
      <div class="frame" ?hidden=${fault !== undefined}>
        <video muted playsinline aria-label=${t('codes.cameraPicture')}></video>
      </div>
      ${
        fault
          ? html`<p class="notice warn" role="alert">${t(FAULTS[fault])}</p>
              <button @click=${this.#open}>${t('codes.cameraAgain')}</button>`
          : html`<p class="quiet" role="status">${t(state === 'opening' ? 'codes.cameraOpening' : 'codes.cameraLooking')}</p>`
      }
      <p class="error" role="alert" ?hidden=${this.refused === ''}>${this.refused || nothing}</p>
      <details class="stack" ?open=${fault !== undefined}>
        <summary>${t('codes.paste')}</summary>
        <form class="stack" novalidate @submit=${this.#handlePaste}>
          <div class="question">
            <label for="pasted">${t('codes.pasteLabel')}</label>
            <textarea id="pasted" rows="4" spellcheck="false" autocomplete="off" autocapitalize="off"
              aria-describedby="pasted-error" aria-invalid=${this.pasteError ? 'true' : 'false'}></textarea>
            <p class="error" id="pasted-error" ?hidden=${this.pasteError === ''}>${this.pasteError || nothing}</p>
          </div>
          <button type="submit">${t('codes.pasteTake')}</button>
        </form>
      </details>
    </div>`
  }
}

customElements.define('spoke-code-scan', SpokeCodeScan)
