import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { CaseId } from '../../src/ids.ts'
import type { CasebookProblem } from '../../sync/casebook.ts'
import { announce } from '../app/announce.ts'
import { type AppContext, appContext } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { type Unsaved, unsavedPlaces } from '../controllers/drafts.ts'
import { ShownController } from '../controllers/shown-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { looksOn } from '../crew/looks-on.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { currentSpeech, type Language, t } from '../text/text.ts'
import { PeopleController, type PeopleState } from './people-controller.ts'
import { type Group, groupOf, type PersonSummary } from './people-order.ts'
import { peopleStyles } from './people-styles.ts'
import { nameWithAge, sentenceOf } from './person-sentence.ts'
import { progressRing, stageWords } from './progress-ring.ts'

type There = Extract<PeopleState, { status: 'there' }>

/** Rows made at once: more come as one nears the end, so that 5,000 people cost no more than 50. */
const FIRST_ROWS = 40
const MORE_ROWS = 120

/** Everybody, by the next thing to do; each row reads like a sentence. */
export class SpokePeople extends LitElement {
  static override styles = [base, peopleStyles]
  static override properties = {
    chosen: { attribute: false },
    query: { state: true },
    rowLimit: { state: true },
  }
  /** Whose case is open beside the list. */
  declare chosen: CaseId | null
  declare query: string
  declare rowLimit: number

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #people = new PeopleController(this)
  readonly #shown = new ShownController(this)
  readonly #sentences = new Map<CaseId, string>()
  #unsaved: ReadonlySet<Unsaved> = new Set()
  #language: Language | undefined
  #casebook: AppContext['casebook'] | undefined
  #endWatch: IntersectionObserver | undefined
  #watched: Element | undefined

  constructor() {
    super()
    this.chosen = null
    this.query = ''
    this.rowLimit = FIRST_ROWS
    new SpeechController(this)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    this.#endWatch?.disconnect()
    this.#watched = undefined
  }

  /** Beside an open case on a phone the list is put aside: it must not cost every save there a hundred rows. */
  override shouldUpdate(): boolean {
    return this.#shown.isShown
  }

  override willUpdate(): void {
    // Another language changes every sentence and no fact.
    if (this.#language !== currentSpeech().language) this.#sentences.clear()
    this.#language = currentSpeech().language
    const app = this.#app.value
    if (app?.casebook !== this.#casebook) {
      this.#casebook = app?.casebook
      this.#sentences.clear()
      this.query = ''
      this.rowLimit = FIRST_ROWS
    }
    this.#people.show(app)
    this.#unsaved = new Set(app ? unsavedPlaces(app.casebook) : [])
  }

  override updated(): void {
    const end = this.renderRoot.querySelector('.more') ?? undefined
    if (end === this.#watched) return
    this.#endWatch ??= new IntersectionObserver(
      entries => {
        if (entries.some(entry => entry.isIntersecting)) this.rowLimit += MORE_ROWS
      },
      { rootMargin: '600px' },
    )
    this.#endWatch.disconnect()
    this.#watched = end
    if (end) this.#endWatch.observe(end)
  }

  readonly #handleSearch = (event: InputEvent): void => {
    this.query = (event.target as HTMLInputElement).value
    this.rowLimit = FIRST_ROWS
    const found = this.#people.find(this.query)
    if (found) announce(t('people.found', { count: found.length }))
  }

