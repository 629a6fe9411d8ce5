import type { LitElement, ReactiveController } from 'lit'
import type { FieldName } from '../../src/case/fields.ts'
import type { CaseId, DeviceId } from '../../src/ids.ts'
import type { Meetings } from '../../sync/transport/meetings.ts'
import { FollowController } from './follow-controller.ts'

type Presence = Meetings['presence']

/** Where a field stands: in a case that is recorded, or in none yet. */
export interface FieldPlace {
  readonly presence: Presence | undefined
  readonly caseId: CaseId | undefined
  readonly field: FieldName
}

/** Tells those who are connected that a field is being filled in while the focus is in it, and knows who else does. */
export class FieldPlaceController implements ReactiveController {
  readonly #host: LitElement
  readonly #place: () => FieldPlace
  readonly #presence: FollowController<Presence>

  constructor(host: LitElement, place: () => FieldPlace) {
    this.#host = host
    this.#place = place
    this.#presence = new FollowController<Presence>(host, (presence, told) => presence.subscribe(told))
    host.addController(this)
  }

  /** The devices whose holders are in the same field of the same case. */
  get others(): readonly DeviceId[] {
    const { presence, caseId, field } = this.#place()
    return (presence?.others ?? []).filter(one => one.caseId === caseId && one.field === field).map(one => one.device)
  }

  hostConnected(): void {
    this.#host.addEventListener('focusin', this.#handleIn)
    this.#host.addEventListener('focusout', this.#handleOut)
  }

  hostUpdate(): void {
    this.#presence.follow(this.#place().presence)
  }

  hostDisconnected(): void {
    this.#host.removeEventListener('focusin', this.#handleIn)
    this.#host.removeEventListener('focusout', this.#handleOut)
    this.#handleOut()
  }

  readonly #handleIn = (): void => {
    const { presence, caseId, field } = this.#place()
    if (caseId) presence?.at(caseId, field)
  }

  readonly #handleOut = (): void => {
    const { presence, caseId, field } = this.#place()
    if (caseId) presence?.leave(caseId, field)
  }
}
