import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import { QrController, qrTemplate } from '../../controllers/qr-code.ts'
import { paperColours } from '../../styles/tokens.ts'
import { t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { latestHandover } from '../latest-handover.ts'
import { saySize } from '../set-up-words.ts'

/**
 * The label on the chair: serial number, chair and size, and a code of nothing but the random number of the case. No name:
 * a chair stands in the street.
 */
export class SpokeChairLabel extends CasePart {
  static override styles = [
    ...CasePart.styles,
    paperColours,
    css`
      .tag {
        display: flex; flex-wrap: wrap; gap: var(--space-4); align-items: center; inline-size: fit-content; max-inline-size: 100%;
        padding: var(--space-4); border: 2px solid var(--ink); border-radius: var(--radius-small); background: var(--sheet); color: var(--ink);
      }
      .code { inline-size: 30mm; block-size: 30mm; flex: none; }
      .code svg { inline-size: 100%; block-size: 100%; }
      .words { min-inline-size: 0; flex: 1 1 min(9rem, 100%); overflow-wrap: anywhere; }
      .serial { font-size: var(--text-title); font-weight: 700; overflow-wrap: anywhere; }
      .whole { display: inline-block; max-inline-size: 100%; }
      .id { overflow-wrap: anywhere; }
    `,
  ]
  readonly #qr = new QrController(this)

  override willUpdate(_changed: PropertyValues<this>): void {
    if (this.view) this.#qr.draw(this.view.caseId)
  }

  protected override renderPart({ view, outcome, context }: PartFacts): TemplateResult {
    const latest = latestHandover(view)
    const serial = latest?.serialNumber ?? view.values.serialNumber
    const setUp = outcome.target?.setUp
    return html`<div class="tag">
      ${this.#renderCode(view.caseId)}
      <div class="words">
        <p class="serial">${serial ? serialTemplate(serial) : t('handing.labelNoSerial')}</p>
        ${setUp ? html`<p>${saySize(context.catalogue, setUp)}</p>` : nothing}
        <p>${t('handing.labelScan')}</p>
      </div>
    </div>`
  }

  #renderCode(id: string): TemplateResult {
    const { code } = this.#qr
    if (code.status === 'loading') return html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    // Without the code the label still says the number: it can be typed.
    if (code.status === 'failed') return html`<p class="id">${t('handing.labelFailed', { id })}</p>`
    return html`<div class="code">${qrTemplate(code.rows, t('handing.labelCode'))}</div>`
  }
}

const SERIAL = '\u0000'

/** The number in one piece, so that no hyphen of it is taken for the end of a line. */
const serialTemplate = (serial: string): TemplateResult => {
  const [before = '', after = ''] = t('handing.labelSerial', { serial: SERIAL }).split(SERIAL)
  return html`${before}<span class="whole" dir="auto">${serial}</span>${after}`
}

customElements.define('spoke-chair-label', SpokeChairLabel)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-chair-label': SpokeChairLabel
  }
}