  readonly #handleClear = (): void => {
    this.query = ''
    this.renderRoot.querySelector('input')?.focus()
  }

  override render(): TemplateResult {
    const { state } = this.#people
    const app = this.#app.value
    if (!app || state.status === 'loading') return html`<p class="none" role="status">${t('app.loading')}</p>`
    if (state.status === 'failed')
      return html`<p class="notice danger problem" role="alert">${t('people.failed', { reason: state.reason })}</p>`
    return html`
      ${this.#renderHead(app, state)} ${state.problems.map(renderProblem)}
      ${
        state.status === 'nothing'
          ? html`<div class="empty stack"><h2>${t('people.empty')}</h2><p class="quiet">${t('people.emptyHint')}</p></div>`
          : this.#renderList(app, state)
      }
      ${looksOn(app.casebook) ? nothing : newPerson(this.#unsaved.has('referral'))}
    `
  }

  #renderHead({ casebook }: AppContext, state: PeopleState): TemplateResult {
    const title = casebook.crew().title
    const chairs = state.status === 'there' ? state.people.filter(one => one.open && one.brief?.stepsToDo).length : 0
    const count = state.status === 'there' ? state.people.filter(person => person.open).length : 0
    return html`
      <header>
        <h1>${title?.place ?? t('people.title')}</h1>
        <p class="quiet">${[t('people.count', { count }), title?.crewName].filter(Boolean).join(' · ')}</p>
        ${chairs === 0 ? nothing : html`<a class="day" href=${addressOf({ page: 'print', what: 'day', caseId: null })}>${t('people.daySheet', { count: chairs })}</a>`}
      </header>
      ${
        state.status === 'there'
          ? html`<div class="search">
              <label class="unseen" for="search">${t('people.search')}</label>
              <input id="search" type="search" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="search"
                placeholder=${t('people.search')} aria-description=${t('people.searchHint')} .value=${this.query} @focus=${() => this.#people.prepareSearch()} @input=${this.#handleSearch} />
            </div>`
          : nothing
      }
    `
  }

  #renderList(app: AppContext, state: There): TemplateResult {
    const found = this.#people.find(this.query)
    return found ? this.#renderFound(app, state, found) : this.#renderGroups(app, state)
  }

  #renderFound(app: AppContext, state: There, found: readonly CaseId[]): TemplateResult {
    const byId = new Map(state.people.map(person => [person.caseId, person]))
    const shown = found.slice(0, this.rowLimit).flatMap(caseId => byId.get(caseId) ?? [])
    return html`
      <section>
        <h2>${
          found.length > 0
            ? t('people.found', { count: found.length })
            : t('people.noneFound', { query: this.query.trim() })
        }</h2>
        <ul>${repeat(
          shown,
          person => person.caseId,
          person => this.#renderPerson(person, groupOf(person, app.today()), app, state),
        )}</ul>
        <p class="none"><button @click=${this.#handleClear}>${t('people.backToAll')}</button></p>
      </section>
      ${this.#renderMore(found.length)}
    `
  }

  #renderGroups(app: AppContext, state: There): TemplateResult {
    let room = this.rowLimit
    const sections = state.groups.map(({ group, people }) => {
      const shown = people.slice(0, room)
      room -= shown.length
      if (shown.length === 0) return nothing
      return html`<section aria-labelledby=${`group-${group}`}>
        ${renderHeading(group, people.length)}
        <ul>${repeat(
          shown,
          person => person.caseId,
          person => this.#renderPerson(person, group, app, state),
        )}</ul>
      </section>`
    })
    return html`${sections}${this.#renderMore(state.people.length)}`
  }

  #renderMore(count: number): TemplateResult | typeof nothing {
    const left = count - this.rowLimit
    if (left <= 0) return nothing
    return html`<p class="more"><button @click=${() => {
      this.rowLimit += MORE_ROWS
    }}>${t('people.showMore', { count: Math.min(left, MORE_ROWS) })}</button></p>`
  }

  #renderPerson(person: PersonSummary, group: Group, app: AppContext, { titles }: There): TemplateResult {
    const { caseId, brief } = person
    const sentence = sentenceOf(brief, group, app.today(), titles)
    const before = this.#sentences.get(caseId)
    if (brief) this.#sentences.set(caseId, sentence)
    const isChanged = before !== undefined && before !== sentence
    const kind = group === 'inTheWay' ? 'needs-hand' : group === 'overdue' ? 'late' : ''
    return html`<li class="person ${kind} ${isChanged ? 'changed' : ''}">
      <a href=${addressOf({ page: 'case', caseId, section: null })} aria-current=${this.chosen === caseId ? 'true' : nothing}>
        <span>${progressRing(brief?.stage ?? null)}</span>
        <span>
          <span class="who">${nameWithAge(person, app.today())}</span><br />
          <span class="what">${sentence}</span>
          ${brief?.person.place ? html`<span class="where"> · ${brief.person.place}</span>` : nothing}
          ${this.#unsaved.has(caseId) ? html`<br /><span class="typed">${t('people.unsaved')}</span>` : nothing}
          ${brief ? html`<span class="unseen">, ${stageWords(brief.stage)}</span>` : nothing}
        </span>
      </a>
    </li>`
  }
}

const newPerson = (isTyped: boolean): TemplateResult => html`<p class="new">
  <a href=${addressOf({ page: 'new-referral' })}>${t(isTyped ? 'people.newPersonTyped' : 'people.newPerson')}</a>
</p>`

const renderHeading = (group: Group, count: number): TemplateResult =>
  group === 'inTheWay'
    ? html`<div class="notice danger alarm">
        <h2 id="group-inTheWay">${t('people.inTheWay', { count })}</h2>
      </div>`
    : html`<h2 id=${`group-${group}`}>${t(`people.${group}`)}</h2>`

const renderProblem = (problem: CasebookProblem): TemplateResult => html`
  <p class="notice warn problem">${
    problem.type === 'unreadable-rows' ? t('people.unreadable', { count: problem.unreadableRows }) : sayFailure(problem)
  }</p>
`

customElements.define('spoke-people', SpokePeople)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-people': SpokePeople
  }
}
