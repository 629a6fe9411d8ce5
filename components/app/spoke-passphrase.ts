import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { HalfFilledController } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { announce } from './announce.ts'
import type { Session } from './session.ts'

type Name = 'old' | 'next' | 'again'

/** Changes the passphrase: 32 bytes are sealed anew, nothing else is touched. */
export class SpokePassphrase extends LitElement {
  static override styles = [base, formStyles]
  static override properties = {
    session: { attribute: false },
    typed: { state: true },
    isBusy: { state: true },
    error: { state: true },
    isChanged: { state: true },
  }
  declare session: Pick<Session, 'changePassphrase'> | undefined
  declare typed: Readonly<Record<Name, string>>
  declare isBusy: boolean
  declare error: string
  declare isChanged: boolean

  constructor() {
    super()
    this.typed = { old: '', next: '', again: '' }
    this.isBusy = false
    this.error = ''
    this.isChanged = false
    new SpeechController(this)
    new HalfFilledController(this, () => Object.values(this.typed).some(text => text !== ''))
  }

  readonly #handleChange = async (event: Event): Promise<void> => {
    event.preventDefault()
    if (this.isBusy) return
    const { old, next, again } = this.typed
    this.isChanged = false
    this.error = old === '' || next === '' ? t('door.passphraseEmpty') : next === again ? '' : t('door.notSame')
    if (this.error) return
    this.isBusy = true
    const changed = await this.session?.changePassphrase(old, next)
    this.isBusy = false
    if (!changed) return
    if (!changed.ok) {
      this.error = sayFailure(changed.failure)
      return
    }
    this.typed = { old: '', next: '', again: '' }
    this.isChanged = true
    announce(t('settings.passphraseChanged'))
  }

  override render(): TemplateResult {
    return html`<form class="stack" novalidate @submit=${this.#handleChange}>
      ${this.#renderText('old', t('settings.passphraseOld'), 'current-password')}
      ${this.#renderText('next', t('settings.passphraseNew'), 'new-password', t('door.passphraseHint'))}
      ${this.#renderText('again', t('door.passphraseAgain'), 'new-password')}
      <p class="error" role="alert" ?hidden=${!this.error}>${this.error || nothing}</p>
      ${this.isChanged ? html`<p class="notice">${t('settings.passphraseChanged')}</p>` : nothing}
      <button type="submit">${t(this.isBusy ? 'settings.passphraseChanging' : 'settings.passphraseChange')}</button>
    </form>`
  }

  #renderText(name: Name, label: string, autocomplete: 'current-password' | 'new-password', hint = ''): TemplateResult {
    return html`<div class="question">
      <label for=${name}>${label}</label>
      ${hint ? html`<p class="hint" id=${`${name}-hint`}>${hint}</p>` : nothing}
      <input id=${name} type="password" autocomplete=${autocomplete} aria-describedby=${`${name}-hint`} .value=${this.typed[name]}
        @input=${(event: InputEvent) => {
          this.typed = { ...this.typed, [name]: (event.target as HTMLInputElement).value }
        }} />
    </div>`
  }
}

customElements.define('spoke-passphrase', SpokePassphrase)
