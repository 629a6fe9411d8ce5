import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { Met, ShownCode, TwoCodes, TwoCodesFailure } from '../../sync/transport/two-codes.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayUnmet } from '../text/say-meeting.ts'
import { t } from '../text/text.ts'
import { type Camera, closeCamera, rearCamera } from './camera.ts'
import { meetingStyles } from './meeting-styles.ts'
import type { CodeReadEvent } from './spoke-code-scan.ts'
import './spoke-code-scan.ts'
import './spoke-code-shown.ts'
import './spoke-to-hub.ts'

/** What is used of an attempt. */
export type Attempt = Pick<TwoCodes, 'showOffer' | 'readOffer' | 'readAnswer' | 'close' | 'met'>

/** Two devices found and proved each other; from here on the connection is whoever's hears this. */
export class MetEvent extends Event {
  readonly met: Met

  constructor(met: Met) {
    super('met', { bubbles: true, composed: true })
    this.met = met
  }
}

type Step =
  | { readonly at: 'choose' | 'making' | 'scan-offer' | 'finding' }
  /** Showing the first code, or looking for the second with a way back to the first. */
  | { readonly at: 'offer' | 'scan-answer'; readonly code: ShownCode }
  /** Showing the second code, to the first one as it was read. */
  | { readonly at: 'answer'; readonly code: ShownCode; readonly offer: string }
  | { readonly at: 'failed'; readonly failure: TwoCodesFailure }

/** Which of the three steps it is, what it is called, and who does what. */
const SAID = {
  offer: [1, 'codes.offerTitle', 'codes.offerHow'],
  'scan-offer': [1, 'codes.offerScanTitle', 'codes.offerScanHow'],
  'scan-answer': [2, 'codes.answerScanTitle', 'codes.answerScanHow'],
  answer: [2, 'codes.answerTitle', 'codes.answerHow'],
  finding: [3, 'codes.findingTitle', 'codes.findingHow'],
} as const

/**
 * One attempt to meet after the other, step by step: who shows what, who scans what. What stands in the slots is shown only
 * before an attempt is begun: then the screen is the code's.
 */
export class SpokeCodeWalk extends LitElement {
  static override styles = [base, formStyles, meetingStyles]
  static override properties = {
    begin: { attribute: false },
    camera: { attribute: false },
    isSecond: { attribute: false },
    step: { state: true },
    refused: { state: true },
  }
  /** Makes a new attempt. */
  declare begin: (() => Promise<Attempt>) | undefined
  declare camera: Camera | undefined
  /** Something else is the next thing to do on this page. */
  declare isSecond: boolean
  declare step: Step
  declare refused: string

  #attempt: Attempt | undefined

  constructor() {
    super()
    this.isSecond = false
    this.step = { at: 'choose' }
    this.refused = ''
    new SpeechController(this)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#giveUp()
  }

  override updated(changed: PropertyValues<this>): void {
    const before = changed.get('step') as Step | undefined
    // Whoever listens to the screen, or goes by keyboard, is taken along to the next step.
    if (before && before.at !== this.step.at) this.renderRoot.querySelector<HTMLElement>('[tabindex]')?.focus()
  }

