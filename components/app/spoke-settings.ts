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
import { type AppCasebook, type AppContext, appContext } from './context.ts'
import { IDLE_MINUTES, type Preferences } from './preferences.ts'
import type { Session } from './session.ts'
import './spoke-catalogue-file.ts'
import './spoke-contact.ts'
import './spoke-language.ts'
import './spoke-passphrase.ts'

const SIX_WEEKS_DAYS = 42

/** Where the crew's new name is kept until it is saved. */
const CREW_KEY = 'crew'
type CrewTyped = { readonly crewName?: string; readonly place?: string }
const crewTyped = (casebook: AppCasebook): CrewTyped =>
  (draftsOf(casebook).kept(CREW_KEY) as CrewTyped | undefined) ?? {}

/** A person chose another time after which the device locks by itself. */
export class IdleChangeEvent extends Event {
  static readonly type = 'idle-change'

  constructor() {
    super(IdleChangeEvent.type, { bubbles: true, composed: true })
  }
}

/** Language, crew, chair models, lock; and what only practice has. */
export class SpokeSettings extends LitElement {
  static override styles = [base, formStyles]
  static override properties = {
    session: { attribute: false },
    preferences: { attribute: false },
    crewError: { state: true },
    isSure: { state: true },
  }
  declare session: Session | undefined
  declare preferences: Preferences | undefined
  declare crewError: string
  declare isSure: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.crewError = ''
    this.isSure = false
    new SpeechController(this)
  }

  readonly #handleCrew = async (event: Event): Promise<void> => {
    event.preventDefault()
    const casebook = this.#app.value?.casebook
    if (!casebook) return
    const { title } = casebook.crew()
    const typed = crewTyped(casebook)
    const crewName = (typed.crewName ?? title?.crewName ?? '').trim()
    const place = (typed.place ?? title?.place ?? '').trim()
    const missing = [...(crewName ? [] : [t('door.crewName')]), ...(place ? [] : [t('door.place')])]
    if (missing.length > 0) {
      this.crewError = t('door.missing', { fields: currentSpeech().list(missing) })
      return
    }
    const saved = await whileWriting(() => casebook.setTitle({ crewName, place }))
    this.crewError = saved.ok ? '' : sayFailure(saved.failure)
    if (!saved.ok) return
    draftsOf(casebook).keep(CREW_KEY, undefined)
    this.requestUpdate()
    announce(t('settings.crewSaved'))
  }

  async #moveDay(days: number): Promise<void> {
    const day = await this.session?.movePracticeDay(days)
    if (day) announce(t('settings.practiceMoved', { date: currentSpeech().date(day) }))
  }

  override render(): TemplateResult {
    const app = this.#app.value
    if (!app) return html`<p class="page" role="status">${t('app.loading')}</p>`
    return html`<div class="page">
      <h1>${t('settings.title')}</h1>
      <spoke-language></spoke-language>
      ${this.#renderCrew(app)}
      <spoke-contact></spoke-contact>
      <section class="block stack"><h2>${t('settings.catalogue')}</h2><spoke-catalogue-file></spoke-catalogue-file></section>
      ${app.practice ? this.#renderPractice(app) : this.#renderLock()}
      <section class="block stack"><h2>${t('settings.version')}</h2><p class="quiet">${t('settings.cautions')}</p></section>
    </div>`
  }

  #renderCrew({ casebook }: AppContext): TemplateResult {
    const { title, members } = casebook.crew()
    const you = members.get(casebook.device)
    const typed = crewTyped(casebook)
    const type = (part: CrewTyped): void => draftsOf(casebook).keep(CREW_KEY, { ...crewTyped(casebook), ...part })
    return html`<form class="block stack" novalidate @submit=${this.#handleCrew}>
      <h2>${t('settings.crew')}</h2>
      ${you ? html`<p>${t('settings.you', { name: you.name, role: t(`settings.role ${you.role}`) })}</p>` : nothing}
      <div class="pair">
        <div class="question">
          <label for="crew-name">${t('door.crewName')}</label>
          <input id="crew-name" maxlength="80" autocomplete="off" .value=${typed.crewName ?? title?.crewName ?? ''}
            @input=${(event: InputEvent) => type({ crewName: (event.target as HTMLInputElement).value })} />
        </div>
        <div class="question">
          <label for="place">${t('door.place')}</label>
          <input id="place" maxlength="80" autocomplete="off" .value=${typed.place ?? title?.place ?? ''}
            @input=${(event: InputEvent) => type({ place: (event.target as HTMLInputElement).value })} />
        </div>
      </div>
      <p class="error" role="alert" ?hidden=${!this.crewError}>${this.crewError || nothing}</p>
      <button type="submit">${t('settings.crewSave')}</button>
    </form>`
  }

  #renderLock(): TemplateResult {
    const minutes = this.preferences?.idleMinutes()
    return html`
      <section class="block stack">
        <h2>${t('settings.passphrase')}</h2>
        <div class="question">
          <label for="idle">${t('settings.idle')}</label>
          <select id="idle" @change=${(event: Event) => {
            this.preferences?.keepIdleMinutes(Number((event.target as HTMLSelectElement).value))
            this.dispatchEvent(new IdleChangeEvent())
          }}>
            ${IDLE_MINUTES.map(
              count =>
                html`<option value=${count} .selected=${count === minutes}>${t('settings.idleMinutes', { count })}</option>`,
            )}
          </select>
        </div>
        <button @click=${() => void this.session?.lock('asked')}>${t('settings.lockNow')}</button>
        <spoke-passphrase .session=${this.session}></spoke-passphrase>
      </section>
      <section class="block stack">
        <h2>${t('settings.practice')}</h2>
        <button @click=${() => void this.session?.openPractice()}>${t('settings.practiceOpen')}</button>
        <p class="hint">${t('settings.practiceOpenHint')}</p>
      </section>
    `
  }

  #renderPractice(app: AppContext): TemplateResult {
    return html`<section class="block stack">
      <h2>${t('settings.practice')}</h2>
      <p>${t('settings.practiceIs', { date: currentSpeech().date(app.today()) })}</p>
      <div class="actions" role="group" aria-label=${t('settings.practiceDay')}>
        <button @click=${() => void this.#moveDay(1)}>${t('settings.practiceOneDay')}</button>
        <button @click=${() => void this.#moveDay(SIX_WEEKS_DAYS)}>${t('settings.practiceSixWeeks')}</button>
      </div>
      <div><button @click=${() => void this.session?.toDoor()}>${t('settings.practiceClose')}</button>
        <p class="hint">${t('settings.practiceCloseHint')}</p></div>
      <div>${
        this.isSure
          ? html`<div class="actions">
              <button class="main" @click=${() => void this.session?.openPracticeAfresh()}>${t('settings.practiceAfreshSure')}</button>
              <button class="quiet" @click=${() => {
                this.isSure = false
              }}>${t('app.cancel')}</button>
            </div>`
          : html`<button @click=${() => {
              this.isSure = true
            }}>${t('settings.practiceAfresh')}</button>`
      }<p class="hint">${t('settings.practiceAfreshHint')}</p></div>
    </section>`
  }
}

customElements.define('spoke-settings', SpokeSettings)
