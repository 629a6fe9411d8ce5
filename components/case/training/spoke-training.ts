import { css, html, nothing, type TemplateResult } from 'lit'
import type { FieldName } from '../../../src/case/fields.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { fieldTemplate } from '../../fields/field-template.ts'
import { fieldLabel } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { TRAINED } from './trained.ts'

/** Training: each part ticked when the person (or the caregiver) has shown it, with the day; the caregiver by name. */
export class SpokeTraining extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .skill { display: grid; grid-template-columns: auto 1fr; gap: 0 var(--space-3); align-items: start; cursor: pointer; }
      .skill input { margin-block: 0.2rem; inline-size: 1.75rem; block-size: 1.75rem; }
      .skill .name { font-weight: 700; }
      .skill .reason, .skill .when { grid-column: 2; }
      .skill .when { margin-block-start: var(--space-2); }
      .skill .done { color: var(--accent); font-weight: 600; }
      label.skill { min-block-size: var(--target); padding-block: var(--space-2); }
    `,
  ]
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)

  override willUpdate(): void {
    this.#form.show(this.app, this.view, 'training')
  }

  async #tick(
    field: (typeof TRAINED)[number],
    demonstrated: boolean,
    { app, view, outcome }: PartFacts,
  ): Promise<void> {
    const draft = new Draft()
    draft.set(field, { demonstrated, on: outcome.today }, view)
    await this.#act.run(field, () => draft.save(app.casebook, view.caseId))
    // A refused tick is shown as what the record says.
    this.requestUpdate()
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    return html`
      <p class="lead">${t('training.lead')}</p>
      <div class="lines">${TRAINED.map(field => this.#renderSkill(field, facts))}</div>
      <div class="form block">
        ${this.#field('caregiverName', facts)}
        <div>
          ${this.#field('trainingTrouble', facts)}
          <p class="hint">${t('training.troubleHint')}</p>
        </div>
        ${this.#form.state.status === 'failed' ? html`<p class="error" role="alert">${this.#form.state.message}</p>` : nothing}
        ${this.#form.state.status === 'saved' ? html`<p class="saved">${t('form.saved')}</p>` : nothing}
        ${this.#form.draft.isEmpty ? nothing : html`<button class="main" @click=${() => this.#form.save()}>${t('app.save')}</button>`}
      </div>
    `
  }

  #field(name: FieldName, { view }: PartFacts): TemplateResult {
    const form = this.#form
    return html`<div @field-change=${form.handleChange} @risk-lower=${form.handleLower}>
      ${fieldTemplate(name, { view, edit: form.draft.edit(name), error: form.errorOf(name) })}
    </div>`
  }

  /** The number to show, where the crew has said one. */
  #renderContacts({ app }: PartFacts): readonly TemplateResult[] {
    return app.casebook
      .crew()
      .contacts.map(
        ({ who, telephone }) =>
          html`<span class="reason"><span dir="auto">${who}</span>: <strong dir="ltr">${telephone}</strong></span>`,
      )
  }

  #renderSkill(field: (typeof TRAINED)[number], facts: PartFacts): TemplateResult {
    const said = facts.view.values[field]
    const differs = facts.view.differences.some(one => one.field === field)
    const error = this.#act.errorOf(field)
    return html`<div class="line">
      <label class="skill">
        <input
          type="checkbox"
          .checked=${said?.demonstrated === true}
          @change=${(event: Event) => this.#tick(field, (event.target as HTMLInputElement).checked, facts)}
        />
        <span class="name">${fieldLabel(field)}</span>
        <span class="reason">${t(`training.how ${field}`)}</span>
        ${field === 'trainedWhomToContact' ? this.#renderContacts(facts) : nothing}
        <span class="when ${said?.demonstrated ? 'done' : 'quiet'}">
          ${
            said?.demonstrated
              ? t('training.shown', { date: currentSpeech().date(said.on) })
              : t(said ? 'training.told' : 'training.notShown')
          }
        </span>
      </label>
      ${
        differs
          ? html`<p class="notice warn">
              ${t('form.twoStand')}
              <a class="go" href="#/case/${facts.view.caseId}/differences">${t('form.settleIt')}</a>
            </p>`
          : nothing
      }
      ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
    </div>`
  }
}

customElements.define('spoke-training', SpokeTraining)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-training': SpokeTraining
  }
}
