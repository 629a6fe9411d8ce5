import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { SOURCES } from '../../src/sources.ts'
import { isSumInput, type WorkedReason } from '../../src/sum.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { reasonWords, sayInput, sayInputName } from './reason-words.ts'
import { type SumLine, sumLines } from './sum-words.ts'

/**
 * A reason opened to its sum: every input with its value, each formula in words and in figures, and the source with how far
 * to trust it.
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
      .worked { overflow-wrap: anywhere; }
      .worked p + p { font-variant-numeric: tabular-nums; text-align: match-parent; }
      .worked + .worked { margin-block-start: var(--space-2); }
    `,
  ]

  static override properties = { reason: { attribute: false }, name: { type: String }, open: { type: Boolean } }

  declare reason: WorkedReason | undefined
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
      <summary aria-label=${label === '' ? t('sum.theSum') : t('sum.sumOf', { name: label })}>${t('sum.theSum')}</summary>
      ${this.open ? this.#sum(reason) : nothing}
    </details>`
  }

  #sum({ inputs, sum, source }: WorkedReason): TemplateResult {
    const lines = sumLines(sum, inputs)
    const given = new Set(lines.map(line => line.name))
    const rows = Object.entries(inputs).flatMap(([name, value]) =>
      value === null || value === '' || given.has(name) || !isSumInput(name) ? [] : [{ name, value }],
    )
    const { title, standing } = SOURCES[source]
    const place = t(`source.${source}`, { title })
    return html`<div class="sum">
      ${
        rows.length === 0
          ? nothing
          : html`<h4>${t('sum.inputs')}</h4>
            <dl>
              ${rows.map(({ name, value }) => html`<dt>${sayInputName(name)}</dt><dd>${sayInput(name, value)}</dd>`)}
            </dl>`
      }
      ${lines.length === 0 ? nothing : html`<h4>${t('sum.worked')}</h4>${lines.map(line => this.#line(line))}`}
      <h4>${t('sum.source')}</h4>
      ${place === '' ? nothing : html`<p>${place}</p>`}
      <p class="quiet">${t(`standing.${standing}`)}</p>
    </div>`
  }

  /** Figures run from left to right in every language; each value with its unit keeps its own direction. */
  #line({ words, figures, result }: SumLine): TemplateResult {
    return html`<div class="worked">
      <p>${words}</p>
      <p dir="ltr">${figures.map(({ type, text }) => (type === 'value' ? html`<bdi>${text}</bdi>` : text))} = <strong><bdi>${result}</bdi></strong></p>
    </div>`
  }
}

customElements.define('spoke-the-sum', SpokeTheSum)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-the-sum': SpokeTheSum
  }
}
