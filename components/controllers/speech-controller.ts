import type { ReactiveController, ReactiveControllerHost } from 'lit'
import { onLanguageChange } from '../text/text.ts'

/** Renders its element again when the language changes. */
export class SpeechController implements ReactiveController {
  readonly #host: ReactiveControllerHost
  #stop: (() => void) | undefined

  constructor(host: ReactiveControllerHost) {
    this.#host = host
    host.addController(this)
  }

  hostConnected(): void {
    this.#stop = onLanguageChange(() => this.#host.requestUpdate())
  }

  hostDisconnected(): void {
    this.#stop?.()
  }
}