  #giveUp(): void {
    const attempt = this.#attempt
    this.#attempt = undefined
    attempt?.close()
    this.refused = ''
    this.step = { at: 'choose' }
  }

  async #start(): Promise<Attempt | undefined> {
    this.#giveUp()
    this.step = { at: 'making' }
    const attempt = await this.begin?.()
    if (!attempt) return undefined
    if (!this.isConnected) {
      attempt.close()
      return undefined
    }
    this.#attempt = attempt
    void attempt.met.then(met => {
      if (attempt !== this.#attempt) return
      if (!met.ok) return this.#fail(met.failure)
      this.#attempt = undefined
      this.step = { at: 'choose' }
      this.dispatchEvent(new MetEvent(met.value))
    })
    return attempt
  }

  #fail(failure: TwoCodesFailure): void {
    this.#attempt?.close()
    this.#attempt = undefined
    this.step = { at: 'failed', failure }
  }

  readonly #handleShowFirst = async (): Promise<void> => {
    const attempt = await this.#start()
    const code = await attempt?.showOffer()
    if (!code || attempt !== this.#attempt) return
    if (code.ok) this.step = { at: 'offer', code: code.value }
    else this.#fail(code.failure)
  }

  readonly #handleScanFirst = async (): Promise<void> => {
    if (await this.#start()) this.step = { at: 'scan-offer' }
  }

  readonly #handleOffer = async ({ text }: CodeReadEvent): Promise<void> => {
    const attempt = this.#attempt
    const code = await attempt?.readOffer(text)
    if (!code || attempt !== this.#attempt || this.step.at !== 'scan-offer') return
    this.refused = code.ok ? '' : sayUnmet(code.failure)
    if (code.ok) this.step = { at: 'answer', code: code.value, offer: text }
  }

  readonly #handleAnswer = ({ text }: CodeReadEvent): void => {
    const taken = this.#attempt?.readAnswer(text)
    if (!taken) return
    this.refused = taken.ok ? '' : sayUnmet(taken.failure)
    if (taken.ok) this.step = { at: 'finding' }
  }

  /** With the camera allowed a browser knows its own address. */
  readonly #handleAskCamera = async (): Promise<void> => {
    try {
      closeCamera(await (this.camera ?? rearCamera).open())
    } catch {
      // Refused, or none: the next attempt says whether it leads anywhere without.
    }
    this.#giveUp()
  }

  readonly #handleOver = (): void => this.#giveUp()

  override render(): TemplateResult {
    const { step } = this
    switch (step.at) {
      case 'choose':
        return this.#renderChoice()
      case 'making':
        return html`<div class="stack"><p class="frame blank" role="status">${t('codes.making')}</p>${this.#renderOver()}</div>`
      case 'offer':
        return this.#renderStep(
          step.at,
          html`<spoke-code-shown .code=${step.code}>
            <button class="main" @click=${() => {
              this.step = { at: 'scan-answer', code: step.code }
            }}>${t('codes.offerNext')}</button>
          </spoke-code-shown>`,
        )
      case 'scan-answer':
        return this.#renderStep(
          step.at,
          html`${this.#renderScan(this.#handleAnswer)}
            <button @click=${() => {
              this.refused = ''
              this.step = { at: 'offer', code: step.code }
            }}>${t('codes.backToCode')}</button>`,
        )
      case 'scan-offer':
        return this.#renderStep(step.at, this.#renderScan(this.#handleOffer))
      case 'answer':
        return this.#renderStep(
          step.at,
          html`<spoke-code-shown .code=${step.code}></spoke-code-shown>
          <spoke-to-hub .offer=${step.offer} .answer=${step.code.forPasting}></spoke-to-hub>`,
        )
      case 'finding':
        return this.#renderStep(step.at, html`<progress aria-label=${t('codes.findingTitle')}></progress>`)
      case 'failed':
        return this.#renderFailed(step.failure)
    }
  }

  #renderChoice(): TemplateResult {
    const choice = (title: string, hint: string, isMain: boolean, choose: () => Promise<void>): TemplateResult => html`
      <div class="choice">
        <button class=${isMain ? 'main' : 'wide'} @click=${choose}>${title}</button>
        <p class="hint">${hint}</p>
      </div>
    `
    return html`<div class="stack" tabindex="-1">
      <slot></slot>
      <p><strong>${t('codes.who')}</strong></p>
      ${choice(t('codes.showFirst'), t('codes.showFirstHint'), !this.isSecond, this.#handleShowFirst)}
      ${choice(t('codes.scanFirst'), t('codes.scanFirstHint'), false, this.#handleScanFirst)}
      <slot name="after"></slot>
    </div>`
  }

  #renderScan(read: (event: CodeReadEvent) => unknown): TemplateResult {
    return html`<spoke-code-scan .camera=${this.camera} .refused=${this.refused} @code-read=${read}></spoke-code-scan>`
  }

  #renderStep(at: keyof typeof SAID, content: TemplateResult): TemplateResult {
    const [step, title, how] = SAID[at]
    return html`<section class="stack">
      <p class="step">${t('codes.step', { step })}</p>
      <h2 tabindex="-1">${t(title)}</h2>
      <p>${t(how)}</p>
      ${content} ${this.#renderOver()}
    </section>`
  }

  #renderOver(): TemplateResult {
    return html`<button class="quiet" @click=${this.#handleOver}>${t('codes.startOver')}</button>`
  }

  #renderFailed(failure: TwoCodesFailure): TemplateResult {
    return html`<section class="stack">
      <h2 tabindex="-1">${t('codes.failedTitle')}</h2>
      <p class="notice danger" role="alert">${sayUnmet(failure)}</p>
      ${
        failure.type === 'no-address'
          ? html`<button class="main" @click=${this.#handleAskCamera}>${t('codes.askCamera')}</button>`
          : nothing
      }
      <button class=${failure.type === 'no-address' ? 'wide' : 'main'} @click=${this.#handleOver}>${t('codes.startOver')}</button>
    </section>`
  }
}

customElements.define('spoke-code-walk', SpokeCodeWalk)
