import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { Role } from '../../src/crew/team-fields.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { type TextKey, t } from '../text/text.ts'

/** What the inviter says of a newcomer. */
export interface Named {
  readonly name: string
  readonly role: Role
}

/** The words in the form have changed: whoever shows the form keeps them. */
export class NamedEvent extends Event {
  readonly named: Named

  constructor(named: Named) {
    super('named', { bubbles: true, composed: true })
    this.named = named
  }
}

const ROLES: readonly (readonly [Role, TextKey, TextKey])[] = [
  ['technician', 'door.technician', 'codes.technicianDoes'],
  ['therapist', 'door.therapist', 'codes.therapistDoes'],
  ['coordinator', 'door.coordinator', 'codes.coordinatorDoes'],
  ['visitor', 'codes.visitor', 'codes.visitorDoes'],
]

/** Asks who the newcomer is, before anything is handed over. Fires `invite` or `decline`. */
export class SpokeInvite extends LitElement {
  static override styles = [
    base,
    formStyles,
    css`.question label.pick { display: flex; font-weight: 400; margin: 0; padding-block: var(--space-1); }
      .hint { margin: 0; }`,
  ]
  static override properties = {
    named: { attribute: false },
    isBusy: { attribute: false },
    error: { attribute: false },
    isMissing: { state: true },
  }
  declare named: Named
  declare isBusy: boolean
  /** Why the newcomer could not be let in, in words. */
  declare error: string
  declare isMissing: boolean

  constructor() {
    super()
    this.named = { name: '', role: 'technician' }
    this.isBusy = false
    this.error = ''
    this.isMissing = false
    new SpeechController(this)
  }

  #change(part: Partial<Named>): void {
    this.named = { ...this.named, ...part }
    this.isMissing = false
    this.dispatchEvent(new NamedEvent(this.named))
  }

  readonly #handleInvite = (event: Event): void => {
    event.preventDefault()
    if (this.isBusy) return
    this.isMissing = this.named.name.trim() === ''
    if (this.isMissing) this.renderRoot.querySelector<HTMLInputElement>('#name')?.focus()
    else this.dispatchEvent(new Event('invite'))
  }

  override render(): TemplateResult {
    const { named, isBusy } = this
    return html`<form class="stack" novalidate @submit=${this.#handleInvite}>
      <h2 tabindex="-1">${t('codes.inviteTitle')}</h2>
      <p class="notice warn">${t('codes.inviteWhat')}</p>
      <div class="question">
        <label for="name">${t('codes.inviteName')}</label>
        <p class="hint" id="name-hint">${t('codes.inviteNameHint')}</p>
        <input id="name" maxlength="80" autocomplete="off" autocapitalize="words" spellcheck="false" dir="auto"
          aria-describedby="name-hint name-error" aria-invalid=${this.isMissing ? 'true' : 'false'} .value=${named.name}
          @input=${(event: InputEvent) => this.#change({ name: (event.target as HTMLInputElement).value })} />
        <p class="error" id="name-error" ?hidden=${!this.isMissing}>${
          this.isMissing ? t('door.missing', { fields: t('codes.inviteName') }) : nothing
        }</p>
      </div>
      <fieldset class="question">
        <legend>${t('codes.inviteRole')}</legend>
        ${ROLES.map(
          ([role, title, does]) => html`<label class="pick">
            <input type="radio" name="role" id=${role} .checked=${named.role === role} @change=${() => this.#change({ role })} />
            <span><strong>${t(title)}</strong><br /><span class="hint">${t(does)}</span></span>
          </label>`,
        )}
      </fieldset>
      <p class="error" role="alert" ?hidden=${this.error === ''}>${this.error || nothing}</p>
      <button class="main" type="submit">${t(isBusy ? 'codes.inviting' : 'codes.inviteDo')}</button>
      <button class="quiet" type="button" @click=${() => this.dispatchEvent(new Event('decline'))}>${t('codes.inviteNot')}</button>
    </form>`
  }
}

customElements.define('spoke-invite', SpokeInvite)
