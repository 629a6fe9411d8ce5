import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import type { CaseId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { AppContext } from '../app/context.ts'
import { sayError } from '../text/say-failure.ts'

/** The four states of anything that is loaded; each is rendered. */
export type CaseState =
  | { readonly status: 'nothing' }
  | { readonly status: 'loading' }
  | { readonly status: 'there'; readonly view: CaseView; readonly outcome: Outcome }
  | { readonly status: 'failed'; readonly reason: string }

/**
 * Keeps one case and what follows from it on screen, read again after every merge or save that touches it. A newer read
 * overtakes an older one; what a person is typing is not here but in a draft, so nothing that arrives overwrites it.
 */
export class CaseController implements ReactiveController {
  readonly #host: ReactiveControllerHost
  #app: AppContext | undefined
  #caseId: CaseId | undefined
  #stop: (() => void) | undefined
  #turn = 0
  /** News that is not on screen yet. */
  #isOwed = false
  state: CaseState = { status: 'nothing' }

  constructor(host: ReactiveControllerHost) {
    this.#host = host
    host.addController(this)
  }

  /** Shows this case from now on; called from `willUpdate` with the properties of the host. */
  show(app: AppContext | undefined, caseId: CaseId | undefined): void {
    if (app === this.#app && caseId === this.#caseId) return
    this.#app = app
    this.#caseId = caseId
    this.#stop?.()
    this.#stop = undefined
    this.state = app && caseId ? { status: 'loading' } : { status: 'nothing' }
    if (this.#isConnected) this.#start()
  }

  #isConnected = false

  hostConnected(): void {
    this.#isConnected = true
    this.#start()
  }

  hostDisconnected(): void {
    this.#isConnected = false
    this.#stop?.()
    this.#stop = undefined
  }

  #start(): void {
    const [app, caseId] = [this.#app, this.#caseId]
    if (!app || !caseId || this.#stop) return
    this.#stop = app.casebook.subscribe(change => {
      const touches =
        change.type === 'entries'
          ? change.document === caseId || change.document === 'catalogue' || change.document === 'team'
          : change.type === 'derived'
            ? change.caseIds.includes(caseId)
            : change.caseId === caseId
      if (touches) void this.#read(app, caseId, change.type === 'derived')
    })
    void this.#read(app, caseId, false)
  }

  /**
   * `onlyDerived`: a summary was brought up to date, which after a save says what is on screen already. Other news is
   * always shown, by whichever read ends last: names of the crew are no part of the case.
   */
  async #read(app: AppContext, caseId: CaseId, onlyDerived: boolean): Promise<void> {
    this.#turn += 1
    const turn = this.#turn
    this.#isOwed ||= !onlyDerived
    const state = await this.#stateOf(app, caseId)
    if (turn !== this.#turn || caseId !== this.#caseId) return
    if (!this.#isOwed && isSame(state, this.state)) return
    this.#isOwed = false
    this.state = state
    this.#host.requestUpdate()
  }

  async #stateOf(app: AppContext, caseId: CaseId): Promise<CaseState> {
    try {
      const [view, outcome] = await Promise.all([app.casebook.view(caseId), app.casebook.outcome(caseId, app.today())])
      return view && outcome ? { status: 'there', view, outcome } : { status: 'nothing' }
    } catch (error) {
      return { status: 'failed', reason: sayError(error) }
    }
  }
}

/** The same outcome object is of the same entries, so its view says the same too. */
const isSame = (a: CaseState, b: CaseState): boolean =>
  a.status === 'there' && b.status === 'there' && a.outcome === b.outcome
