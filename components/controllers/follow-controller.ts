import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** Follows something that tells of its changes while its element is on screen, and renders the element again. */
export class FollowController<Source> implements ReactiveController {
  readonly #host: ReactiveControllerHost
  readonly #subscribe: (source: Source, told: () => void) => () => void
  readonly #changed: () => void
  #source: Source | undefined
  #stop: (() => void) | undefined
  #isConnected = false

  /** `changed` is called before each rendering, the first one too. */
  constructor(
    host: ReactiveControllerHost,
    subscribe: (source: Source, told: () => void) => () => void,
    changed: () => void = () => undefined,
  ) {
    this.#host = host
    this.#subscribe = subscribe
    this.#changed = changed
    host.addController(this)
  }

  /** Called from `willUpdate` with what the host was given. */
  follow(source: Source | undefined): void {
    if (source === this.#source) return
    this.#source = source
    this.#end()
    if (this.#isConnected) this.#start()
  }

  hostConnected(): void {
    this.#isConnected = true
    this.#start()
  }

  hostDisconnected(): void {
    this.#isConnected = false
    this.#end()
  }

  #start(): void {
    const source = this.#source
    if (source === undefined) return
    this.#stop ??= this.#subscribe(source, () => {
      this.#changed()
      this.#host.requestUpdate()
    })
    this.#changed()
  }

  #end(): void {
    this.#stop?.()
    this.#stop = undefined
  }
}
