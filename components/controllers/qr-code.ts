import { html, type ReactiveControllerHost, svg, type TemplateResult } from 'lit'

type Rows = readonly (readonly boolean[])[]
export type QrCode =
  | { readonly status: 'loading' }
  | { readonly status: 'there'; readonly rows: Rows }
  | { readonly status: 'failed' }

/** Draws a text as a QR code (ISO/IEC 18004) at level M, with a part of the app that is loaded only where a code is shown. */
export class QrController {
  readonly #host: ReactiveControllerHost
  #text: string | undefined
  code: QrCode = { status: 'loading' }

  constructor(host: ReactiveControllerHost) {
    this.#host = host
  }

  /** Called from `willUpdate` with what is to be shown. */
  draw(text: string): void {
    if (text === this.#text) return
    this.#text = text
    this.code = { status: 'loading' }
    void this.#draw(text)
  }

  async #draw(text: string): Promise<void> {
    const code = await drawn(text)
    if (this.#text !== text) return
    this.code = code
    this.#host.requestUpdate()
  }
}

/** The light margin that a reader needs, in squares (ISO/IEC 18004, quiet zone). */
const QUIET_ZONE = 4

const drawn = async (text: string): Promise<QrCode> => {
  try {
    const { default: encodeQR } = await import('qr')
    return { status: 'there', rows: encodeQR(text, 'raw', { ecc: 'medium', border: QUIET_ZONE }) }
  } catch {
    // The part did not load, or the text is too long: whoever shows the code says the text instead.
    return { status: 'failed' }
  }
}

/** The dark squares as one path, in units of a square. */
const pathOf = (rows: Rows): string =>
  rows.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ''))).join('')

/** Black on white whatever the colours of the screen: that is what cameras read. */
export const qrTemplate = (rows: Rows, label: string): TemplateResult => html`
  <svg viewBox="0 0 ${rows.length} ${rows.length}" role="img" aria-label=${label} shape-rendering="crispEdges">
    ${svg`<rect width=${rows.length} height=${rows.length} fill="#fff" /><path d=${pathOf(rows)} fill="#000" />`}
  </svg>
`
