import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { Option, Recommendation } from '../../../src/fitting/recommend.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { atStart, sayNumber } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { focusFirstError, textControl } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { sayFields } from '../say-hold.ts'
import { cushionTitle, modelIn, saySize, sayTipAngle, sayTolerance } from '../set-up-words.ts'
import { assumedWords } from './assumed-words.ts'
import { stillDrawing } from './drawing-of.ts'
import { excludedTable, rulesInTheWay, wouldHelpList } from './excluded.ts'
import './spoke-cannot-issue.ts'
import './spoke-chosen.ts'
import './spoke-set-up-settings.ts'
import { rankingOf } from './weighed.ts'

/** Shown before "show more". */
const FIRST_SHOWN = 3

/** Choosing the chair: what serves and why, what does not, the decision and its reason. */
export class SpokeChoosing extends CasePart {
  static override styles = [...CasePart.styles, css`button.flush { padding-inline: 0; }`]
  static override properties = {
    ...CasePart.properties,
    openRank: { state: true },
    showAll: { state: true },
    tried: { state: true },
  }
  declare openRank: number | null
  declare showAll: boolean
  declare tried: boolean
  readonly #form = new FormController(this)
  #ranking: Recommendation | undefined

  constructor() {
    super()
    this.openRank = null
    this.showAll = false
    this.tried = false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    this.#form.show(this.app, this.view, 'choosing')
    if (changed.has('view') || changed.has('outcome')) this.#ranking = undefined
  }

