import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { AppCasebook } from '../app/context.ts'
import { unsavedPlaces } from './drafts.ts'

const forms = new Set<() => boolean>()

/** For a form whose words are kept nowhere but on screen, such as one with a passphrase: says whether it is half-filled. */
export class HalfFilledController implements ReactiveController {
  readonly #isHalfFilled: () => boolean

  constructor(host: ReactiveControllerHost, isHalfFilled: () => boolean) {
    this.#isHalfFilled = isHalfFilled
    host.addController(this)
  }

  hostConnected(): void {
    forms.add(this.#isHalfFilled)
  }

  hostDisconnected(): void {
    forms.delete(this.#isHalfFilled)
  }
}

/** Whether a form on screen would lose what is typed into it. */
export const isFormHalfFilled = (): boolean => [...forms].some(isHalfFilled => isHalfFilled())

/**
 * While its element is on screen, the browser asks before it closes a page with something typed and not saved: a colleague
 * does not have it yet.
 */
export class ClosingController implements ReactiveController {
  readonly #casebook: () => AppCasebook | undefined

  constructor(host: ReactiveControllerHost, casebook: () => AppCasebook | undefined) {
    this.#casebook = casebook
    host.addController(this)
  }

  readonly #ask = (event: BeforeUnloadEvent): void => {
    const casebook = this.#casebook()
    if (isFormHalfFilled() || (casebook && unsavedPlaces(casebook).length > 0)) event.preventDefault()
  }

  hostConnected(): void {
    addEventListener('beforeunload', this.#ask)
  }

  hostDisconnected(): void {
    removeEventListener('beforeunload', this.#ask)
  }
}
