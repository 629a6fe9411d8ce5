import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** Below this many ems of root text a drawing carries no words: all of them stand in the list. 200 % text on a phone is below. */
const LEAST_EMS = 17
/** Text on a drawing, as a share of the root's. */
const LABEL_EMS = 0.875

/** How wide a drawing is on screen and how large its text: what placing labels needs. Measured again when either changes. */
export class RoomController implements ReactiveController {
  readonly #host: ReactiveControllerHost & HTMLElement
  readonly #observer = new ResizeObserver(entries => this.#measure(entries[0]?.contentRect.width))
  readonly #widths = new Map<string, number>()
  #pen: CanvasRenderingContext2D | null = null
  #target: Element | undefined
  /** 0 until the element is laid out. */
  widthPx = 0
  fontPx = 14
  hasRoomForWords = false

  constructor(host: ReactiveControllerHost & HTMLElement) {
    this.#host = host
    host.addController(this)
  }

  hostUpdated(): void {
    const target = this.#host.shadowRoot?.querySelector('svg') ?? undefined
    if (target === this.#target) return
    this.#observer.disconnect()
    this.#target = target
    if (target) this.#observer.observe(target)
  }

  hostDisconnected(): void {
    this.#observer.disconnect()
    this.#target = undefined
  }

  hostConnected(): void {
    this.#host.requestUpdate()
  }

  #measure(widthPx: number | undefined): void {
    const rootPx = Number.parseFloat(getComputedStyle(document.documentElement).fontSize)
    const fontPx = rootPx * LABEL_EMS
    if (widthPx === undefined || (widthPx === this.widthPx && fontPx === this.fontPx)) return
    this.widthPx = widthPx
    this.fontPx = fontPx
    this.hasRoomForWords = widthPx / rootPx >= LEAST_EMS
    this.#pen = document.createElement('canvas').getContext('2d')
    if (this.#pen) this.#pen.font = `650 ${fontPx}px ${getComputedStyle(this.#host).fontFamily}`
    this.#widths.clear()
    this.#host.requestUpdate()
  }

  /** Size of a label with a little air around it, px. */
  readonly sizeOf = (text: string): { readonly width: number; readonly height: number } => {
    let width = this.#widths.get(text)
    if (width === undefined) {
      width = this.#pen?.measureText(text).width ?? text.length * this.fontPx * 0.6
      this.#widths.set(text, width)
    }
    return { width: width + 8, height: this.fontPx * 1.3 }
  }
}
