import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { FollowController } from '../controllers/follow-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { looksOn } from '../crew/looks-on.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayName } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { announce } from './announce.ts'
import { type AppCasebook, type AppContext, appContext } from './context.ts'
import { IDLE_MINUTES, type Preferences } from './preferences.ts'
import { addressOf } from './routes.ts'
import type { Session } from './session.ts'
import './spoke-catalogue-file.ts'
import { settingsStyles } from './settings-styles.ts'
import './spoke-contact.ts'
import './spoke-language.ts'
import './spoke-passphrase.ts'

const SIX_WEEKS_DAYS = 42

/** A person chose another time after which the device locks by itself. */
export class IdleChangeEvent extends Event {
  static readonly type = 'idle-change'

  constructor() {
    super(IdleChangeEvent.type, { bubbles: true, composed: true })
  }
}

/** Language, crew, chair models, lock; and what only practice has. */
export class SpokeSettings extends LitElement {
  static override styles = [base, formStyles, settingsStyles]
  static override properties = {
    session: { attribute: false },
    preferences: { attribute: false },
    isSure: { state: true },
  }
  declare session: Session | undefined
  declare preferences: Preferences | undefined
  declare isSure: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #casebook = new FollowController<AppCasebook>(this, (casebook, told) => casebook.subscribe(told))

  constructor() {
    super()
    this.isSure = false
    new SpeechController(this)
  }

  override willUpdate(): void {
    this.#casebook.follow(this.#app.value?.casebook)
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
      ${
        app.practice
          ? nothing
          : html`<button @click=${() => void this.session?.lock('asked')}>${t('settings.lockNow')}</button>`
      }
      <a class="row go" href=${addressOf({ page: 'hand-on' })}>
        <strong>${t('handOn.title')}</strong><span class="result">${t('handOn.hint')}</span>
      </a>
      ${this.#renderCrew(app)}
      ${looksOn(app.casebook) ? nothing : html`${this.#renderContact(app)} ${this.#renderCatalogue(app)}`}
      ${app.practice ? this.#renderPractice(app) : this.#renderLock()}
      ${row(t('settings.version'), '', html`<p>${t('settings.cautions')}</p>`)}
    </div>`
  }

  #renderCrew({ casebook }: AppContext): TemplateResult {
    const { members } = casebook.crew()
    const you = members.get(casebook.device)
    return html`<a class="row go" href=${addressOf({ page: 'crew' })}>
      <strong>${t('settings.crew')}</strong>
      <span class="result">
        ${you ? t('settings.you', { name: sayName(casebook, casebook.device), role: t(`settings.role ${you.role}`) }) : nothing}
        ${t('crew.hint', { count: members.size })}
      </span>
    </a>`
  }

  #renderContact({ casebook }: AppContext): TemplateResult {
    const said = casebook.crew().contacts.map(({ who, telephone }) => `${who} ${telephone}`)
    const result = said.length > 0 ? currentSpeech().list(said) : t('settings.contactNone')
    return row(t('settings.contact'), result, html`<spoke-contact></spoke-contact>`)
  }

  #renderCatalogue({ casebook }: AppContext): TemplateResult {
    const count = casebook.context().catalogue.models.length
    const result = count > 0 ? t('ready.chairs', { count }) : t('ready.chairsNone')
    return row(t('settings.catalogue'), result, html`<spoke-catalogue-file></spoke-catalogue-file>`)
  }

  #renderLock(): TemplateResult {
    const minutes = this.preferences?.idleMinutes() ?? IDLE_MINUTES[0]
    const idle = `${t('settings.idle')} ${t('settings.idleMinutes', { count: minutes })}`
    return html`
      ${row(
        t('settings.passphrase'),
        idle,
        html`<div class="question">
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
        <spoke-passphrase .session=${this.session}></spoke-passphrase>`,
      )}
      ${row(
        t('settings.practice'),
        t('settings.practiceOpenHint'),
        html`<button @click=${() => void this.session?.openPractice()}>${t('settings.practiceOpen')}</button>`,
      )}
    `
  }

  #renderPractice(app: AppContext): TemplateResult {
    const content = html`<div class="actions" role="group" aria-label=${t('settings.practiceDay')}>
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
      }<p class="hint">${t('settings.practiceAfreshHint')}</p></div>`
    return row(
      t('settings.practice'),
      t('settings.practiceIs', { date: currentSpeech().date(app.today()) }),
      content,
      true,
    )
  }
}

/** A part of the settings as a row that says how it stands, and opens. */
const row = (title: string, result: string, content: TemplateResult, isOpen = false): TemplateResult => html`<details
  class="row"
  ?open=${isOpen}
>
  <summary><h2>${title}</h2><span class="result">${result}</span></summary>
  <div class="inside stack">${content}</div>
</details>`

customElements.define('spoke-settings', SpokeSettings)
