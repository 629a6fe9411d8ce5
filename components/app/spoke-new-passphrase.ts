import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { isStrongPassphrase } from '../../sync/trust/lock.ts'
import { HalfFilledController } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'

type Name = 'passphrase' | 'again'

/** Asks for the passphrase that seals this device from now on, typed twice. */
export class SpokeNewPassphrase extends LitElement {
  static override styles = [base, formStyles]
  static override properties = { typed: { state: true }, isShown: { state: true }, faults: { state: true } }
  declare typed: Readonly<Record<Name, string>>
  declare isShown: boolean
  declare faults: { readonly [At in Name]?: string | undefined }

  constructor() {
    super()
    this.typed = { passphrase: '', again: '' }
    this.isShown = false
    this.faults = {}
    new SpeechController(this)
    new HalfFilledController(this, () => Object.values(this.typed).some(text => text !== ''))
  }

  get passphrase(): string {
    return this.typed.passphrase
  }

  /** Whether it can be taken; what is wrong is said beside the field. */
  check(): boolean {
    const { passphrase, again } = this.typed
    const isMissing = passphrase.trim() === ''
    this.faults = {
      ...(isMissing ? { passphrase: t('door.missing', { fields: t('door.passphrase') }) } : {}),
      ...(passphrase === again ? {} : { again: t('door.notSame') }),
    }
    return !isMissing && passphrase === again
  }

  /** Says beside the field why it was not taken after all. */
  refuse(words: string): void {
    this.faults = { passphrase: words }
  }

  /** Goes to the first field with something wrong. */
  async focusFault(): Promise<void> {
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
  }

  override render(): TemplateResult {
    const { passphrase } = this.typed
    const strength =
      passphrase === '' ? '' : t(isStrongPassphrase(passphrase) ? 'door.passphraseStrong' : 'door.passphraseWeak')
    return html`<div class="stack">
      ${this.#renderText('passphrase', t('door.passphrase'), t('door.passphraseHint'))}
      ${strength ? html`<p class="hint">${strength}</p>` : nothing}
      ${this.#renderText('again', t('door.passphraseAgain'))}
      <div class="question"><div class="pick">
        <input type="checkbox" id="show" .checked=${this.isShown} @change=${(event: Event) => {
          this.isShown = (event.target as HTMLInputElement).checked
        }} />
        <label for="show">${t('door.show')}</label>
      </div></div>
      <p class="notice warn">${t('door.passphraseLost')}</p>
    </div>`
  }

  #renderText(name: Name, label: string, hint = ''): TemplateResult {
    const fault = this.faults[name]
    return html`<div class="question">
      <label for=${name}>${label}</label>
      ${hint ? html`<p class="hint" id=${`${name}-hint`}>${hint}</p>` : nothing}
      <input id=${name} type=${this.isShown ? 'text' : 'password'} autocomplete="new-password" autocapitalize="off"
        spellcheck="false" maxlength="400" aria-describedby=${`${name}-hint ${name}-error`}
        aria-invalid=${fault ? 'true' : 'false'} .value=${this.typed[name]}
        @input=${(event: InputEvent) => {
          this.typed = { ...this.typed, [name]: (event.target as HTMLInputElement).value }
          this.faults = { ...this.faults, [name]: undefined }
        }} />
      ${fault ? html`<p class="error" id=${`${name}-error`}>${fault}</p>` : nothing}
    </div>`
  }
}

customElements.define('spoke-new-passphrase', SpokeNewPassphrase)
