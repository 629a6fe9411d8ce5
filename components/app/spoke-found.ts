import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { askToPersist } from '../../sync/storage/readiness.ts'
import { isStrongPassphrase } from '../../sync/trust/lock.ts'
import { HalfFilledController } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { announce } from './announce.ts'
import { doorStyles } from './door-styles.ts'
import { hereSpelt } from './here.ts'
import type { Founding, Session } from './session.ts'

const ROLES = ['technician', 'therapist', 'coordinator'] as const
type TextName = 'crewName' | 'place' | 'name' | 'passphrase' | 'again'
type Faults = { readonly [Name in TextName]?: string | undefined }

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
    faults: { state: true },
  }
  declare session: Session | undefined
  /** The device is sealed already; only the casebook is missing. */
  declare again: boolean
  declare typed: Readonly<Record<TextName, string>>
  declare role: Founding['role']
  declare isShown: boolean
  declare isBusy: boolean
  declare error: string
  declare faults: Faults

  constructor() {
    super()
    this.again = false
    this.typed = { crewName: '', place: '', name: '', passphrase: '', again: '' }
    this.role = 'technician'
    this.isShown = false
    this.isBusy = false
    this.error = ''
    this.faults = {}
    new SpeechController(this)
    new HalfFilledController(this, () => Object.values(this.typed).some(text => text !== ''))
  }

  /** What keeps it from being founded, field by field. */
  #faultsNow(): Faults {
    const { passphrase, again } = this.typed
    const labels = { crewName: t('door.crewName'), place: t('door.place'), name: t('door.yourName') }
    const needed = this.again ? labels : { ...labels, passphrase: t('door.passphrase') }
    const missing = Object.entries(needed).filter(([name]) => this.typed[name as TextName].trim() === '')
    const faults = Object.fromEntries(missing.map(([name, label]) => [name, t('door.missing', { fields: label })]))
    return this.again || passphrase === again ? faults : { ...faults, again: t('door.notSame') }
  }

  async #refuse(faults: Faults): Promise<void> {
    this.faults = faults
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
  }

  readonly #handleFound = async (event: Event): Promise<void> => {
    event.preventDefault()
    if (this.isBusy) return
    this.error = ''
    const faults = this.#faultsNow()
    await this.#refuse(faults)
    if (Object.keys(faults).length > 0) return
    this.isBusy = true
    const { crewName, place, name, passphrase } = this.typed
    const { role } = this
    const founded = await this.session?.found({ crewName, place, name, passphrase, role })
    this.isBusy = false
    if (founded && !founded.ok && founded.failure.type === 'short-passphrase')
      await this.#refuse({ passphrase: sayFailure(founded.failure) })
    else if (founded && !founded.ok) this.error = sayFailure(founded.failure)
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
      <section class="block">
        <h2>${t('settings.crew')}</h2>
        ${this.#renderText('crewName', t('door.crewName'))}
        ${this.#renderText('place', t('door.place'), t('door.placeHint'))}
      </section>
      <section class="block">
        <h2>${t('door.youTitle')}</h2>
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
      </section>
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
    return html`<section class="block">
      <h2>${t('door.lockTitle')}</h2>
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
    </section>`
  }

  #renderText(name: TextName, label: string, hint = ''): TemplateResult {
    const isSecret = name === 'passphrase' || name === 'again'
    const fault = this.faults[name]
    return html`<div class="question">
      <label for=${name}>${label}</label>
      ${hint ? html`<p class="hint" id=${`${name}-hint`}>${hint}</p>` : nothing}
      <input id=${name} type=${isSecret && !this.isShown ? 'password' : 'text'} autocomplete=${isSecret ? 'new-password' : 'off'}
        autocapitalize=${isSecret ? 'off' : 'words'} spellcheck="false" maxlength=${isSecret ? 400 : 80}
        aria-describedby=${`${name}-hint ${name}-error`} aria-invalid=${fault ? 'true' : 'false'} .value=${this.typed[name]}
        @input=${(event: InputEvent) => {
          this.typed = { ...this.typed, [name]: (event.target as HTMLInputElement).value }
          this.faults = { ...this.faults, [name]: undefined }
        }} />
      ${fault ? html`<p class="error" id=${`${name}-error`}>${fault}</p>` : nothing}
    </div>`
  }
}

customElements.define('spoke-found', SpokeFound)
