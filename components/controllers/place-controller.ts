import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import type { Meetings } from '../../sync/transport/meetings.ts'
import type { PlaceOfOther } from '../../sync/transport/presence.ts'
import type { AppContext } from '../app/context.ts'
import { FollowController } from './follow-controller.ts'

type Presence = Meetings['presence']

/** Tells those who are connected which case and which part of it is open here, and knows who has the same case open. */
export class PlaceController implements ReactiveController {
  readonly #presence: FollowController<Presence>
  #of: Presence | undefined
  #caseId: CaseId | undefined
  #section: string | null = null
  #isConnected = false

  constructor(host: ReactiveControllerHost) {
    this.#presence = new FollowController<Presence>(host, (presence, told) => presence.subscribe(told))
    host.addController(this)
  }

  /** Called from `willUpdate`: this part of this case is open from now on. */
  show(app: AppContext | undefined, caseId: CaseId | undefined, section: string | null): void {
    const presence = app?.meetings?.presence
    this.#presence.follow(presence)
    // An element that was taken off the page may still be rendered once more.
    if (!this.#isConnected) return
    if (presence === this.#of && caseId === this.#caseId && section === this.#section) return
    this.#of = presence
    this.#caseId = caseId
    this.#section = section
    presence?.here({ caseId: caseId ?? null, section, field: null })
  }

  get others(): readonly PlaceOfOther[] {
    return this.#of?.others.filter(({ caseId }) => caseId === this.#caseId) ?? []
  }

  hostConnected(): void {
    this.#isConnected = true
  }

  hostDisconnected(): void {
    this.#isConnected = false
    this.#of?.here({ caseId: null, section: null, field: null })
    // Put back on the page, it is told again.
    this.#of = undefined
  }
}
