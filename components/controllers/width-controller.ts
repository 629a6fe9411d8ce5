import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** Tells its element whether it is at least so wide itself, whatever the screen: a list may stand beside it. */
export class WidthController implements ReactiveController {
  readonly #host: ReactiveControllerHost & Element
  readonly #leastPx: number
  readonly #observer: ResizeObserver
  isWide = false

  constructor(host: ReactiveControllerHost & Element, leastPx: number) {
    this.#host = host
    this.#leastPx = leastPx
    this.#observer = new ResizeObserver(([entry]) => this.#measure(entry?.contentRect.width ?? 0))
    host.addController(this)
  }

  hostConnected(): void {
    this.#measure(this.#host.getBoundingClientRect().width)
    this.#observer.observe(this.#host)
  }

  hostDisconnected(): void {
    this.#observer.disconnect()
  }

  #measure(widthPx: number): void {
    const isWide = widthPx >= this.#leastPx
    if (isWide === this.isWide) return
    this.isWide = isWide
    this.#host.requestUpdate()
  }
}
