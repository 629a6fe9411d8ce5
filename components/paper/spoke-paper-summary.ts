import { html, nothing, type TemplateResult } from 'lit'
import { checkFieldName, SECTIONS, type Section } from '../../src/case/fields.ts'
import type { PartFacts } from '../case/case-part.ts'
import { isInTheWay, sayHold } from '../case/say-hold.ts'
import { historyOf } from '../follow-up/history-words.ts'
import { atStart, fieldLabel, sayName } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { rowsOf } from './section-rows.ts'
import { SheetElement } from './sheet-element.ts'

const TITLES: Readonly<Record<Section, TextKey>> = {
  referral: 'frame.referral',
  assessment: 'frame.assessment',
  measuring: 'frame.measuring',
  choosing: 'frame.choosing',
  preparing: 'frame.preparing',
  checks: 'frame.checks',
  fitting: 'frame.fitting',
  training: 'frame.training',
  handover: 'frame.handover',
  'follow-up': 'frame.followUp',
  photos: 'frame.photos',
  exit: 'frame.exit',
}

/** Rows short enough to stand in two columns. */
const HALVED: readonly Section[] = ['referral', 'assessment', 'measuring', 'preparing', 'fitting', 'training']
const CHECK_STATES = ['failed', 'stale', 'not-done', 'passed', 'not-applicable'] as const

/** Everything that stands in a case, on paper: for a colleague, a clinic, or the person who asks what is written. */
export class SpokePaperSummary extends SheetElement {
  protected override renderPart(facts: PartFacts): TemplateResult {
    const { view } = facts
    const { dateOfBirth, birthYear, place } = view.values
    const born = dateOfBirth ? currentSpeech().date(dateOfBirth) : birthYear ? String(birthYear) : ''
    const beside = [born, place ?? ''].filter(part => part !== '').join(' · ')
    return html`<article class="sheet">
      ${this.renderTop(facts, t('paper.summary'), beside)} ${this.#renderNow(facts)}
      ${SECTIONS.map(section => this.#renderSection(section, facts))} ${this.#renderHistory(facts)}
      ${this.renderFoot(t('paper.keepSafe'), t('paper.entries', { count: view.entryCount }))}
    </article>`
  }

  #renderNow({ outcome }: PartFacts): TemplateResult {
    const holds = outcome.holds.filter(isInTheWay)
    return html`<section class="framed">
      <h2>${t('paper.now')}: ${t(`row.stage ${outcome.stage}`)}</h2>
      ${
        holds.length === 0
          ? html`<p>${t('paper.noHolds')}</p>`
          : html`<ul>${holds.map(hold => html`<li>${sayHold(hold, outcome)}</li>`)}</ul>`
      }
      ${
        outcome.dues.items.length > 0
          ? html`<h3>${t('paper.dues')}</h3>
              <ul>
                ${outcome.dues.items.map(
                  ({ kind, date }) =>
                    html`<li>${t('paper.dueLine', { what: t(`due.${kind}`), date: currentSpeech().date(date) })}</li>`,
                )}
              </ul>`
          : nothing
      }
    </section>`
  }

  #renderSection(section: Section, facts: PartFacts): TemplateResult | typeof nothing {
    if (section === 'checks') return this.#renderChecks(facts)
    const { rows, usual, notSo } = rowsOf(section, facts)
    if (rows.length + notSo.length === 0) return nothing
    return html`<section>
      <h2>${t(TITLES[section])}</h2>
      ${usual === '' ? nothing : html`<p class="small quiet">${atStart(t('measuring.unlessSaid', { taken: usual }))}</p>`}
      <dl class=${HALVED.includes(section) ? 'rows half' : 'rows'}>
        ${rows.map(({ name, words }) => html`<div class="row"><dt>${name}</dt><dd dir="auto">${words}</dd></div>`)}
      </dl>
      ${
        notSo.length > 0
          ? html`<p class="small">${t('paper.notSo', { fields: currentSpeech().list(notSo) })}</p>`
          : nothing
      }
    </section>`
  }

  #renderHistory({ app, view, context }: PartFacts): TemplateResult | typeof nothing {
    const happened = historyOf(view, context.catalogue)
    if (happened.length === 0) return nothing
    return html`<section>
      <h2>${t('followUp.history')}</h2>
      <dl class="rows">
        ${happened.map(
          ({ on, by, words }) => html`<div class="row">
            <dt>${currentSpeech().date(on)}</dt>
            <dd dir="auto">${words} <span class="quiet">(${sayName(app.casebook, by)})</span></dd>
          </div>`,
        )}
      </dl>
    </section>`
  }

  /** Checks as they stand today: those in order in one sentence, the others each by name. */
  #renderChecks({ outcome }: PartFacts): TemplateResult | typeof nothing {
    if (outcome.checks.length === 0) return nothing
    const names = (wanted: string): readonly string[] =>
      outcome.checks.filter(one => one.state === wanted).map(one => fieldLabel(checkFieldName(one.check)).toLowerCase())
    const states = CHECK_STATES.filter(state => names(state).length > 0)
    return html`<section>
      <h2>${t('frame.checks')}</h2>
      <dl class="rows">
        ${states.map(
          state => html`<div class="row">
            <dt>${atStart(t(`checkState.${state}`))}</dt>
            <dd>${currentSpeech().names(names(state))}</dd>
          </div>`,
        )}
      </dl>
    </section>`
  }
}

customElements.define('spoke-paper-summary', SpokePaperSummary)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper-summary': SpokePaperSummary
  }
}
