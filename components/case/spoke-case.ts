import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { CaseId } from '../../src/ids.ts'
import { appContext } from '../app/context.ts'
import { goTo } from '../app/routes.ts'
import { CaseController, type CaseState } from '../controllers/case-controller.ts'
import { unsavedCount } from '../controllers/drafts.ts'
import { PlaceController } from '../controllers/place-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { WidthController } from '../controllers/width-controller.ts'
import { looksOn } from '../crew/looks-on.ts'
import '../crew/spoke-late-here.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import type { CaseFacts, CaseSection } from './case-section.ts'
import { caseStyles } from './case-styles.ts'
import { inWords, isShown, nextOrFault, resultOf } from './in-words.ts'
import { NewsController } from './news-controller.ts'
import { loadPart, renderPart } from './part-of-case.ts'
import { isInTheWay, sayHold, sectionOfHold } from './say-hold.ts'
import { sayPerson } from './say-person.ts'
import { sayPlace } from './say-place.ts'
import { CASE_SECTIONS, caseSection } from './section-registry.ts'

/** From this width on the open part stands beside the others. */
const SPLIT_PX = 896

/**
 * One case: who it is, what stands in the way, the one next thing, then its parts as quiet rows that say their result.
 * One part is open at a time, in any order; which one stands in the address.
 */
export class SpokeCase extends LitElement {
  static override styles = [base, caseStyles]
  static override properties = {
    caseId: { attribute: false },
    section: { attribute: false },
    loadFailure: { state: true },
  }
  declare caseId: CaseId | undefined
  /** Key of the open part; null when all are closed. */
  declare section: string | null
  declare loadFailure: string | null

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #case = new CaseController(this)
  readonly #width = new WidthController(this, SPLIT_PX)
  readonly #news = new NewsController(this)
  readonly #place = new PlaceController(this)
  readonly #loading = new Map<string, 'coming' | 'there'>()

  constructor() {
    super()
    this.section = null
    this.loadFailure = null
    new SpeechController(this)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    this.#case.show(this.#app.value, this.caseId)
    this.#place.show(this.#app.value, this.caseId, this.section)
    const { state } = this.#case
    this.#news.take(this.#app.value?.casebook, state.status === 'there' ? state.view : undefined, this.section)
    const section = this.section === null ? undefined : caseSection(this.section)
    if (section && (changed.has('section') || !this.#loading.has(section.key))) void this.#load(section)
  }

  async #load(section: CaseSection): Promise<void> {
    if (this.#loading.has(section.key)) return
    this.#loading.set(section.key, 'coming')
    this.loadFailure = null
    try {
      await loadPart(section, this.#looksOn())
      this.#loading.set(section.key, 'there')
    } catch (error) {
      this.#loading.delete(section.key)
      this.loadFailure = sayError(error)
    }
    this.requestUpdate()
  }

  readonly #looksOn = (): boolean => looksOn(this.#app.value?.casebook)

  #open(section: string | null): void {
    if (!this.caseId) return
    this.section = section
    goTo({ page: 'case', caseId: this.caseId, section })
  }

  async #goToSection(section: string): Promise<void> {
    this.#open(section)
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('.inside')?.focus({ preventScroll: true })
    this.#show('.row.open')
  }

  /** Beside the list a part begins at the top; below it, where its row is. */
  #show(row: string): void {
    const place = this.#width.isWide ? this : this.renderRoot.querySelector(row)
    place?.scrollIntoView({ block: 'start' })
  }

  /** What was open above closes: the row that was touched must not slip away. */
  async #toggle(section: string, open: boolean): Promise<void> {
    this.#open(open ? null : section)
    await this.updateComplete
    if (open && this.#width.isWide) this.#show('.row.open')
    if (!open) this.renderRoot.querySelector('.row.open h2')?.scrollIntoView({ block: 'nearest' })
  }

  override render(): TemplateResult {
    const { state } = this.#case
    switch (state.status) {
      case 'nothing':
        return html`<p class="state">${t('frame.nothing')}</p>`
      case 'loading':
        return html`<p class="state quiet" aria-busy="true">${t('app.loading')}</p>`
      case 'failed':
        return html`<p class="state error" role="alert">${t('app.failed', { reason: state.reason })}</p>`
      case 'there':
        return this.#renderCase(this.#factsOf(state))
    }
  }

