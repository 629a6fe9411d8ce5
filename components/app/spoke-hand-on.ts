import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { noteBundle } from '../../sync/storage/readiness.ts'
import { makeBundle } from '../../sync/transport/bundle.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { FollowController } from '../controllers/follow-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { writingDone } from '../controllers/writing.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayError, sayFailure } from '../text/say-failure.ts'
import { currentSpeech, t } from '../text/text.ts'
import { announce } from './announce.ts'
import { type AppCasebook, appContext } from './context.ts'
import type { Session } from './session.ts'
import { BUNDLE_ENDING } from './spoke-take-in.ts'

/** What of the browser hands a file on; something else in tests. */
export interface HandOnPlatform {
  canShare(file: File): boolean
  share(file: File): Promise<void>
  save(file: File): void
}

type Sealed =
  | { readonly status: 'sealing' | 'no-secret' }
  | { readonly status: 'there'; readonly bytes: Uint8Array<ArrayBuffer>; readonly caseCount: number }
  | { readonly status: 'failed'; readonly reason: string }

/** Everything on this device as one sealed file; and taking in what others handed on. */
export class SpokeHandOn extends LitElement {
  static override styles = [base, formStyles]
  static override properties = {
    session: { attribute: false },
    platform: { attribute: false },
    sealed: { state: true },
    said: { state: true },
  }
  declare session: Session | undefined
  declare platform: HandOnPlatform | undefined
  declare sealed: Sealed
  /** What came of handing it on. */
  declare said: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #casebook = new FollowController<AppCasebook>(this, (casebook, told) =>
    casebook.subscribe(change => {
      if (change.type !== 'entries' && change.type !== 'removed') return
      this.#seal()
      told()
    }),
  )
  #of: AppCasebook | undefined
  #isSealing = false
  #isStale = false

  constructor() {
    super()
    this.sealed = { status: 'sealing' }
    this.said = ''
    new SpeechController(this)
  }

  override willUpdate(): void {
    const casebook = this.#app.value?.casebook
    this.#casebook.follow(casebook)
    if (!casebook || casebook === this.#of) return
    this.#of = casebook
    this.#seal()
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#of = undefined
    this.sealed = { status: 'sealing' }
  }

  /** Sealed before it is asked for: a browser shares only what is at hand in the moment of the press. */
  #seal(): void {
    this.#isStale = true
    this.sealed = { status: 'sealing' }
    if (!this.#isSealing) void this.#sealAll()
  }

  async #sealAll(): Promise<void> {
    this.#isSealing = true
    let sealed: Sealed = { status: 'sealing' }
    while (this.#isStale && this.#of) {
      const casebook = this.#of
      // A bundle that is being taken in is sealed once, at its end.
      await writingDone()
      await casebook.settled()
      this.#isStale = false
      sealed = await sealedOf(casebook)
    }
    this.#isSealing = false
    this.sealed = sealed
  }

  #platformNow(): HandOnPlatform {
    return this.platform ?? browserPlatform
  }

  #file(bytes: Uint8Array<ArrayBuffer>): File {
    // Nothing of a person, a place or the crew: the name is read by whatever carries the file.
    const name = `outspoke-${this.#app.value?.today() ?? ''}${BUNDLE_ENDING}`
    return new File([bytes], name, { type: 'application/octet-stream' })
  }

  async #share(file: File): Promise<void> {
    try {
      await this.#platformNow().share(file)
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return this.#say(t('handOn.notShared'))
      // Some systems say that they share any file and then refuse this kind.
      this.#platformNow().save(file)
      return this.#handedOn(t('handOn.savedInstead', { file: file.name }))
    }
    await this.#handedOn(t('handOn.shared'))
  }

  async #save(file: File): Promise<void> {
    this.#platformNow().save(file)
    await this.#handedOn(t('handOn.saved', { file: file.name }))
  }

  /** From today the Ready page counts anew; practice is never counted. */
  async #handedOn(words: string): Promise<void> {
    const [storage, app] = [this.session?.device?.storage, this.#app.value]
    if (!storage || !app || app.practice) return this.#say(words)
    const noted = await noteBundle(storage, app.today())
    const counted = noted.ok ? t('handOn.counts') : t('handOn.notCounted', { reason: sayFailure(noted.failure) })
    this.#say(`${words} ${counted}`)
  }

  #say(words: string): void {
    this.said = words
    announce(words)
  }

  override render(): TemplateResult {
    const app = this.#app.value
    if (!app) return html`<p class="page" role="status">${t('app.loading')}</p>`
    return html`<div class="page">
      <h1>${t('handOn.title')}</h1>
      ${app.practice ? html`<p class="notice">${t('handOn.practice')}</p>` : nothing}
      ${this.#renderSealed()}
      ${this.said ? html`<p class="notice">${this.said}</p>` : nothing}
      <spoke-take-in class="block"></spoke-take-in>
    </div>`
  }

  #renderSealed(): TemplateResult {
    const { sealed } = this
    switch (sealed.status) {
      case 'sealing':
        return html`<p role="status">${t('handOn.sealing')}</p>`
      case 'no-secret':
        return html`<p class="notice warn">${t('handOn.noSecret')}</p>`
      case 'failed':
        return html`<p class="notice danger" role="alert">${t('app.failed', { reason: sealed.reason })}</p>
          <button @click=${() => this.#seal()}>${t('app.tryAgain')}</button>`
      case 'there': {
        const file = this.#file(sealed.bytes)
        const canShare = this.#platformNow().canShare(file)
        return html`<p>${t('handOn.what', { count: sealed.caseCount, size: currentSpeech().bytes(file.size) })}</p>
          <p class="quiet">${t('handOn.photosStay')}</p>
          ${canShare ? html`<button class="main" @click=${() => void this.#share(file)}>${t('handOn.share')}</button>` : nothing}
          <button class=${canShare ? '' : 'main'} @click=${() => void this.#save(file)}>${t('handOn.save')}</button>`
      }
    }
  }
}

const sealedOf = async (casebook: AppCasebook): Promise<Sealed> => {
  const secret = currentSecret(casebook.secrets())
  if (!secret) return { status: 'no-secret' }
  try {
    const bytes = new Uint8Array(await makeBundle(casebook, secret))
    return { status: 'there', bytes, caseCount: casebook.summaries().length }
  } catch (error) {
    return { status: 'failed', reason: sayError(error) }
  }
}

const browserPlatform: HandOnPlatform = {
  canShare: file => navigator.canShare?.({ files: [file] }) ?? false,
  share: file => navigator.share({ files: [file] }),
  save: file => {
    const address = URL.createObjectURL(file)
    const link = document.createElement('a')
    link.href = address
    link.download = file.name
    link.click()
    // The browser has taken the file over by then; kept longer, its bytes would stay in memory.
    setTimeout(() => URL.revokeObjectURL(address), 60_000)
  },
}

customElements.define('spoke-hand-on', SpokeHandOn)
