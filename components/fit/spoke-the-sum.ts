import { css, html, LitElement, nothing } from 'lit'
import type { Reason } from '../../src/reason.ts'
import { SOURCES } from '../../src/sources.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { reasonWords, sayInput, sayInputName } from './reason-words.ts'

/**
 * A reason opened to its sum: every input with its value, the sum written out, and the source with how far to trust it.
 * Enough to redo it by hand.
 */
export class SpokeTheSum extends LitElement {
  static override styles = [
    base,
    css`
      :host { display: block; }
      summary {
        display: inline-flex; align-items: center; min-block-size: var(--target, 48px); cursor: pointer;
        color: var(--accent); text-decoration: underline; text-underline-offset: 0.2em; list-style: none;
      }
      summary::-webkit-details-marker { display: none; }
      .sum { border-inline-start: 3px solid var(--accent); padding-inline-start: var(--space-4); margin-block-end: var(--space-3); }
      dl { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: var(--space-1) var(--space-4); }
      dt { color: var(--ink-quiet); overflow-wrap: anywhere; }
      dd { font-variant-numeric: tabular-nums; font-weight: 600; text-align: end; overflow-wrap: anywhere; }
      h4 { margin: var(--space-3) 0 var(--space-1); font-size: 1em; }
      h4:first-child { margin-block-start: 0; }
      .worked { font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
    `,
  ]

  static override properties = { reason: { attribute: false }, name: { type: String }, open: { type: Boolean } }

  declare reason: Reason | undefined
  /** What the sum is about, for those who hear the link out of its row. */
  declare name: string
  declare open: boolean

  constructor() {
    super()
    new SpeechController(this)
    this.name = ''
    this.open = false
  }

  readonly #handleToggle = (event: Event): void => {
    this.open = (event.currentTarget as HTMLDetailsElement).open
  }

  protected override render() {
    const { reason } = this
    if (!reason) return nothing
    const label = this.name === '' ? (reasonWords(reason) ?? '') : this.name
    return html`<details ?open=${this.open} @toggle=${this.#handleToggle}>
      <summary aria-label=${label === '' ? t('fit.theSum') : t('fit.sumOf', { name: label })}>${t('fit.theSum')}</summary>
      ${this.open ? this.#sum(reason) : nothing}
    </details>`
  }

  #sum({ inputs, sum, source }: Reason) {
    const rows = Object.entries(inputs).filter(([, value]) => value !== null && value !== '')
    const { title, standing } = SOURCES[source]
    // The others have no place to look up: their standing says all.
    const isPlace = standing === 'published' || standing === 'derived'
    return html`<div class="sum">
      ${
        rows.length === 0
          ? nothing
          : html`<h4>${t('fit.inputs')}</h4>
            <dl>
              ${rows.map(([name, value]) => html`<dt>${sayInputName(name)}</dt><dd>${sayInput(name, value)}</dd>`)}
            </dl>`
      }
      ${sum === undefined ? nothing : html`<h4>${t('fit.worked')}</h4><p class="worked" dir="ltr">${sum}</p>`}
      <h4>${t('fit.source')}</h4>
      ${isPlace ? html`<p dir="auto">${title}</p>` : nothing}
      <p class="quiet">${t(`standing.${standing}`)}</p>
    </div>`
  }
}

customElements.define('spoke-the-sum', SpokeTheSum)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-the-sum': SpokeTheSum
  }
}
