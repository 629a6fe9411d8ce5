import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { Session } from './session.ts'

/** Renders its element again when something else is open. */
export class SessionController implements ReactiveController {
  readonly #host: ReactiveControllerHost
  readonly #changed: () => void
  #session: Session | undefined
  #stop: (() => void) | undefined
  #isConnected = false

  constructor(host: ReactiveControllerHost, changed: () => void = () => undefined) {
    this.#host = host
    this.#changed = changed
    host.addController(this)
  }

  /** Called from `willUpdate` with the property of the host. */
  follow(session: Session | undefined): void {
    if (session === this.#session) return
    this.#session = session
    this.#stop?.()
    this.#stop = undefined
    if (this.#isConnected) this.#start()
  }

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
    this.#stop ??= this.#session?.subscribe(() => {
      this.#changed()
      this.#host.requestUpdate()
    })
    if (this.#session) this.#changed()
  }
}