  #factsOf({ view, outcome }: Extract<CaseState, { status: 'there' }>): CaseFacts {
    const casebook = this.#app.value?.casebook
    return { view, outcome, catalogue: casebook?.context().catalogue, casebook }
  }

  #renderCase(facts: CaseFacts): TemplateResult {
    const open = CASE_SECTIONS.find(one => one.key === this.section && isShown(one, facts))
    const beside = this.#width.isWide && open !== undefined
    return html`<div class="page ${beside ? 'split' : ''}">
      <div>
        ${this.#renderWho(facts)} ${this.#renderWaits(facts)} ${this.#looksOn() ? nothing : this.#renderNext(facts)}
        <section class="rows" aria-label=${t('frame.sections')}>
          ${repeat(
            // A part that comes in by a merge must not move what is open into another element: its state would be lost.
            CASE_SECTIONS.filter(one => isShown(one, facts)),
            one => one.key,
            one => this.#renderRow(one, facts, one === open, beside),
          )}
        </section>
        <p class="papers"><a href="#/print/summary/${facts.view.caseId}">${t('paper.summary')}</a></p>
      </div>
      ${beside && open ? this.#renderInside(open, facts, true) : nothing}
    </div>`
  }

  #renderWho(facts: CaseFacts): TemplateResult {
    return html`<header>
      <h1>${facts.view.values.personName ?? t('frame.noName')}</h1>
      <p>${inWords(() => sayPerson(facts))}</p>
      ${this.#place.others.map(other => html`<p class="other">${sayPlace(facts, other)}</p>`)}
      <spoke-late-here .caseId=${facts.view.caseId}></spoke-late-here>
    </header>`
  }

  #renderWaits({ outcome }: CaseFacts): TemplateResult | typeof nothing {
    if (outcome.stage === 'closed') return html`<div class="waits"><p class="notice">${t('frame.closed')}</p></div>`
    const inTheWay = outcome.holds.filter(isInTheWay)
    if (inTheWay.length === 0) return nothing
    const given = outcome.stage === 'follow-up'
    return html`<div class="waits">
      <div class="notice danger">
        <h2>${t(given ? 'frame.look' : 'frame.waits')}</h2>
        <ul>
          ${inTheWay.map(
            hold => html`<li>
              <a
                href="#/case/${this.caseId}/${sectionOfHold(hold)}"
                @click=${(event: Event) => {
                  event.preventDefault()
                  void this.#goToSection(sectionOfHold(hold))
                }}
                >${inWords(() => sayHold(hold, outcome))}</a
              >
            </li>`,
          )}
        </ul>
      </div>
    </div>`
  }

  #renderNext(facts: CaseFacts): TemplateResult {
    const next = nextOrFault(facts)
    if (!next) return html`<p class="next quiet">${t('frame.nothingNext')}</p>`
    if (next.section === this.section) return html``
    return html`<div class="next">
      <button class="main" @click=${() => this.#goToSection(next.section)}>
        <span class="word">${t('frame.next')}</span><span class="what">${next.text}</span>
      </button>
    </div>`
  }

  #renderRow(section: CaseSection, facts: CaseFacts, open: boolean, beside: boolean): TemplateResult {
    const { text, left, calls } = resultOf(section, facts)
    const app = this.#app.value
    const typed = app ? unsavedCount(app.casebook, facts.view.caseId, section.key) : 0
    const news = this.#news.of(section.key)
    // While a part is open its own form shows what stands; the row must not tell a reading before it is taken again.
    return html`<div class="row ${open ? 'open' : ''}">
      <h2>
        <button
          aria-expanded=${open}
          aria-controls=${open ? 'inside' : nothing}
          @click=${() => this.#toggle(section.key, open)}
        >
          <span class="name">${t(section.title)}</span>
          ${
            left === null || outcomeIsOver(facts)
              ? nothing
              : html`<span class="left ${left === 0 ? 'done' : ''}"
                  >${left === 0 ? t('frame.done') : t('frame.left', { count: left })}</span
                >`
          }
          ${open ? nothing : html`<span class="result ${calls ? `calls ${calls}` : ''}">${text}</span>`}
          ${news !== '' ? html`<span class="news">${news}</span>` : nothing}
          ${typed > 0 && !open ? html`<span class="typed">${t('form.unsaved', { count: typed })}</span>` : nothing}
        </button>
      </h2>
      ${open && !beside ? this.#renderInside(section, facts, false) : nothing}
    </div>`
  }

  #renderInside(section: CaseSection, facts: CaseFacts, titled: boolean): TemplateResult {
    const content =
      this.loadFailure !== null
        ? html`<p class="error" role="alert">${t('frame.sectionFailed', { reason: this.loadFailure })}</p>
            <button @click=${() => this.#load(section)}>${t('app.tryAgain')}</button>`
        : this.#loading.get(section.key) === 'there'
          ? renderPart(section, facts, this.#looksOn())
          : html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    return html`<div class="inside" id="inside" tabindex="-1">
      ${titled ? html`<p class="title" aria-hidden="true">${t(section.title)}</p>` : nothing} ${content}
    </div>`
  }
}

const outcomeIsOver = ({ outcome }: CaseFacts): boolean => outcome.stage === 'follow-up' || outcome.stage === 'closed'

customElements.define('spoke-case', SpokeCase)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-case': SpokeCase
  }
}
