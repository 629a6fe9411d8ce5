import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { AppCasebook } from '../app/context.ts'
import { unsavedCount } from './form-controller.ts'

/** While its element is on screen, the browser asks before it closes a page with something typed and not saved. */
export class ClosingController implements ReactiveController {
  readonly #casebook: () => AppCasebook | undefined

  constructor(host: ReactiveControllerHost, casebook: () => AppCasebook | undefined) {
    this.#casebook = casebook
    host.addController(this)
  }

  readonly #ask = (event: BeforeUnloadEvent): void => {
    const casebook = this.#casebook()
    if (casebook && unsavedCount(casebook) > 0) event.preventDefault()
  }

  hostConnected(): void {
    addEventListener('beforeunload', this.#ask)
  }

  hostDisconnected(): void {
    removeEventListener('beforeunload', this.#ask)
  }
}
