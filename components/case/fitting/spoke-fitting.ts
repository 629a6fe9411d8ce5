import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import { checkFieldName, type FieldName } from '../../../src/case/fields.ts'
import type { ChosenSetUp } from '../../../src/chair/set-up.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { fieldTemplate } from '../../fields/field-template.ts'
import type { PinSettings } from '../../fit/setting-moved.ts'
import { t } from '../../text/text.ts'
import { focusFirstError } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { staleWords } from '../checks/stale-words.ts'
import { chosenDrawing } from '../choosing/drawing-of.ts'
import { sayFields } from '../say-hold.ts'
import { sayMm } from '../set-up-words.ts'
import { type MassCentre, massCentreOf } from './mass-centre.ts'

const ON_CUSHION = ['handCheckLeft', 'handCheckRight'] as const
const WITHOUT_CUSHION = ['handCheckLeftNoCushion', 'handCheckRightNoCushion'] as const
const SCALES = ['scaleRearKg', 'scaleFrontKg'] as const

/** The person in the chair: size, posture, pressure, then moving; the mass centre by two scales; what an adjustment re-opens. */
export class SpokeFitting extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .pair { display: grid; gap: var(--space-4); grid-template-columns: repeat(auto-fit, minmax(min(100%, 15rem), 1fr)); margin-block-start: var(--space-3); }
      .save { padding-block: var(--space-3); background: var(--sheet); border-block-start: 1px solid var(--line); margin-block-start: var(--space-5); }
      .save.stays { position: sticky; inset-block-end: 0; }
      h4 { margin: var(--space-4) 0 0; font-size: var(--text-body); }
    `,
  ]
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)
  #centre: MassCentre | undefined

  override willUpdate(changed: PropertyValues<this>): void {
    this.#form.show(this.app, this.view, 'fitting')
    if (changed.has('view') || changed.has('outcome')) this.#centre = undefined
  }

  async #save(): Promise<void> {
    if (await this.#form.save()) return
    await this.updateComplete
    focusFirstError(this.renderRoot)
  }

  async #pin({ app, view }: PartFacts, chosen: ChosenSetUp): Promise<void> {
    const draft = new Draft()
    draft.set('chosenSetUp', chosen, view)
    await this.#act.run('pin', () => draft.save(app.casebook, view.caseId))
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const chosen = facts.view.values.chosenSetUp
    if (!facts.outcome.target || !chosen)
      return html`<p class="notice">
        ${t('fitting.nothing')}
        <a class="go" href="#/case/${facts.view.caseId}/choosing">${t('preparing.openChoosing')}</a>
      </p>`
    return html`
      ${this.#renderReopened(facts)}
      <p class="lead">${t('fitting.lead')}</p>
      <div @field-change=${this.#form.handleChange}>
        ${this.#renderBlock(t('fitting.size'), t('fitting.sizeHint'), ['fitSize'], facts)}
        ${this.#renderBlock(t('fitting.posture'), t('fitting.postureHint'), ['fitPosture'], facts)}
        ${this.#renderPressure(facts)}
        ${this.#renderBlock(t('fitting.moving'), t('fitting.movingHint'), ['fitMoving'], facts)}
        ${this.#renderBlock('', '', ['brakeReach'], facts)}
        ${this.#renderBlock('', t('fitting.strapHint'), ['strapReleasedBy'], facts)}
        ${this.#renderScales(facts)}
        ${this.#renderBlock('', t('fitting.skinHint'), ['skinAfterFirstHour'], facts)}
      </div>
      ${this.#renderSave()} ${this.#renderAdjust(facts, chosen)}
    `
  }

  /** Checks that depend on settings which were changed after them. */
  #renderReopened({ outcome, context, view }: PartFacts): TemplateResult | typeof nothing {
    const stale = outcome.checks.flatMap(one => (one.state === 'stale' ? [one] : []))
    if (stale.length === 0) return nothing
    const chair = outcome.target?.setUp.chair ?? ''
    const byWhy = new Map<string, FieldName[]>()
    for (const one of stale) {
      const why = staleWords(one, context.catalogue, chair, true).join(' ')
      byWhy.set(why, [...(byWhy.get(why) ?? []), checkFieldName(one.check)])
    }
    return html`<div class="notice warn">
      <strong>${t('fitting.reopened')}</strong>
      <ul>
        ${[...byWhy].map(([why, fields]) => html`<li>${t('fitting.reopenedLine', { why, checks: sayFields(fields) })}</li>`)}
      </ul>
      <a class="go" href="#/case/${view.caseId}/checks">${t('fitting.toChecks')}</a>
    </div>`
  }

  #field(name: FieldName, { view }: PartFacts): TemplateResult {
    return fieldTemplate(name, { view, edit: this.#form.draft.edit(name), error: this.#form.errorOf(name) })
  }

  #renderBlock(title: string, hint: string, fields: readonly FieldName[], facts: PartFacts): TemplateResult {
    return html`<section class="block">
      ${title === '' ? nothing : html`<h3>${title}</h3>`}
      ${hint === '' ? nothing : html`<p class="lead">${hint}</p>`} ${fields.map(name => this.#field(name, facts))}
    </section>`
  }

  #renderPressure(facts: PartFacts): TemplateResult {
    return html`<section class="block">
      <h3>${t('fitting.pressure')}</h3>
      <p class="lead">${t('fitting.pressureHint')}</p>
      <h4>${t('fitting.withCushion')}</h4>
      <div class="pair">${ON_CUSHION.map(name => html`<div>${this.#field(name, facts)}</div>`)}</div>
      <h4>${t('fitting.withoutCushion')}</h4>
      <div class="pair">${WITHOUT_CUSHION.map(name => html`<div>${this.#field(name, facts)}</div>`)}</div>
    </section>`
  }

  #renderScales(facts: PartFacts): TemplateResult {
    this.#centre ??= massCentreOf(facts)
    const { modelMm, measuredMm } = this.#centre
    const shown = measuredMm ?? modelMm
    return html`<section class="block">
      <h3>${t('fitting.scales')}</h3>
      <p class="lead">${t('fitting.scalesHint')}</p>
      <div class="pair">${SCALES.map(name => html`<div>${this.#field(name, facts)}</div>`)}</div>
      ${
        shown === null
          ? nothing
          : html`<div class="line">
              <div class="head"><span>${t('fitting.centre')}</span><span class="number">${sayMm(shown)}</span></div>
              ${this.#renderCentre(this.#centre)}
            </div>`
      }
    </section>`
  }

  #renderCentre({ modelMm, measuredMm, doubtErrorMm, axleSetSince }: MassCentre): TemplateResult {
    if (measuredMm === null || modelMm === null) return html`<p class="reason">${t('fitting.centreModel')}</p>`
    const values = { model: sayMm(modelMm), gap: sayMm(Math.abs(measuredMm - modelMm)) }
    return html`<p class="reason">${t('fitting.centreMeasured', values)}</p>
      ${
        doubtErrorMm === null
          ? html`<p class="reason">${t('fitting.centreAgrees')}</p>`
          : html`<p class="notice warn">${t('fitting.centreDoubt', { error: sayMm(doubtErrorMm) })}</p>`
      }
      ${axleSetSince ? html`<p class="notice warn">${t('fitting.axleSetSince')}</p>` : nothing}`
  }

  #renderSave(): TemplateResult {
    const { state, draft } = this.#form
    return html`<div class="save ${draft.isEmpty ? '' : 'stays'}">
      ${state.status === 'failed' ? html`<p class="error refused" role="alert" tabindex="-1">${state.message}</p>` : nothing}
      ${state.status === 'saved' ? html`<p class="saved">${t('form.saved')}</p>` : nothing}
      <button class="main" aria-busy=${state.status === 'saving'} @click=${() => this.#save()}>
        ${draft.isEmpty ? t('fitting.save') : t('form.saveCount', { count: draft.fields.length })}
      </button>
    </div>`
  }

  #renderAdjust(facts: PartFacts, chosen: ChosenSetUp): TemplateResult {
    const error = this.#act.errorOf('pin')
    return html`<details class="block" ?open=${this.#act.isSaved('pin')}>
      <summary>${t('fitting.adjust')}</summary>
      <p class="lead">${t('fitting.adjustHint')}</p>
      <div @pin-settings=${(event: CustomEvent<PinSettings>) => this.#pin(facts, event.detail.chosen)}>
        ${chosenDrawing(facts, chosen)}
      </div>
      ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
      ${this.#act.isSaved('pin') ? html`<p class="saved">${t('fitting.pinnedSaved')}</p>` : nothing}
    </details>`
  }
}

customElements.define('spoke-fitting', SpokeFitting)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-fitting': SpokeFitting
  }
}
