import { html, nothing, type TemplateResult } from 'lit'
import { checkFieldName, FIELD_NAMES, type FieldName, fieldOf, SECTIONS, type Section } from '../../src/case/fields.ts'
import type { PartFacts } from '../case/case-part.ts'
import { isInTheWay, sayHold } from '../case/say-hold.ts'
import { sayInFull } from '../case/say-in-full.ts'
import { SET_UP_NAMES, saySetUpValue, setUpName } from '../case/say-set-up.ts'
import { modelIn } from '../case/set-up-words.ts'
import { historyOf } from '../follow-up/history-words.ts'
import { atStart, fieldLabel, sayName } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { SheetElement } from './sheet-element.ts'
import { takenWords, usualTaken } from './taken-words.ts'

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

interface Row {
  readonly name: string
  readonly words: string
}

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
    const names = FIELD_NAMES.filter(name => fieldOf(name).section === section)
    const usual = usualTaken(names, facts.view, facts.app.casebook)
    const rows = names.flatMap(name => this.#row(name, facts, usual) ?? [])
    const notSo = names.filter(
      name => facts.view.values[name as 'presentSore'] === false && fieldOf(name).kind === 'risk',
    )
    const settings = section === 'choosing' ? this.#settings(facts) : []
    if (rows.length + notSo.length + settings.length === 0) return nothing
    return html`<section>
      <h2>${t(TITLES[section])}</h2>
      ${usual === '' ? nothing : html`<p class="small quiet">${atStart(t('measuring.unlessSaid', { taken: usual }))}</p>`}
      <dl class=${HALVED.includes(section) ? 'rows half' : 'rows'}>
        ${[...rows, ...settings].map(
          ({ name, words }) => html`<div class="row"><dt>${name}</dt><dd dir="auto">${words}</dd></div>`,
        )}
      </dl>
      ${
        notSo.length > 0
          ? html`<p class="small">${t('paper.notSo', { fields: currentSpeech().list(notSo.map(name => fieldLabel(name).toLowerCase())) })}</p>`
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

  #row(name: FieldName, facts: PartFacts, usual: string): Row | undefined {
    const { app, view, context } = facts
    const { kind } = fieldOf(name)
    const heads = view.heads[name]
    if (kind === 'event' || !heads || heads.length === 0) return undefined
    const difference = view.differences.find(one => one.field === name)
    const say = (value: unknown): string => sayInFull(name, value, view, context.catalogue)
    if (difference) {
      const options = currentSpeech().either(difference.options.map(option => say(option.value)))
      return { name: fieldLabel(name), words: t('paper.differs', { options }) }
    }
    const value = view.values[name as keyof typeof view.values]
    if (value === undefined || (kind === 'risk' && value === false)) return undefined
    const taken = kind === 'measure' ? takenWords(heads, app.casebook) : usual
    return { name: fieldLabel(name), words: taken === usual ? say(value) : `${say(value)} (${taken})` }
  }

  #settings({ outcome, context }: PartFacts): readonly Row[] {
    const { target } = outcome
    if (!target) return []
    const model = modelIn(context.catalogue, target.setUp.chair)
    const words = SET_UP_NAMES.filter(
      name => name !== 'chair' && name !== 'cushion' && name !== 'seatWidthMm' && name !== 'seatDepth',
    )
      .filter(name => name !== 'armrestMm' || model?.armrest !== undefined)
      .map(name => `${setUpName(name)} ${saySetUpValue(name, target.setUp[name], model)}`)
    return [{ name: t('paper.settings'), words: currentSpeech().names(words) }]
  }
}

customElements.define('spoke-paper-summary', SpokePaperSummary)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper-summary': SpokePaperSummary
  }
}
