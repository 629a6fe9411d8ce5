import { ContextProvider } from '@lit/context'
import { css, html, LitElement, type TemplateResult } from 'lit'
import { onAnnounce } from '../../components/app/announce.ts'
import { appContext } from '../../components/app/context.ts'
import { goTo, routeOf } from '../../components/app/routes.ts'
import '../../components/case/spoke-case.ts'
import { SpeechController } from '../../components/controllers/speech-controller.ts'
import { base } from '../../components/styles/tokens.ts'
import { t } from '../../components/text/text.ts'
import type { Fingerprints } from '../../sync/transport/gate.ts'
import { PRACTICE_DAY } from '../practice-trip.ts'
import { DemoDevice } from './demo-device.ts'
import { type DemoPhone, PHONE_CHANGE, type PhoneFacts } from './demo-phone.ts'

/** The screen of one of two phones: the case page of the app, on a device of its own. Its frame is the phone's edge. */
export class SpokeDemoPhone extends LitElement implements DemoPhone {
  static override styles = [
    base,
    css`
      main { padding-block-end: var(--space-6); }
      .waiting { padding: var(--space-6) var(--space-4); text-align: center; }
    `,
  ]
  static override properties = { said: { state: true } }
  declare said: string

  readonly #provider = new ContextProvider(this, { context: appContext })
  #device: DemoDevice | undefined
  #section: string | null = null
  #stopSaid: (() => void) | undefined

  constructor() {
    super()
    this.said = ''
    new SpeechController(this)
  }

  override connectedCallback(): void {
    super.connectedCallback()
    addEventListener('hashchange', this.#handleAddress)
    this.#stopSaid = onAnnounce(words => {
      this.said = words
    })
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    removeEventListener('hashchange', this.#handleAddress)
    this.#stopSaid?.()
  }

  /** Switches it on: a key and an empty store. */
  async open(): Promise<void> {
    this.#device = await DemoDevice.make(() => this.#handleChange())
  }

  get facts(): PhoneFacts {
    return this.#on().facts
  }

  found(): Promise<void> {
    return this.#on().found()
  }

  meet(line: MessagePort, fingerprints: Fingerprints): Promise<void> {
    return this.#on().meet(line, fingerprints)
  }

  show(section: string): void {
    const { caseId } = this.#on()
    if (caseId) goTo({ page: 'case', caseId, section })
  }

  #on(): DemoDevice {
    if (!this.#device) throw new Error('a phone was used before it was switched on')
    return this.#device
  }

  readonly #handleAddress = (): void => {
    const route = routeOf(location.hash)
    // Papers and lists belong to the whole app: here the case stays.
    if (route.page === 'case') this.#section = route.section
    this.requestUpdate()
  }

  #handleChange(): void {
    const casebook = this.#device?.casebook
    if (casebook && casebook !== this.#provider.value?.casebook)
      this.#provider.setValue({ casebook, practice: true, today: () => PRACTICE_DAY })
    this.requestUpdate()
    this.dispatchEvent(new CustomEvent(PHONE_CHANGE))
  }

  override render(): TemplateResult {
    const caseId = this.#device?.caseId
    return html`
      ${
        caseId
          ? html`<main>
              <spoke-case .caseId=${caseId} .section=${this.#section}></spoke-case>
            </main>`
          : html`<main class="waiting"><p role="status">${t('twoPhones.empty')}</p></main>`
      }
      <p class="unseen" role="status" aria-live="polite">${this.said}</p>
    `
  }
}

customElements.define('spoke-demo-phone', SpokeDemoPhone)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-demo-phone': SpokeDemoPhone
  }
}
