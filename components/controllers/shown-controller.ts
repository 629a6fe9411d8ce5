import type { ReactiveController, ReactiveControllerHost } from 'lit'

/**
 * Knows whether its element has any room on the page: a pane that is put aside has none. What changes meanwhile waits:
 * the element is rendered when it is shown again, before that frame is painted, so nothing old is ever seen.
 */
export class ShownController implements ReactiveController {
  readonly #host: ReactiveControllerHost & Element
  readonly #sizes = new ResizeObserver(entries => this.#handleSize(entries))
  /** True until the page says otherwise. */
  isShown = true

  constructor(host: ReactiveControllerHost & Element) {
    this.#host = host
    host.addController(this)
  }

  hostConnected(): void {
    this.#sizes.observe(this.#host)
  }

  hostDisconnected(): void {
    this.#sizes.disconnect()
    this.isShown = true
  }

  #handleSize(entries: readonly ResizeObserverEntry[]): void {
    const isShown = entries.some(({ target }) => target.getClientRects().length > 0)
    if (isShown === this.isShown) return
    this.isShown = isShown
    if (!isShown) return
    // Rendering gives the element another size, which is no news: it is not told about in this same frame.
    this.#sizes.disconnect()
    requestAnimationFrame(() => {
      if (this.#host.isConnected) this.#sizes.observe(this.#host)
    })
    this.#host.requestUpdate()
  }
}
