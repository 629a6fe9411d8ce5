import { html, nothing, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { CheckState } from '../../../src/preparation/checks.ts'
import { t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import './spoke-check.ts'

/** What asks most for a hand comes first. */
const ORDER: readonly CheckState['state'][] = ['failed', 'stale', 'not-done', 'passed', 'not-applicable']
const isOpen = ({ state }: CheckState): boolean => state !== 'passed' && state !== 'not-applicable'

/** The checks that the chosen chair asks for: what is to look at first, what is in order folded away. */
export class SpokeChecks extends CasePart {
  protected override renderPart(facts: PartFacts): TemplateResult {
    const { checks } = facts.outcome
    if (checks.length === 0)
      return html`<p class="notice">
        ${t('checking.nothing')}
        <a class="go" href="#/case/${facts.view.caseId}/choosing">${t('preparing.openChoosing')}</a>
      </p>`
    const ordered = checks.toSorted((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state))
    const open = ordered.filter(isOpen)
    const settled = ordered.filter(one => !isOpen(one))
    return html`
      <p class="lead">${t('checking.lead')}</p>
      <section class="block">
        <h3>${open.length === 0 ? t('checking.allInOrder') : t('checking.open', { count: open.length })}</h3>
        ${open.length === 0 ? nothing : html`<div class="lines">${this.#rows(open, facts)}</div>`}
      </section>
      ${
        settled.length === 0
          ? nothing
          : html`<details ?open=${open.length === 0}>
              <summary>${t('checking.inOrder', { count: settled.length })}</summary>
              ${this.#rows(settled, facts)}
            </details>`
      }
    `
  }

  #rows(checks: readonly CheckState[], { view, outcome }: PartFacts) {
    return repeat(
      checks,
      one => one.check,
      one => html`<spoke-check .view=${view} .outcome=${outcome} .check=${one}></spoke-check>`,
    )
  }
}

customElements.define('spoke-checks', SpokeChecks)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-checks': SpokeChecks
  }
}
