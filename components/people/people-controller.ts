import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import type { CasebookProblem } from '../../sync/casebook.ts'
import type { AppContext } from '../app/context.ts'
import { draftsOf } from '../controllers/drafts.ts'
import { sayError } from '../text/say-failure.ts'
import { inOrder, type PeopleGroup, type PersonSummary } from './people-order.ts'
import { PeopleSearch } from './people-search.ts'
import type { ChairTitles } from './person-sentence.ts'

export type PeopleState =
  | { readonly status: 'loading' }
  | { readonly status: 'nothing'; readonly problems: readonly CasebookProblem[] }
  | {
      readonly status: 'there'
      readonly people: readonly PersonSummary[]
      readonly groups: readonly PeopleGroup[]
      readonly titles: ChairTitles
      readonly problems: readonly CasebookProblem[]
    }
  | { readonly status: 'failed'; readonly reason: string }

/** After a merge cases are derived one by one; the list is put in order anew at most this often. */
const PAUSE_MS = 150

/** Keeps the list of people current from the summaries alone: no case is opened for it. */
export class PeopleController implements ReactiveController {
  readonly #host: ReactiveControllerHost
  #app: AppContext | undefined
  #stop: (() => void) | undefined
  #pause: ReturnType<typeof setTimeout> | undefined
  #isConnected = false
  /** Something changed since the list was put in order; it is put in order anew when it is next shown. */
  #isBehind = false
  #search: PeopleSearch | undefined
  #found: { readonly query: string; readonly caseIds: readonly CaseId[] | null } | undefined
  state: PeopleState = { status: 'loading' }

  constructor(host: ReactiveControllerHost) {
    this.#host = host
    host.addController(this)
  }

  /** Called from `willUpdate` with the context of the host. */
  show(app: AppContext | undefined): void {
    if (app !== this.#app) {
      this.#app = app
      this.#end()
      if (this.#isConnected) this.#start()
    } else if (this.#isBehind) this.#read()
  }

  hostConnected(): void {
    this.#isConnected = true
    this.#start()
  }

  hostDisconnected(): void {
    this.#isConnected = false
    this.#end()
  }

  /** Those who are meant, the nearest first; null when nothing was typed. */
  find(query: string): readonly CaseId[] | null {
    if (query.trim() === '' || this.state.status !== 'there') return null
    if (this.#found?.query !== query) this.#found = { query, caseIds: this.#searchOf(this.state.people).find(query) }
    return this.#found.caseIds
  }

  /** Somebody is about to search: what is searched is put together now. The list itself never waits for it. */
  prepareSearch(): void {
    if (this.state.status === 'there') this.#searchOf(this.state.people)
  }

  #searchOf(people: readonly PersonSummary[]): PeopleSearch {
    this.#search ??= new PeopleSearch(
      people.map(({ caseId, name, brief }) => ({
        caseId,
        name,
        otherNames: brief?.person.otherNames ?? null,
        place: brief?.person.place ?? null,
      })),
    )
    return this.#search
  }

  #start(): void {
    if (!this.#app || this.#stop) return
    const { casebook } = this.#app
    const stopDrafts = draftsOf(casebook).subscribe(() => this.#host.requestUpdate())
    const stopCasebook = casebook.subscribe(() => {
      this.#pause ??= setTimeout(() => {
        this.#pause = undefined
        this.#isBehind = true
        this.#host.requestUpdate()
      }, PAUSE_MS)
    })
    this.#stop = () => {
      stopDrafts()
      stopCasebook()
    }
    this.#read()
  }

  #end(): void {
    this.#stop?.()
    this.#stop = undefined
    clearTimeout(this.#pause)
    this.#pause = undefined
  }

  #read(): void {
    const app = this.#app
    if (!app) return
    this.#isBehind = false
    this.#search = undefined
    this.#found = undefined
    try {
      const people = app.casebook.summaries()
      const problems = app.casebook.problems()
      const { models } = app.casebook.context().catalogue
      const titles = new Map(models.map(model => [model.key, model.title]))
      this.state =
        people.length === 0
          ? { status: 'nothing', problems }
          : { status: 'there', people, groups: inOrder(people, app.today()), titles, problems }
    } catch (error) {
      this.state = { status: 'failed', reason: sayError(error) }
    }
  }
}
