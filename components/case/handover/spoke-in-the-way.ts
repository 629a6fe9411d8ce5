import { html, nothing, type TemplateResult } from 'lit'
import { type TextKey, t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { isInTheWay, sayFew, sayHold } from '../say-hold.ts'
import { lackingBesideHandover, partOfHold } from './in-the-way.ts'

/** What stands in the way of a handover and what is not written down yet, each with the way to it. */
export class SpokeInTheWay extends CasePart {
  protected override renderPart(facts: PartFacts): TemplateResult {
    return html`${this.#renderWay(facts)} ${this.#renderLacking(facts)}`
  }

  /** First what stands in the way, then what is only still to be done: the handover waits for both. */
  #renderWay({ outcome, view }: PartFacts): TemplateResult {
    const { holds } = outcome
    if (holds.length === 0) return html`<p class="notice">${t('handing.nothingInTheWay')}</p>`
    const list = (heading: TextKey, of: typeof holds, style: string): TemplateResult | typeof nothing =>
      of.length === 0
        ? nothing
        : html`<section class="block notice ${style}">
            <h3>${t(heading)}</h3>
            <ul>
              ${of.map(
                hold => html`<li>
                  <a class="target" href="#/case/${view.caseId}/${partOfHold(hold)}">${sayHold(hold, outcome)}</a>
                </li>`,
              )}
            </ul>
          </section>`
    return html`${list('handing.inTheWay', holds.filter(isInTheWay), 'danger')}
    ${list(
      'handing.toDo',
      holds.filter(hold => !isInTheWay(hold)),
      'warn',
    )}`
  }

  #renderLacking(facts: PartFacts): TemplateResult | typeof nothing {
    const lacking = lackingBesideHandover(facts)
    if (lacking.length === 0) return nothing
    return html`<section class="block">
      <h3>${t('handing.lacking')}</h3>
      <div class="lines">
        ${lacking.map(({ section, needs }) => {
          const name = t(`frame.${section === 'follow-up' ? 'followUp' : section}`)
          return html`<div class="line">
            <a class="go" href="#/case/${facts.view.caseId}/${section}">${name}</a>
            <p class="reason">${sayFew(needs)}</p>
          </div>`
        })}
      </div>
    </section>`
  }
}

customElements.define('spoke-in-the-way', SpokeInTheWay)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-in-the-way': SpokeInTheWay
  }
}
