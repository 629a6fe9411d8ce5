import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { Member } from '../../src/crew/crew.ts'
import type { DeviceId } from '../../src/ids.ts'
import type { NotHandedOn } from '../../sync/casebook.ts'
import type { Meetings, MetDevice } from '../../sync/transport/meetings.ts'
import { type AppCasebook, type AppContext, appContext } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { settingsStyles } from '../app/settings-styles.ts'
import { FollowController } from '../controllers/follow-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { sayWho } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { sayLacks, sayOnlyHere } from './say-nearby.ts'
import './spoke-exchange.ts'
import './spoke-hub.ts'

type Kept =
  | { readonly status: 'looking' }
  | { readonly status: 'there'; readonly notHandedOn: NotHandedOn }
  | { readonly status: 'failed'; readonly reason: string }

/** Who of the crew is here and how far both have come; how to begin; when each was last met; what is on this device only. */
export class SpokeNearby extends LitElement {
  static override styles = [
    base,
    formStyles,
    settingsStyles,
    css`
      h2, h3 { font-size: var(--text-number); }
      .page > h2, section > h2 { padding-block-end: var(--space-2); }
      .met { display: grid; gap: var(--space-2); padding-block: var(--space-3); border-block-start: 1px solid var(--line); }
      .met.over { color: var(--ink-quiet); }
      .met a { display: inline-flex; align-items: center; min-block-size: var(--target); font-weight: 600; }
      .crew li { display: grid; padding-block: var(--space-2); border-block-start: 1px solid var(--line); }
      .page > .row:first-of-type { margin-block-start: 0; }
      .page > .begin { margin-block-start: var(--space-5); }
    `,
  ]
  static override properties = { kept: { state: true } }
  declare kept: Kept

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #casebook = new FollowController<AppCasebook>(
    this,
    (casebook, told) => casebook.subscribe(told),
    () => void this.#look(),
  )
  readonly #meetings = new FollowController<Meetings>(
    this,
    (meetings, told) => meetings.subscribe(told),
    () => void this.#look(),
  )
  readonly #presence = new FollowController<Meetings['presence']>(this, (presence, told) => presence.subscribe(told))
  #isLooking = false
  #isStale = false

  constructor() {
    super()
    this.kept = { status: 'looking' }
    new SpeechController(this)
  }

  override willUpdate(): void {
    const app = this.#app.value
    this.#casebook.follow(app?.casebook)
    this.#meetings.follow(app?.meetings)
    this.#presence.follow(app?.meetings?.presence)
  }

  /** One look at a time, and once more when something came meanwhile. */
  async #look(): Promise<void> {
    this.#isStale = true
    if (this.#isLooking) return
    this.#isLooking = true
    while (this.#isStale) {
      this.#isStale = false
      this.kept = await this.#keptNow()
    }
    this.#isLooking = false
  }

  async #keptNow(): Promise<Kept> {
    const casebook = this.#app.value?.casebook
    if (!casebook) return { status: 'looking' }
    try {
      return { status: 'there', notHandedOn: await casebook.notHandedOn() }
    } catch (error) {
      return { status: 'failed', reason: sayError(error) }
    }
  }

  override render(): TemplateResult {
    const app = this.#app.value
    if (!app) return html`<p class="page" role="status">${t('app.loading')}</p>`
    const { meetings } = app
    return html`<div class="page">
      <h1>${t('app.nearby')}</h1>
      ${
        meetings
          ? html`${this.#renderKept()} ${this.#renderHere(app, meetings)} ${this.#renderWays(app)}
              ${this.#renderCrew(app, meetings)}`
          : html`<p class="notice">${t('codes.practice')}</p>`
      }
    </div>`
  }

  #renderKept(): TemplateResult {
    const { kept } = this
    switch (kept.status) {
      case 'looking':
        return html`<p class="quiet" role="status">${t('nearby.looking')}</p>`
      case 'failed':
        return html`<p class="notice danger" role="alert">${t('app.failed', { reason: kept.reason })}</p>
          <button @click=${() => void this.#look()}>${t('app.tryAgain')}</button>`
      case 'there':
        return kept.notHandedOn.entries === 0
          ? html`<p class="notice">${t('nearby.allElsewhere')}</p>`
          : html`<p class="notice warn">
              <strong>${sayOnlyHere(kept.notHandedOn)}</strong> ${t('nearby.onlyHereDo')}
            </p>`
    }
  }

  #renderHere(app: AppContext, meetings: Meetings): TemplateResult {
    const { devices } = meetings
    return html`<section>
      <h2>${t('nearby.hereTitle')}</h2>
      ${devices.length === 0 ? html`<p class="quiet">${t('nearby.nobody')}</p>` : nothing}
      ${repeat(
        devices,
        ({ device }) => device,
        met => this.#renderMet(app, meetings, met),
      )}
    </section>`
  }

  #renderMet({ casebook }: AppContext, { presence }: Meetings, met: MetDevice): TemplateResult {
    const place = presence.others.find(({ device }) => device === met.device)
    const known = casebook.summaries().find(({ caseId }) => caseId === place?.caseId)
    return html`<div class="met ${met.phase === 'over' ? 'over' : ''}">
      <spoke-exchange .met=${met} .name=${sayWho(casebook, met.device)}></spoke-exchange>
      ${met.progress ? sayLacks(met.progress).map(words => html`<p>${words}</p>`) : nothing}
      ${
        known
          ? html`<a href=${addressOf({ page: 'case', caseId: known.caseId, section: place?.section ?? null })}
              >${t('nearby.hasOpenNamed', { name: known.name ?? t('frame.noName') })}</a
            >`
          : nothing
      }
      ${
        met.phase === 'over'
          ? nothing
          : html`<p class="quiet">${t('nearby.since', { time: currentSpeech().moment(met.sinceMs) })}</p>`
      }
    </div>`
  }

  #renderWays({ hub }: AppContext): TemplateResult {
    const way = (page: 'two-codes' | 'hand-on', title: string, hint: string): TemplateResult =>
      html`<a class="row go" href=${addressOf({ page })}><strong>${title}</strong><span class="result">${hint}</span></a>`
    return html`<h2 class="begin">${t('nearby.beginTitle')}</h2>
      ${way('two-codes', t('codes.title'), t('codes.hint'))}
      ${
        hub
          ? html`<details class="row" ?open=${hub.visit !== undefined}>
              <summary><h3>${t('nearby.hub')}</h3><span class="result">${t('nearby.hubHint')}</span></summary>
              <div class="inside"><spoke-hub .stay=${hub}></spoke-hub></div>
            </details>`
          : nothing
      }
      ${way('hand-on', t('handOn.title'), t('nearby.bundleHint'))}`
  }

  #renderCrew({ casebook }: AppContext, meetings: Meetings): TemplateResult {
    const others = [...casebook.crew().members.values()].filter(({ device }) => device !== casebook.device)
    const metAt = ({ device }: Member): number => meetings.lastMet.get(device)?.atMs ?? 0
    const inOrder = others
      .filter(member => member.struckBy === null || meetings.lastMet.has(member.device))
      .sort((a, b) => metAt(b) - metAt(a))
    return html`<section class="crew">
      <h2>${t('nearby.crewTitle')}</h2>
      ${inOrder.length === 0 ? html`<p class="quiet">${t('nearby.crewNobody')}</p>` : nothing}
      <ul>
        ${inOrder.map(
          ({ device, struckBy }) => html`<li>
            <strong dir="auto">${sayWho(casebook, device)}</strong>
            <span class="quiet">${this.#sayLastMet(meetings, device)}</span>
            ${struckBy === null ? nothing : html`<span class="quiet">${t('nearby.struck')}</span>`}
          </li>`,
        )}
      </ul>
    </section>`
  }

  #sayLastMet({ lastMet }: Meetings, device: DeviceId): string {
    const met = lastMet.get(device)
    if (!met) return t('nearby.neverMet')
    return t('nearby.lastMet', { when: currentSpeech().moment(met.atMs), count: met.caseCount })
  }
}

customElements.define('spoke-nearby', SpokeNearby)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-nearby': SpokeNearby
  }
}
