import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { draftsOf } from '../controllers/drafts.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { whileWriting } from '../controllers/writing.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { currentSpeech, t } from '../text/text.ts'
import { announce } from './announce.ts'
import { type AppCasebook, appContext } from './context.ts'

/** Kept among what is typed about the crew until it is saved. */
const CONTACT_KEY = 'crew contact'
type ContactTyped = { readonly who?: string; readonly telephone?: string }
const contactTyped = (casebook: AppCasebook): ContactTyped =>
  (draftsOf(casebook).kept(CONTACT_KEY) as ContactTyped | undefined) ?? {}

/** Whom people call about their chair, and the number: printed on every handover sheet. Those given apart all stand. */
export class SpokeContact extends LitElement {
  static override styles = [base, formStyles]
  static override properties = { failure: { state: true } }
  declare failure: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.failure = ''
    new SpeechController(this)
  }

  readonly #handleSave = async (event: Event): Promise<void> => {
    event.preventDefault()
    const casebook = this.#app.value?.casebook
    if (!casebook) return
    const [known] = casebook.crew().contacts
    const typed = contactTyped(casebook)
    const who = (typed.who ?? known?.who ?? '').trim()
    const telephone = (typed.telephone ?? known?.telephone ?? '').trim()
    const isTakenBack = who === '' && telephone === ''
    const missing = [...(who ? [] : [t('settings.contactWho')]), ...(telephone ? [] : [t('settings.contactTelephone')])]
    if (missing.length > 0 && !(isTakenBack && known)) {
      this.failure = t('door.missing', { fields: currentSpeech().list(missing) })
      return
    }
    const saved = await whileWriting(() => casebook.setContact(isTakenBack ? null : { who, telephone }))
    this.failure = saved.ok ? '' : sayFailure(saved.failure)
    if (!saved.ok) return
    draftsOf(casebook).keep(CONTACT_KEY, undefined)
    this.requestUpdate()
    announce(t(isTakenBack ? 'settings.contactGone' : 'settings.contactSaved'))
  }

  override render(): TemplateResult {
    const casebook = this.#app.value?.casebook
    if (!casebook) return html`<p role="status">${t('app.loading')}</p>`
    const { contacts } = casebook.crew()
    const [known] = contacts
    const typed = contactTyped(casebook)
    const type = (part: ContactTyped): void =>
      draftsOf(casebook).keep(CONTACT_KEY, { ...contactTyped(casebook), ...part })
    return html`<form class="stack" novalidate @submit=${this.#handleSave}>
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
          <input id="who" dir="auto" maxlength="80" autocomplete="off" .value=${typed.who ?? known?.who ?? ''}
            @input=${(event: InputEvent) => type({ who: (event.target as HTMLInputElement).value })} />
        </div>
        <div class="question">
          <label for="telephone">${t('settings.contactTelephone')}</label>
          <input id="telephone" type="tel" dir="ltr" maxlength="60" autocomplete="off" .value=${typed.telephone ?? known?.telephone ?? ''}
            @input=${(event: InputEvent) => type({ telephone: (event.target as HTMLInputElement).value })} />
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
