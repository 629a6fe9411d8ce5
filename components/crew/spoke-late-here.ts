import { html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { t } from '../text/text.ts'
import { CrewPart } from './crew-part.ts'

/** In a case: a calm line where something of it was kept that does not count. Nothing is shown where all counts. */
export class SpokeLateHere extends CrewPart {
  static override properties = { caseId: { attribute: false }, count: { state: true } }
  declare caseId: CaseId | undefined
  declare count: number
  #turn = 0

  constructor() {
    super()
    this.count = 0
  }

  override willUpdate(changed: PropertyValues<this>): void {
    super.willUpdate(changed)
    const { app } = this
    if (!changed.has('caseId') || !app) return
    this.count = 0
    void this.read(app.casebook)
  }

  protected override async read(casebook: AppCasebook): Promise<void> {
    this.#turn += 1
    const turn = this.#turn
    const [found] = this.caseId ? await casebook.notCounting(this.caseId) : []
    if (turn === this.#turn) this.count = found?.entries.length ?? 0
  }

  protected override renderPart(): TemplateResult {
    if (this.count === 0) return html`${nothing}`
    return html`<div class="notice here">
      <p>${t('crew.lateHere', { count: this.count })}</p>
      <a class="look" href=${addressOf({ page: 'crew' })}>${t('crew.lateLook')}</a>
    </div>`
  }
}

customElements.define('spoke-late-here', SpokeLateHere)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-late-here': SpokeLateHere
  }
}
