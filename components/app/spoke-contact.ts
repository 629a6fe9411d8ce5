import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { currentSpeech, t } from '../text/text.ts'
import { announce } from './announce.ts'
import { appContext } from './context.ts'

/** Whom people call about their chair, and the number: printed on every handover sheet. Those given apart all stand. */
export class SpokeContact extends LitElement {
  static override styles = [base, formStyles]
  static override properties = { who: { state: true }, telephone: { state: true }, failure: { state: true } }
  /** As typed; null while nothing was. */
  declare who: string | null
  declare telephone: string | null
  declare failure: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.who = null
    this.telephone = null
    this.failure = ''
    new SpeechController(this)
  }

  readonly #handleSave = async (event: Event): Promise<void> => {
    event.preventDefault()
    const casebook = this.#app.value?.casebook
    if (!casebook) return
    const [known] = casebook.crew().contacts
    const who = (this.who ?? known?.who ?? '').trim()
    const telephone = (this.telephone ?? known?.telephone ?? '').trim()
    const isTakenBack = who === '' && telephone === ''
    const missing = [...(who ? [] : [t('settings.contactWho')]), ...(telephone ? [] : [t('settings.contactTelephone')])]
    if (missing.length > 0 && !(isTakenBack && known)) {
      this.failure = t('door.missing', { fields: currentSpeech().list(missing) })
      return
    }
    const saved = await casebook.setContact(isTakenBack ? null : { who, telephone })
    this.failure = saved.ok ? '' : sayFailure(saved.failure)
    if (!saved.ok) return
    this.who = null
    this.telephone = null
    announce(t(isTakenBack ? 'settings.contactGone' : 'settings.contactSaved'))
  }

  override render(): TemplateResult {
    const contacts = this.#app.value?.casebook.crew().contacts ?? []
    const [known] = contacts
    return html`<form class="stack" novalidate @submit=${this.#handleSave}>
      <h3>${t('settings.contact')}</h3>
      <p class="hint">${t('settings.contactHint')}</p>
      ${
        contacts.length > 1
          ? html`<p class="notice warn">${t('settings.contactTwice', {
              contacts: currentSpeech().list(contacts.map(one => `${one.who} ${one.telephone}`)),
            })}</p>`
          : nothing
      }
      <div class="pair">
        <div class="question">
          <label for="who">${t('settings.contactWho')}</label>
          <input id="who" dir="auto" maxlength="80" autocomplete="off" .value=${this.who ?? known?.who ?? ''}
            @input=${(event: InputEvent) => {
              this.who = (event.target as HTMLInputElement).value
            }} />
        </div>
        <div class="question">
          <label for="telephone">${t('settings.contactTelephone')}</label>
          <input id="telephone" type="tel" dir="ltr" maxlength="60" autocomplete="off" .value=${this.telephone ?? known?.telephone ?? ''}
            @input=${(event: InputEvent) => {
              this.telephone = (event.target as HTMLInputElement).value
            }} />
        </div>
      </div>
      <p class="error" role="alert" ?hidden=${this.failure === ''}>${this.failure}</p>
      <button type="submit">${t('settings.contactSave')}</button>
    </form>`
  }
}

customElements.define('spoke-contact', SpokeContact)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-contact': SpokeContact
  }
}
