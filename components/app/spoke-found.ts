import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { askToPersist } from '../../sync/storage/readiness.ts'
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
import type { SpokeNewPassphrase } from './spoke-new-passphrase.ts'
import './spoke-new-passphrase.ts'

const ROLES = ['technician', 'therapist', 'coordinator'] as const
type TextName = 'crewName' | 'place' | 'name'
type Faults = { readonly [Name in TextName]?: string | undefined }

/** Founds a casebook: the crew, its place, its first member, and the passphrase that seals this device. */
export class SpokeFound extends LitElement {
  static override styles = [base, formStyles, doorStyles]
  static override properties = {
    session: { attribute: false },
    again: { attribute: false },
    typed: { state: true },
    role: { state: true },
    isBusy: { state: true },
    error: { state: true },
    faults: { state: true },
  }
  declare session: Session | undefined
  /** The device is sealed already; only the casebook is missing. */
  declare again: boolean
  declare typed: Readonly<Record<TextName, string>>
  declare role: Founding['role']
  declare isBusy: boolean
  declare error: string
  declare faults: Faults

  constructor() {
    super()
    this.again = false
    this.typed = { crewName: '', place: '', name: '' }
    this.role = 'technician'
    this.isBusy = false
    this.error = ''
    this.faults = {}
    new SpeechController(this)
    new HalfFilledController(this, () => Object.values(this.typed).some(text => text !== ''))
  }

  /** What keeps it from being founded, field by field. */
  #faultsNow(): Faults {
    const labels = { crewName: t('door.crewName'), place: t('door.place'), name: t('door.yourName') }
    const missing = Object.entries(labels).filter(([name]) => this.typed[name as TextName].trim() === '')
    return Object.fromEntries(missing.map(([name, label]) => [name, t('door.missing', { fields: label })]))
  }

  get #lock(): SpokeNewPassphrase | null {
    return this.renderRoot.querySelector('spoke-new-passphrase')
  }

  /** Whether everything is there; else the first that is not has the focus. */
  async #check(): Promise<boolean> {
    this.faults = this.#faultsNow()
    const isLockRight = this.#lock?.check() ?? true
    const isRight = Object.keys(this.faults).length === 0
    await this.updateComplete
    if (!isRight) this.renderRoot.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
    else if (!isLockRight) await this.#lock?.focusFault()
    return isRight && isLockRight
  }

  readonly #handleFound = async (event: Event): Promise<void> => {
    event.preventDefault()
    if (this.isBusy) return
    this.error = ''
    if (!(await this.#check())) return
    this.isBusy = true
    const { typed, role } = this
    const founded = await this.session?.found({ ...typed, role, passphrase: this.#lock?.passphrase ?? '' })
    this.isBusy = false
    if (founded && !founded.ok && founded.failure.type === 'short-passphrase') {
      this.#lock?.refuse(sayFailure(founded.failure))
      await this.#lock?.focusFault()
    } else if (founded && !founded.ok) this.error = sayFailure(founded.failure)
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
      ${
        this.again
          ? nothing
          : html`<section class="block"><h2>${t('door.lockTitle')}</h2><spoke-new-passphrase></spoke-new-passphrase></section>`
      }
      <p class="error" role="alert" ?hidden=${!this.error}>${this.error || nothing}</p>
      <div class="actions">
        <button class="main" type="submit">${t(this.isBusy ? 'door.founding' : 'door.foundNow')}</button>
        <button class="quiet" type="button" @click=${() => void this.session?.toDoor()}>${t('app.back')}</button>
      </div>
    </form>`
  }

  #renderText(name: TextName, label: string, hint = ''): TemplateResult {
    const fault = this.faults[name]
    return html`<div class="question">
      <label for=${name}>${label}</label>
      ${hint ? html`<p class="hint" id=${`${name}-hint`}>${hint}</p>` : nothing}
      <input id=${name} autocomplete="off" autocapitalize="words" spellcheck="false" maxlength="80"
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
