import { css, html, nothing, type TemplateResult } from 'lit'
import { checkFieldName, SECTIONS } from '../../src/case/fields.ts'
import { historyOf } from '../follow-up/history-words.ts'
import { type Row, rowsOf } from '../paper/section-rows.ts'
import { atStart, fieldLabel, sayName } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { CasePart, type PartFacts } from './case-part.ts'
import { sayInFull } from './say-in-full.ts'

/**
 * A part of a case for somebody who looks on: everything that is written down, and nothing that could be typed and then
 * not be saved. `section` is the key of the part.
 */
export class SpokeLooking extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      dl { border-block-start: 1px solid var(--line); margin-block-start: var(--space-4); }
      dl > div { border-block-end: 1px solid var(--line); padding-block: var(--space-3); }
      dt { color: var(--ink-quiet); font-size: var(--text-small); }
      dd { overflow-wrap: anywhere; }
      p + p { margin-block-start: var(--space-3); }
    `,
  ]
  static override properties = { ...CasePart.properties, section: { attribute: false } }
  declare section: string

  constructor() {
    super()
    this.section = ''
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { rows, usual, notSo } = this.#said(facts)
    return html`<p class="notice">${t('crew.lookingOn')}</p>
      ${usual === '' ? nothing : html`<p class="quiet">${atStart(t('measuring.unlessSaid', { taken: usual }))}</p>`}
      ${
        rows.length === 0
          ? html`<p class="quiet">${t('crew.lookingNothing')}</p>`
          : html`<dl>${rows.map(({ name, words }) => html`<div><dt>${name}</dt><dd dir="auto">${words}</dd></div>`)}</dl>`
      }
      ${notSo.length > 0 ? html`<p class="quiet">${t('paper.notSo', { fields: currentSpeech().list(notSo) })}</p>` : nothing}`
  }

  #said(facts: PartFacts): {
    readonly rows: readonly Row[]
    readonly usual: string
    readonly notSo: readonly string[]
  } {
    if (this.section === 'differences') return { rows: differenceRows(facts), usual: '', notSo: [] }
    if (this.section === 'checks') return { rows: checkRows(facts), usual: '', notSo: [] }
    const section = SECTIONS.find(one => one === this.section)
    if (!section) throw new Error(`a part of a case that is no section: ${this.section}`)
    const said = rowsOf(section, facts)
    return section === 'follow-up' ? { ...said, rows: [...said.rows, ...historyRows(facts)] } : said
  }
}

const differenceRows = ({ view, context }: PartFacts): readonly Row[] =>
  view.differences.map(({ field, options }) => ({
    name: fieldLabel(field),
    words: t('paper.differs', {
      options: currentSpeech().either(options.map(({ value }) => sayInFull(field, value, view, context.catalogue))),
    }),
  }))

const checkRows = ({ outcome }: PartFacts): readonly Row[] =>
  outcome.checks.map(({ check, state }) => ({
    name: fieldLabel(checkFieldName(check)),
    words: atStart(t(`checkState.${state}`)),
  }))

const historyRows = ({ app, view, context }: PartFacts): readonly Row[] =>
  historyOf(view, context.catalogue).map(({ on, by, words }) => ({
    name: currentSpeech().date(on),
    words: `${words} (${sayName(app.casebook, by)})`,
  }))

customElements.define('spoke-looking', SpokeLooking)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-looking': SpokeLooking
  }
}
