import { css, html, nothing, type TemplateResult } from 'lit'
import { type Due, workedReasonOf } from '../../src/follow-up/due.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import '../fit/spoke-the-sum.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { dueWhat, dueWhen, dueWhy } from './due-words.ts'

const MARKS = { later: 'still', due: 'calls', overdue: 'bad' } as const

/** What falls due for one person: each as a sentence with its day and its reason, those near each other as one visit. */
export class SpokeDues extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .dues { border-block-start: 1px solid var(--line); }
      .visit > h4 { font-weight: 700; color: var(--ink-quiet); padding-block-start: var(--space-4); }
      .visit .lines { border-block-start: 0; }
      .upkeep { display: grid; gap: var(--space-2); }
      .upkeep dt { font-weight: 700; }
    `,
  ]

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { items, visits, ended, attempts, waitingSince, homeUpkeep } = facts.outcome.dues
    if (ended) return html`<p class="notice">${t('followUp.ended', { date: currentSpeech().date(ended.on) })}</p>`
    return html`
      ${waitingSince ? html`<p class="notice">${t('followUp.waiting', { date: currentSpeech().date(waitingSince) })}</p>` : nothing}
      ${attempts > 0 ? html`<p class="notice warn">${t('followUp.attempts', { count: attempts })}</p>` : nothing}
      ${items.length === 0 ? html`<p class="quiet">${t('followUp.nothingDue')}</p>` : nothing}
      ${
        items.length === 0
          ? nothing
          : html`<div class="dues">${visits.map(visit => {
              const dues = items.filter(due => visit.dues.includes(due.key))
              return html`<div class="visit">
          ${dues.length > 1 ? html`<h4>${t('followUp.visit', { date: currentSpeech().date(visit.on) })}</h4>` : nothing}
          <div class="lines">${dues.map(due => this.#renderDue(due, facts))}</div>
        </div>`
            })}</div>`
      }
      ${
        homeUpkeep.length === 0
          ? nothing
          : html`<details>
              <summary>${t('followUp.homeCare')}</summary>
              <dl class="upkeep">
                ${homeUpkeep.map(
                  ({ every, tasks }) => html`<dt>${t(`followUp.${every}`)}</dt>
                    <dd>${currentSpeech().list(tasks.map(task => t(`upkeep.${task}` as TextKey)))}</dd>`,
                )}
              </dl>
            </details>`
      }
    `
  }

  #renderDue(due: Due, { view }: PartFacts): TemplateResult {
    const what = dueWhat(due, view)
    const worked = workedReasonOf(due)
    return html`<div class="line" data-kind=${due.kind}>
      <div class="head">
        <strong>${what}</strong>
        <span class="mark ${MARKS[due.state]}">${t(`dueState.${due.state}`)}</span>
      </div>
      <p>${dueWhen(due)}${due.serialNumber ? ` · ${t('followUp.forChair', { serial: due.serialNumber })}` : nothing}</p>
      <p class="reason">${dueWhy(due)}</p>
      ${worked ? html`<spoke-the-sum .reason=${worked} name=${what}></spoke-the-sum>` : nothing}
    </div>`
  }
}

customElements.define('spoke-dues', SpokeDues)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-dues': SpokeDues
  }
}
