import { ContextProvider } from '@lit/context'
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import { draftsOf } from '../controllers/drafts.ts'
import { ClosingController } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { onAnnounce } from './announce.ts'
import { appStyles } from './app-styles.ts'
import { type AppContext, appContext, type Route } from './context.ts'
import { pageOf } from './pages.ts'
import type { Preferences } from './preferences.ts'
import { addressOf, routeOf } from './routes.ts'
import type { Session } from './session.ts'
import { SessionController } from './session-controller.ts'
import { UpdateController } from './update.ts'
import { watchDay, watchIdle } from './watch-over.ts'
import '../meeting/spoke-first-exchange.ts'
import '../people/spoke-people.ts'
import './spoke-update.ts'
import './spoke-welcome.ts'

/**
 * The frame around everything: tabs, the practice strip, the one live region, and whatever is open behind them. It gives
 * the casebook to the elements below and takes it away when the device is locked.
 */
export class SpokeApp extends LitElement {
  static override styles = [base, appStyles]
  static override properties = {
    session: { attribute: false },
    preferences: { attribute: false },
    route: { state: true },
    said: { state: true },
  }
  declare session: Session | undefined
  declare preferences: Preferences | undefined
  declare route: Route
  declare said: string

  readonly #provider = new ContextProvider(this, { context: appContext })
  readonly #session = new SessionController(this, () => this.#followSession())
  readonly #update = new UpdateController(this)
  #context: AppContext | undefined
  #lastCase: CaseId | null = null
  #stops: (() => void)[] = []
  #stopSaid: (() => void) | undefined

  constructor() {
    super()
    this.route = routeOf(location.hash)
    this.said = ''
    new SpeechController(this)
    new ClosingController(this, () => this.#context?.casebook)
  }

  override connectedCallback(): void {
    super.connectedCallback()
    addEventListener('hashchange', this.#handleAddress)
    this.addEventListener('idle-change', this.#handleIdleChange)
    this.#stopSaid = onAnnounce(words => {
      // The same words twice are read twice only when the region was empty in between.
      this.said = ''
      void this.updateComplete.then(() => {
        this.said = words
      })
    })
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    removeEventListener('hashchange', this.#handleAddress)
    this.#stopSaid?.()
    this.#stopWatches()
    this.#context = undefined
  }

  override willUpdate(): void {
    this.#session.follow(this.session)
    if (this.route.page === 'case') this.#lastCase = this.route.caseId
  }

  override updated(changed: PropertyValues): void {
    // Whoever listens to the screen, or goes by keyboard, is taken along to the new page.
    if (changed.get('route') === undefined) return
    const from = changed.get('route') as Route
    if (addressOf(from) === addressOf(this.route) || isSameCase(from, this.route)) return
    this.renderRoot.querySelector<HTMLElement>('.pane:not(.aside)[tabindex]')?.focus({ preventScroll: true })
  }

  #followSession(): void {
    const state = this.session?.state
    const context = state?.at === 'open' ? state.context : undefined
    if (context === this.#context) return
    const isSameCasebook = context?.casebook === this.#context?.casebook
    this.#context = context
    this.#stopWatches()
    if (!context) {
      this.#lastCase = null
      return
    }
    this.#provider.setValue(context)
    if (!isSameCasebook) this.#lastCase = null
    this.#watch(context)
  }

  #watch(context: AppContext): void {
    this.#stopWatches()
    this.#stops = [
      watchDay(context, () => this.#handleNewDay(context)),
      ...(context.practice ? [] : [watchIdle(this.preferences?.idleMinutes() ?? 10, () => this.session?.lock('idle'))]),
    ]
  }

  #stopWatches(): void {
    for (const stop of this.#stops) stop()
    this.#stops = []
  }

  readonly #handleAddress = (): void => {
    this.route = routeOf(location.hash)
  }

  readonly #handleIdleChange = (): void => {
    if (this.#context) this.#watch(this.#context)
  }

