import { html, nothing, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { CheckKey } from '../../../src/chair/chair-model.ts'
import type { CaseId } from '../../../src/ids.ts'
import type { CheckState } from '../../../src/preparation/checks.ts'
import { t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import './spoke-check.ts'
import { staleWords } from './stale-words.ts'

/** What asks most for a hand comes first. */
const ORDER: readonly CheckState['state'][] = ['failed', 'stale', 'not-done', 'passed', 'not-applicable']
const isOpen = ({ state }: CheckState): boolean => state !== 'passed' && state !== 'not-applicable'

/** Why several checks are asked again, each cause once: said above them instead of at each. */
const sharedCauses = (checks: readonly CheckState[], { context, outcome }: PartFacts): readonly string[] => {
  const chair = outcome.target?.setUp.chair ?? ''
  const all = checks.flatMap(one => (one.state === 'stale' ? staleWords(one, context.catalogue, chair, true) : []))
  return [...new Set(all)].filter(words => all.indexOf(words) !== all.lastIndexOf(words))
}

/**
 * The checks that the chosen chair asks for: what is to look at first, what is in order folded away. What is settled while
 * one looks stays where it is: under a glove that taps twice lies the same check, not the next.
 */
export class SpokeChecks extends CasePart {
  #listed: readonly CheckKey[] = []
  #listedOf: CaseId | undefined

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { checks } = facts.outcome
    if (checks.length === 0)
      return html`<p class="notice">
        ${t('checking.nothing')}
        <a class="go" href="#/case/${facts.view.caseId}/choosing">${t('preparing.openChoosing')}</a>
      </p>`
    const ordered = checks.toSorted((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state))
    const open = ordered.filter(isOpen)
    const listed = this.#list(ordered, facts.view.caseId)
    const settled = ordered.filter(one => !listed.includes(one))
    const causes = sharedCauses(listed, facts)
    return html`
      <p class="lead">${t('checking.lead')}</p>
      <section class="block">
        <h3>${open.length === 0 ? t('checking.allInOrder') : t('checking.open', { count: open.length })}</h3>
        ${causes.map(words => html`<p class="notice warn">${words}</p>`)}
        ${listed.length === 0 ? nothing : html`<div class="lines">${this.#rows(listed, facts, causes)}</div>`}
      </section>
      ${
        settled.length === 0
          ? nothing
          : html`<details>
              <summary>${t('checking.inOrder', { count: settled.length })}</summary>
              ${this.#rows(settled, facts, [])}
            </details>`
      }
    `
  }

  /** What was listed before in its place, before it what came to look at since. */
  #list(ordered: readonly CheckState[], caseId: CaseId): readonly CheckState[] {
    const before = this.#listedOf === caseId ? this.#listed : []
    const come = ordered.filter(one => isOpen(one) && !before.includes(one.check))
    const there = before.flatMap(key => ordered.find(one => one.check === key) ?? [])
    const listed = [...come, ...there]
    this.#listed = listed.map(one => one.check)
    this.#listedOf = caseId
    return listed
  }

  #rows(checks: readonly CheckState[], { view, outcome }: PartFacts, said: readonly string[]) {
    return repeat(
      checks,
      one => one.check,
      one => html`<spoke-check .view=${view} .outcome=${outcome} .check=${one} .said=${said}></spoke-check>`,
    )
  }
}

customElements.define('spoke-checks', SpokeChecks)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-checks': SpokeChecks
  }
}
