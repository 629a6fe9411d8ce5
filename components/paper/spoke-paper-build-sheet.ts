import { html, type TemplateResult } from 'lit'
import type { PartFacts } from '../case/case-part.ts'
import { saySize } from '../case/set-up-words.ts'
import { t } from '../text/text.ts'
import { buildSheetTemplate } from './build-sheet-template.ts'
import { SheetElement } from './sheet-element.ts'

/** The build sheet of one person's chair. */
export class SpokePaperBuildSheet extends SheetElement {
  protected override renderPart(facts: PartFacts): TemplateResult {
    const { target } = facts.outcome
    const { place } = facts.view.values
    const chair = target ? saySize(facts.context.catalogue, target.setUp) : ''
    const beside = [place ?? '', chair].filter(part => part !== '').join(' · ')
    return html`<article class="sheet">
      ${this.renderTop(facts, t('paper.buildSheet'), beside)}
      ${buildSheetTemplate(facts.outcome, facts.context.catalogue, facts.view.values)}
      ${this.renderFoot(t('paper.partWins'), t('paper.keepSafe'))}
    </article>`
  }
}

customElements.define('spoke-paper-build-sheet', SpokePaperBuildSheet)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper-build-sheet': SpokePaperBuildSheet
  }
}