  async #choose({ setUp, rank }: Option, facts: PartFacts): Promise<void> {
    const { chair, seatWidthMm, seatDepth, cushion } = setUp
    this.tried = true
    const why = this.#form.draft.value('chosenWhy') ?? ''
    if (this.#needsWhy(rank, facts) && why.trim() === '') {
      await this.updateComplete
      return focusFirstError(this.renderRoot)
    }
    this.#form.set('chosenSetUp', { chair, seatWidthMm, seatDepth, cushion })
    if (await this.#form.save()) {
      this.tried = false
      this.openRank = null
      await this.updateComplete
      this.renderRoot.querySelector('.saved')?.scrollIntoView({ block: 'center' })
    }
  }

  /** Not the first, or in the place of one that was chosen before: somebody will ask why. */
  #needsWhy(rank: number, { view }: PartFacts): boolean {
    return rank > 1 || (view.heads.chosenSetUp ?? []).length > 0
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    this.#ranking ??= rankingOf(facts)
    const ranking = this.#ranking
    const differs = facts.view.differences.some(one => one.field === 'chosenSetUp')
    return html`
      ${
        differs
          ? html`<p class="notice warn">
              ${t('form.twoStand')} <a class="go" href="#/case/${facts.view.caseId}/differences">${t('form.settleIt')}</a>
            </p>`
          : nothing
      }
      ${this.#form.state.status === 'saved' ? html`<p class="saved">${t('choosing.chosenSaved')}</p>` : nothing}
      <spoke-chosen .view=${facts.view} .outcome=${facts.outcome}></spoke-chosen> ${this.#renderRanked(ranking, facts, differs)} ${this.#renderSmallGap(ranking)}
      ${this.#renderExcluded(ranking, facts)}
      <div class="block">
        <details ?open=${facts.view.values.cannotIssue !== undefined && facts.view.values.cannotIssue !== null}>
          <summary>${t('choosing.today')}</summary>
          <p class="lead">${t('choosing.todayLead')}</p>
          <spoke-cannot-issue .view=${facts.view} .outcome=${facts.outcome}></spoke-cannot-issue>
        </details>
      </div>
    `
  }

  #renderRanked(ranking: Recommendation, facts: PartFacts, differs: boolean): TemplateResult {
    const missing = ranking.missing.filter(one => one.effect === 'no-options').map(one => one.field)
    if (missing.length > 0) return html`<p class="notice">${t('choosing.missing', { fields: sayFields(missing) })}</p>`
    const { options } = ranking
    if (options.length === 0)
      return html`<section class="block">
        <div class="notice danger"><strong>${t('choosing.nothingServes')}</strong> ${t('choosing.nothingServesLead')}</div>
        <ul class="block">${rulesInTheWay(ranking.excluded).map(words => html`<li>${words}</li>`)}</ul>
        ${wouldHelpList(ranking.wouldHelp, facts.context.catalogue)}
      </section>`
    const shown = this.showAll ? options : options.slice(0, FIRST_SHOWN)
    const count = options.length - shown.length
    const { ranked, setUps } = ranking.considered
    const list = html`
      <p class="lead">${t('choosing.rankedLead', { ranked, considered: setUps })}</p>
      <div class="lines">${shown.map(option => this.#renderOption(option, facts, differs))}</div>
      ${
        count > 0
          ? html`<button class="quiet flush" @click=${() => {
              this.showAll = true
            }}>${t('choosing.showMore', { count })}</button>`
          : nothing
      }
      ${this.#renderAssumed(ranking)}
    `
    return facts.outcome.target
      ? html`<div class="block"><details><summary>${t('choosing.others')}</summary>${list}</details></div>`
      : html`<section class="block"><h3>${t('choosing.ranked')}</h3>${list}</section>`
  }

  #renderOption(option: Option, facts: PartFacts, differs: boolean): TemplateResult {
    const { catalogue } = facts.context
    const open = this.openRank === option.rank
    const { rearTyrePivotDeg: angle, standardErrors } = option.predicted
    const error = sayNumber(standardErrors.rearTyrePivotDeg, 'deg')
    const back = sayTipAngle(angle)
    return html`<div class="line option">
      <h4>
        <button
          class="opener"
          aria-expanded=${open}
          @click=${() => {
            this.openRank = open ? null : option.rank
            this.tried = false
          }}
        >
          <span class="name">${t('choosing.rank', { rank: option.rank, size: saySize(catalogue, option.setUp) })}</span>
          <span class="quiet">${cushionTitle(modelIn(catalogue, option.chair), option.cushion)}</span>
          <span class="head">
            <span>${t('fit.rearward')}</span>
            <span class="number">${typeof angle === 'number' ? t('choosing.withError', { angle: back, error }) : back}</span>
          </span>
          <span class="reason">${option.rank === 1 ? `${t('choosing.best')} · ${this.#missWords(option)}` : atStart(this.#missWords(option))}</span>
        </button>
      </h4>
      ${open ? this.#renderOpen(option, facts, differs) : nothing}
    </div>`
  }

  #missWords({ outOfTolerance }: Option): string {
    return outOfTolerance.length === 0 ? t('choosing.within') : currentSpeech().list(outOfTolerance.map(sayTolerance))
  }

  #renderOpen(option: Option, facts: PartFacts, differs: boolean): TemplateResult {
    const why = this.#form.draft.value('chosenWhy') ?? ''
    const needsWhy = this.#needsWhy(option.rank, facts)
    const { state } = this.#form
    return html`<div class="opened">
      ${stillDrawing(facts, option.setUp)}
      <details>
        <summary>${t('choosing.settings')}</summary>
        <spoke-set-up-settings
          .settings=${option.settings}
          .catalogue=${facts.context.catalogue}
          .chair=${option.chair}
        ></spoke-set-up-settings>
      </details>
      ${
        differs
          ? nothing
          : html`<div class="form">
              ${
                needsWhy
                  ? textControl({
                      id: 'why',
                      label: t(option.rank > 1 ? 'choosing.whyNotFirst' : 'choosing.whyChanged'),
                      hint: t('choosing.whyHint'),
                      value: why,
                      most: 1000,
                      lines: 2,
                      error: this.tried && why.trim() === '' ? t('choosing.whyNeeded') : undefined,
                      change: typed => this.#form.set('chosenWhy', typed === '' ? undefined : typed),
                    })
                  : nothing
              }
              ${state.status === 'failed' ? html`<p class="error" role="alert">${state.message}</p>` : nothing}
              <button class="main" @click=${() => this.#choose(option, facts)}>
                ${t(option.rank > 1 ? 'choosing.chooseOther' : 'choosing.choose')}
              </button>
            </div>`
      }
    </div>`
  }

  #renderAssumed({ missing }: Recommendation): TemplateResult | typeof nothing {
    const assumed = assumedWords(missing)
    if (assumed.length === 0) return nothing
    return html`<details>
      <summary>${t('choosing.assumed')}</summary>
      <ul>${assumed.map(words => html`<li>${words}</li>`)}</ul>
    </details>`
  }

  #renderSmallGap({ excluded }: Recommendation): TemplateResult | typeof nothing {
    const said = this.#form.draft.value('acceptedGapWhy')
    if (!excluded.some(row => row.rule === 'depth-too-long') && said === undefined) return nothing
    return html`<details ?open=${said !== undefined}>
      <summary>${t('choosing.smallGapOpen')}</summary>
      <div class="form">
        ${textControl({
          id: 'gap',
          label: t('choosing.smallGap'),
          hint: t('choosing.smallGapHint'),
          value: said ?? this.view?.values.acceptedGapWhy ?? '',
          most: 400,
          lines: 2,
          change: typed => this.#form.set('acceptedGapWhy', typed === '' ? undefined : typed),
        })}
        <button @click=${() => this.#form.save()}>${t('app.save')}</button>
      </div>
    </details>`
  }

  #renderExcluded({ excluded }: Recommendation, { context }: PartFacts): TemplateResult | typeof nothing {
    if (excluded.length === 0) return nothing
    return html`<div class="block">
      <details>
        <summary>${t('choosing.excluded')}</summary>
        <p class="lead">${t('choosing.excludedLead')}</p>
        ${excludedTable(excluded, context.catalogue)}
      </details>
    </div>`
  }
}

customElements.define('spoke-choosing', SpokeChoosing)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-choosing': SpokeChoosing
  }
}
