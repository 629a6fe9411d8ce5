/** Addresses that never leave the browser. */
const INNER = new Set(['data:', 'blob:', 'about:', 'chrome:', 'devtools:'])

/** Collects what a page asked of any origin but its own. */
export class ForeignRequests {
  readonly #seen: string[] = []

  /** `from` is the page's address; a page not yet opened has none, and what it then asks for is its own first address. */
  note(from: string, to: string): void {
    const target = new URL(to)
    if (INNER.has(target.protocol) || from === 'about:blank') return
    if (target.origin !== new URL(from).origin) this.#seen.push(`${from} asked for ${to}`)
  }

  get seen(): readonly string[] {
    return this.#seen
  }
}
