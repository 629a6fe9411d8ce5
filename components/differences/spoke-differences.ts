import { html, type TemplateResult } from 'lit'
import type { FieldName } from '../../src/case/fields.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import { fieldLabel } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { fieldsBeingSettled } from './settling.ts'
import './spoke-difference.ts'

/** Every difference of a case: those that matter first, each with its values and the ways to end it. */
export class SpokeDifferences extends CasePart {
  #fields({ app, view, outcome }: PartFacts): readonly FieldName[] {
    const rank = (effect: string): number => (effect === 'none' ? 1 : 0)
    const open = outcome.differences.toSorted((a, b) => rank(a.effect) - rank(b.effect)).map(one => one.field)
    const being = fieldsBeingSettled(app.casebook, view.caseId).filter(field => !open.some(one => one === field))
    return [...open, ...being]
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const fields = this.#fields(facts)
    if (fields.length === 0) return html`<p class="quiet">${t('difference.none')}</p>`
    return html`${fields.map(
      field => html`<section class="block">
        <h3>${fieldLabel(field)}</h3>
        <spoke-difference .view=${facts.view} .outcome=${facts.outcome} .field=${field}></spoke-difference>
      </section>`,
    )}`
  }
}

customElements.define('spoke-differences', SpokeDifferences)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-differences': SpokeDifferences
  }
}
