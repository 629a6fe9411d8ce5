import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import { doorStyles } from './door-styles.ts'
import type { Session, SessionState } from './session.ts'

type Why = Extract<SessionState, { at: 'locked' }>['why']

/** Asks for the passphrase. A wrong one touches nothing and says so. */
export class SpokeLock extends LitElement {
  static override styles = [base, formStyles, doorStyles]
  static override properties = {
    session: { attribute: false },
    why: { attribute: false },
    isBusy: { state: true },
    isShown: { state: true },
    error: { state: true },
  }
  declare session: Session | undefined
  declare why: Why
  declare isBusy: boolean
  declare isShown: boolean
  declare error: string

  constructor() {
    super()
    this.why = 'start'
    this.isBusy = false
    this.isShown = false
    this.error = ''
    new SpeechController(this)
  }

  readonly #handleUnlock = async (event: Event): Promise<void> => {
    event.preventDefault()
    if (this.isBusy) return
    const input = this.renderRoot.querySelector<HTMLInputElement>('#passphrase')
    const passphrase = input?.value ?? ''
    if (passphrase.trim() === '') {
      this.error = t('door.passphraseEmpty')
      input?.focus()
      return
    }
    this.isBusy = true
    this.error = ''
    const unlocked = await this.session?.unlock(passphrase)
    this.isBusy = false
    if (unlocked && !unlocked.ok) {
      this.error = sayFailure(unlocked.failure)
      input?.select()
    }
  }

  override render(): TemplateResult {
    return html`<form class="door" @submit=${this.#handleUnlock}>
      <h1>${t('door.lockedTitle')}</h1>
      <p>${t(this.why === 'idle' ? 'door.lockedIdle' : 'door.locked')}</p>
      <div class="question">
        <label for="passphrase">${t('door.passphrase')}</label>
        <input id="passphrase" type=${this.isShown ? 'text' : 'password'} autocomplete="current-password" autocapitalize="off"
          spellcheck="false" aria-describedby="passphrase-error" aria-invalid=${this.error ? 'true' : 'false'} />
        <p class="error" id="passphrase-error" role="alert" ?hidden=${!this.error}>${this.error || nothing}</p>
        <div class="pick">
          <input type="checkbox" id="show" .checked=${this.isShown}
            @change=${(event: Event) => {
              this.isShown = (event.target as HTMLInputElement).checked
            }} />
          <label for="show">${t('door.show')}</label>
        </div>
      </div>
      <button class="main" type="submit">${t(this.isBusy ? 'door.unlocking' : 'door.unlock')}</button>
      <button class="quiet" type="button" @click=${() => void this.session?.openPractice()}>${t('door.practiceInstead')}</button>
      <details><summary>${t('door.forgotten')}</summary><p class="notice">${t('door.forgottenHow')}</p></details>
    </form>`
  }
}

customElements.define('spoke-lock', SpokeLock)
