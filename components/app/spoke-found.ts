import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { askToPersist } from '../../sync/storage/readiness.ts'
import { isStrongPassphrase } from '../../sync/trust/lock.ts'
import { HalfFilledController } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { currentSpeech, t } from '../text/text.ts'
import { announce } from './announce.ts'
import { doorStyles } from './door-styles.ts'
import { hereSpelt } from './here.ts'
import type { Founding, Session } from './session.ts'

const ROLES = ['technician', 'therapist', 'coordinator'] as const
type TextName = 'crewName' | 'place' | 'name' | 'passphrase' | 'again'

/** Founds a casebook: the crew, its place, its first member, and the passphrase that seals this device. */
export class SpokeFound extends LitElement {
  static override styles = [base, formStyles, doorStyles]
  static override properties = {
    session: { attribute: false },
    again: { attribute: false },
    typed: { state: true },
    role: { state: true },
    isShown: { state: true },
    isBusy: { state: true },
    error: { state: true },
  }
  declare session: Session | undefined
  /** The device is sealed already; only the casebook is missing. */
  declare again: boolean
  declare typed: Readonly<Record<TextName, string>>
  declare role: Founding['role']
  declare isShown: boolean
  declare isBusy: boolean
  declare error: string

  constructor() {
    super()
    this.again = false
    this.typed = { crewName: '', place: '', name: '', passphrase: '', again: '' }
    this.role = 'technician'
    this.isShown = false
    this.isBusy = false
    this.error = ''
    new SpeechController(this)
    new HalfFilledController(this, () => Object.values(this.typed).some(text => text !== ''))
  }

  #problem(): string {
    const { crewName, place, name, passphrase, again } = this.typed
    const missing = [
      ...(crewName.trim() ? [] : [t('door.crewName')]),
      ...(place.trim() ? [] : [t('door.place')]),
      ...(name.trim() ? [] : [t('door.yourName')]),
      ...(this.again || passphrase ? [] : [t('door.passphrase')]),
    ]
    if (missing.length > 0) return t('door.missing', { fields: currentSpeech().list(missing) })
    return this.again || passphrase === again ? '' : t('door.notSame')
  }

  readonly #handleFound = async (event: Event): Promise<void> => {
    event.preventDefault()
    if (this.isBusy) return
    this.error = this.#problem()
    if (this.error) return
    this.isBusy = true
    const { crewName, place, name, passphrase } = this.typed
    const { role } = this
    const founded = await this.session?.found({ crewName, place, name, passphrase, role })
    this.isBusy = false
    if (founded && !founded.ok) this.error = sayFailure(founded.failure)
    else {
      announce(t('door.founded'))
      // A refusal is shown under "Ready for the field", with what helps.
      void askToPersist(navigator)
    }
  }

  override render(): TemplateResult {
    return html`<form class="door" novalidate @submit=${this.#handleFound}>
      <h1>${t('door.foundTitle')}</h1>
      <p class="notice">${t('door.livesHere', { address: hereSpelt() })}</p>
      ${this.again ? html`<p class="notice warn">${t('door.again')}</p>` : nothing}
      ${this.#renderText('crewName', t('door.crewName'))}
      ${this.#renderText('place', t('door.place'), t('door.placeHint'))}
      ${this.#renderText('name', t('door.yourName'), t('door.yourNameHint'))}
      <fieldset class="question">
        <legend>${t('door.role')}</legend>
        ${ROLES.map(
          role => html`<div class="pick">
            <input type="radio" name="role" id=${role} .checked=${this.role === role} @change=${() => {
              this.role = role
            }} />
            <label for=${role}>${t(`door.${role}`)}</label>
          </div>`,
        )}
      </fieldset>
      ${this.again ? nothing : this.#renderPassphrase()}
      <p class="error" role="alert" ?hidden=${!this.error}>${this.error || nothing}</p>
      <div class="actions">
        <button class="main" type="submit">${t(this.isBusy ? 'door.founding' : 'door.foundNow')}</button>
        <button class="quiet" type="button" @click=${() => void this.session?.toDoor()}>${t('app.back')}</button>
      </div>
    </form>`
  }

  #renderPassphrase(): TemplateResult {
    const { passphrase } = this.typed
    const strength =
      passphrase === '' ? '' : t(isStrongPassphrase(passphrase) ? 'door.passphraseStrong' : 'door.passphraseWeak')
    return html`
      ${this.#renderText('passphrase', t('door.passphrase'), t('door.passphraseHint'))}
      <p class="hint">${strength}</p>
      ${this.#renderText('again', t('door.passphraseAgain'))}
      <div class="question"><div class="pick">
        <input type="checkbox" id="show" .checked=${this.isShown} @change=${(event: Event) => {
          this.isShown = (event.target as HTMLInputElement).checked
        }} />
        <label for="show">${t('door.show')}</label>
      </div></div>
      <p class="notice warn">${t('door.passphraseLost')}</p>
    `
  }

  #renderText(name: TextName, label: string, hint = ''): TemplateResult {
    const isSecret = name === 'passphrase' || name === 'again'
    return html`<div class="question">
      <label for=${name}>${label}</label>
      ${hint ? html`<p class="hint" id=${`${name}-hint`}>${hint}</p>` : nothing}
      <input id=${name} type=${isSecret && !this.isShown ? 'password' : 'text'} autocomplete=${isSecret ? 'new-password' : 'off'}
        autocapitalize=${isSecret ? 'off' : 'words'} spellcheck="false" maxlength=${isSecret ? 400 : 80}
        aria-describedby=${`${name}-hint`} .value=${this.typed[name]}
        @input=${(event: InputEvent) => {
          this.typed = { ...this.typed, [name]: (event.target as HTMLInputElement).value }
        }} />
    </div>`
  }
}

customElements.define('spoke-found', SpokeFound)
