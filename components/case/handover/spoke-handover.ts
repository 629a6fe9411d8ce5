import { html, nothing, type TemplateResult } from 'lit'
import { hasOpenHandover } from '../../../src/case/stage.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { fieldTemplate } from '../../fields/field-template.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { answersControl, dateControl, focusFirstError, textControl, yesNo } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import '../choosing/spoke-cannot-issue.ts'
import { sayHold } from '../say-hold.ts'
import { cushionTitle, modelIn } from '../set-up-words.ts'
import { type HandoverErrors, type HandoverSaid, handoverErrors, handoverOf } from './handover-draft.ts'
import { lackingBesideHandover } from './in-the-way.ts'
import './spoke-in-the-way.ts'
import './spoke-chair-label.ts'

/**
 * Handover: what stands in the way, in words, each with the way to it; then the record of it. The button is always there:
 * pressed while something stands in the way it says what, and keeps what was filled in.
 */
export class SpokeHandover extends CasePart {
  static override properties = {
    ...CasePart.properties,
    tried: { state: true },
    another: { state: true },
  }
  declare tried: boolean
  declare another: boolean
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.tried = false
    this.another = false
  }

  override willUpdate(): void {
    this.#form.show(this.app, this.view, 'handover')
  }

  /** What is filled in, over what the record gives to begin with. */
  #said({ view, outcome }: PartFacts): HandoverSaid {
    const { serialNumber } = view.values
    return {
      handedOverOn: outcome.today,
      ...(serialNumber === undefined ? {} : { serialNumber }),
      ...(this.#form.draft.value('handover') as HandoverSaid | undefined),
    }
  }

  #put(facts: PartFacts, part: { [Key in keyof HandoverSaid]?: HandoverSaid[Key] | undefined }): void {
    const all = Object.entries({ ...this.#said(facts), ...part }).filter(([, one]) => one !== undefined)
    // Half a handover stays in the draft of this page; what is recorded is made by `handoverOf`.
    this.#form.set('handover', Object.fromEntries(all) as never)
  }

  #errors(facts: PartFacts): HandoverErrors {
    return handoverErrors(
      this.#said(facts),
      facts.outcome.today,
      lackingBesideHandover(facts).length > 0,
      this.words('handover'),
    )
  }

  async #record(facts: PartFacts): Promise<void> {
    const { app, view, outcome } = facts
    this.tried = true
    const errors = this.#errors(facts)
    if (outcome.holds.length > 0 || Object.keys(errors).length > 0) {
      if (outcome.holds.length > 0) this.#act.fail('handover', t('handing.refused', { count: outcome.holds.length }))
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    const said = this.#said(facts)
    const handover = handoverOf(said)
    const draft = new Draft()
    draft.set('handover', handover, view)
    const cushion = outcome.target?.setUp.cushion
    if (cushion !== undefined) draft.set('cushionIssued', { on: handover.handedOverOn, cushion }, view)
    for (const field of ['oldChair', 'localRepairer'] as const) {
      const value = this.#form.draft.value(field)
      if (value !== undefined) draft.set(field, value as never, view)
    }
    const why = this.words('handover').trim()
    const saved = await this.#act.run('handover', () =>
      draft.save(app.casebook, view.caseId, 'save', why === '' ? undefined : why),
    )
    if (!saved) return
    this.#form.drop()
    this.tried = false
    this.another = false
    this.keep('handover', '')
    await this.updateComplete
    this.renderRoot.querySelector('.saved')?.scrollIntoView({ block: 'center' })
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const given = hasOpenHandover(facts.view)
    // With no chair there is nothing to hand over, to print or to label: what is missing is said, and nothing is asked.
    if (!given && facts.view.events.handover.length === 0 && !facts.outcome.target)
      return html`<spoke-in-the-way .view=${facts.view} .outcome=${facts.outcome}></spoke-in-the-way>
        ${this.#renderCannotIssue(facts)}`
    return html`
      ${this.#act.isSaved('handover') ? html`<p class="saved">${t('handing.recorded')}</p>` : nothing}
      ${this.#renderGiven(facts)}
      ${
        given && !this.another
          ? html`<div class="block"><button
            @click=${() => {
              this.another = true
            }}
          >
            ${t('handing.another')}
          </button></div>`
          : html`<spoke-in-the-way .view=${facts.view} .outcome=${facts.outcome}></spoke-in-the-way> ${this.#renderForm(facts)}`
      }
      <p class="block"><a class="go" href="#/print/handover/${facts.view.caseId}">${t('handing.sheet')}</a></p>
      <section class="block">
        <h3>${t('handing.label')}</h3>
        <p class="lead">${t('handing.labelLead')}</p>
        <spoke-chair-label .view=${facts.view} .outcome=${facts.outcome}></spoke-chair-label>
        <a class="go" href="#/print/label/${facts.view.caseId}">${t('handing.labelPrint')}</a>
      </section>
      ${given ? nothing : this.#renderCannotIssue(facts)}
    `
  }

  #renderCannotIssue({ view, outcome }: PartFacts): TemplateResult {
    return html`<details class="block" ?open=${Boolean(view.values.cannotIssue)}>
      <summary>${t('choosing.today')}</summary>
      <spoke-cannot-issue .view=${view} .outcome=${outcome}></spoke-cannot-issue>
    </details>`
  }

  #renderGiven({ view }: PartFacts): TemplateResult | typeof nothing {
    const { handover } = view.events
    if (handover.length === 0) return nothing
    return html`<div class="lines">
      ${handover.map(({ value }) => {
        const date = currentSpeech().date(value.handedOverOn)
        const { serialNumber: serial, temporaryUntil } = value
        return html`<div class="line">
          <strong>${serial ? t('handing.givenSerial', { date, serial }) : t('handing.given', { date })}</strong>
          ${temporaryUntil ? html`<p class="reason">${t('handing.givenUntil', { until: currentSpeech().date(temporaryUntil) })}</p>` : nothing}
        </div>`
      })}
    </div>`
  }

  #renderForm(facts: PartFacts): TemplateResult {
    const { outcome, view, context } = facts
    const said = this.#said(facts)
    const errors = this.tried ? this.#errors(facts) : {}
    const refused = this.tried && outcome.holds.length > 0
    const failed = this.#act.errorOf('handover')
    const setUp = outcome.target?.setUp
    const { draft } = this.#form
    return html`<section class="block">
      <h3>${t('handing.form')}</h3>
      <div class="form" @field-change=${this.#form.handleChange}>
        ${dateControl({
          id: 'on',
          label: t('handing.on'),
          value: said.handedOverOn ?? '',
          most: outcome.today,
          error: errors.on,
          change: on =>
            this.#put(facts, { handedOverOn: on === '' ? undefined : (on as HandoverSaid['handedOverOn']) }),
        })}
        ${textControl({
          id: 'serial',
          label: t('handing.serial'),
          value: said.serialNumber ?? '',
          most: 60,
          error: errors.serial,
          change: serialNumber => this.#put(facts, { serialNumber }),
        })}
        ${answersControl({
          id: 'temporary',
          label: t('handing.temporary'),
          answers: yesNo(),
          chosen: said.temporary ?? false,
          change: temporary => this.#put(facts, { temporary }),
        })}
        ${
          said.temporary
            ? dateControl({
                id: 'until',
                label: t('handing.temporaryUntil'),
                value: said.temporaryUntil ?? '',
                least: outcome.today,
                error: errors.until,
                change: until =>
                  this.#put(facts, {
                    temporaryUntil: until === '' ? undefined : (until as HandoverSaid['temporaryUntil']),
                  }),
              })
            : nothing
        }
        <p>
          ${t('handing.cushion')}:
          <strong>${setUp ? cushionTitle(modelIn(context.catalogue, setUp.chair), setUp.cushion) : t('handing.cushionNone')}</strong>
        </p>
        ${(['oldChair', 'localRepairer'] as const).map(name =>
          fieldTemplate(name, { view, edit: draft.edit(name), error: this.#form.errorOf(name) }),
        )}
        ${
          lackingBesideHandover(facts).length > 0 && outcome.holds.length === 0
            ? textControl({
                id: 'why',
                label: t('handing.allTheSame'),
                value: this.words('handover'),
                most: 2000,
                lines: 2,
                error: errors.why,
                change: why => this.keep('handover', why),
              })
            : nothing
        }
        ${refused ? this.#renderRefused(facts) : nothing}
        ${failed && !refused ? html`<p class="error refused" role="alert" tabindex="-1">${failed}</p>` : nothing}
        <button class="main" aria-busy=${this.#act.isSaving('handover')} @click=${() => this.#record(facts)}>
          ${t('handing.record')}
        </button>
        <p class="hint">${t('handing.cautions')}</p>
      </div>
    </section>`
  }

  #renderRefused({ outcome }: PartFacts): TemplateResult {
    return html`<div class="notice danger refused" role="alert" tabindex="-1">
      <strong>${t('handing.refused', { count: outcome.holds.length })}</strong>
      <ul>${outcome.holds.map(hold => html`<li>${sayHold(hold, outcome)}</li>`)}</ul>
      <p>${t('handing.refusedLead')}</p>
    </div>`
  }
}

customElements.define('spoke-handover', SpokeHandover)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-handover': SpokeHandover
  }
}