  #handleNewDay(context: AppContext): void {
    context.casebook.refresh()
    this.#provider.setValue({ ...context })
  }

  override render(): TemplateResult {
    return html`
      <div class="frame"><div class="strips">${this.#renderStrips()}</div>${this.#renderMain()}</div>
      <p class="unseen" role="status" aria-live="polite">${this.said}</p>
    `
  }

  #renderStrips(): TemplateResult | typeof nothing {
    const context = this.#context
    const notices = this.session?.device?.notices() ?? []
    const drafts = context && draftsOf(context.casebook)
    return html`${notices.map(notice => html`<p class="strip">${sayFailure(notice)}</p>`)}${
      drafts?.isRefused ? html`<p class="strip" role="alert">${t('app.draftsRefused')}</p>` : nothing
    }${drafts?.isUnreadable ? html`<p class="strip">${t('app.draftsUnreadable')}</p>` : nothing}${
      context?.practice
        ? html`<div class="strip" role="note">
            <span><strong>${t('app.practiceStrip', { date: currentSpeech().date(context.today()) })}</strong><span class="wide"> · ${t('app.practiceInvented')}</span></span>
            <button class="quiet" aria-label=${t('app.practiceClose')} @click=${() => void this.session?.toDoor()}>${t('app.close')}</button>
          </div>`
        : nothing
    }${context?.meetings && this.route.page !== 'two-codes' ? html`<spoke-first-exchange></spoke-first-exchange>` : nothing}${
      this.#update.updateReady
        ? html`<spoke-update class="strip news" .updater=${this.#update} .casebook=${context?.casebook}></spoke-update>`
        : nothing
    }`
  }

  #renderMain(): TemplateResult {
    const state = this.session?.state ?? { at: 'starting' }
    switch (state.at) {
      case 'open':
        return this.#renderOpen(state.context)
      case 'setting-out':
        return html`<main class="waiting stack">
          <h1>${t('door.settingOut')}</h1>
          <progress aria-label=${t('door.settingOut')} max=${state.all || 1} value=${state.done}></progress>
          <p class="quiet" aria-hidden="true">${
            state.all > 0 ? t('door.settingOutPeople', { done: state.done, all: state.all }) : nothing
          }</p>
        </main>`
      case 'failed':
        return html`<main class="waiting stack">
          <h1>${t('door.failedTitle')}</h1>
          <p class="notice danger" role="alert">${state.reason}</p>
          <button class="main" @click=${() => void this.session?.start()}>${t('door.tryAgain')}</button>
        </main>`
      case 'starting':
      case 'opening':
        return html`<main class="waiting"><p role="status">${t('app.loading')}</p></main>`
      case 'welcome':
      case 'founding':
      case 'joining':
      case 'locked':
        return html`<main class="door"><spoke-welcome .session=${this.session}></spoke-welcome></main>`
    }
  }

  #renderOpen(context: AppContext): TemplateResult {
    const { route } = this
    return html`
      <main class="open">
        <div class="pane list ${route.page === 'people' ? '' : 'aside'}" tabindex="-1">
          <spoke-people .chosen=${route.page === 'case' ? route.caseId : null}></spoke-people>
        </div>
        <div class="pane ${route.page === 'people' ? 'aside' : ''}" tabindex="-1">
          ${
            route.page === 'people'
              ? html`<p class="blank choose">${t('people.chooseSomebody')}</p>`
              : this.#renderPage(route, context)
          }
        </div>
      </main>
      ${this.#renderTabs()}
    `
  }

  #renderPage(route: Exclude<Route, { page: 'people' }>, context: AppContext): TemplateResult {
    return pageOf(route, {
      context,
      session: this.session,
      preferences: this.preferences,
      update: this.#update,
      arrived: () => this.requestUpdate(),
    })
  }

  #renderTabs(): TemplateResult {
    const tab = (route: Route, words: TextKey, isHere: boolean): TemplateResult => html`
      <li><a href=${addressOf(route)} aria-current=${isHere ? 'page' : nothing}>${t(words)}</a></li>
    `
    const { page } = this.route
    const caseId = this.#lastCase
    return html`<nav aria-label=${t('app.tabs')}><ul>
      ${tab({ page: 'people' }, 'app.people', page === 'people' || page === 'new-referral')}
      ${caseId ? tab({ page: 'case', caseId, section: null }, 'app.case', page === 'case') : nothing}
      ${tab({ page: 'nearby' }, 'app.nearby', page === 'nearby' || page === 'two-codes' || page === 'hand-on')}
      ${tab({ page: 'ready' }, 'app.ready', page === 'ready')}
      ${tab({ page: 'settings' }, 'app.settings', page === 'settings')}
    </ul></nav>`
  }
}

const isSameCase = (a: Route, b: Route): boolean => a.page === 'case' && b.page === 'case' && a.caseId === b.caseId

customElements.define('spoke-app', SpokeApp)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-app': SpokeApp
  }
}
