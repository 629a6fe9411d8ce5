import { html, nothing, type TemplateResult } from 'lit'
import type { FieldValue } from '../../src/case/fields.ts'
import { ActController } from '../controllers/act-controller.ts'
import { Draft } from '../controllers/draft.ts'
import { FormController } from '../controllers/form-controller.ts'
import { focusFirstError, textControl } from './answers.ts'
import { CasePart, type PartFacts } from './case-part.ts'

type DecisionName = 'exit' | 'cannotIssue'
export type Decision<Name extends DecisionName> = NonNullable<FieldValue<Name>>
/** As far as it is said. */
export type Said<Name extends DecisionName> = {
  readonly [Key in keyof Decision<Name>]?: Decision<Name>[Key] | undefined
}
/** What is wrong with each part of it, in words. */
export type Faults<Name extends DecisionName> = { readonly [Key in keyof Decision<Name>]?: string }

/** Words of one decision; `form` and `undoing` also name what is kept while it is typed. */
export interface DecisionWords<Name extends DecisionName> {
  readonly field: Name
  readonly form: string
  readonly save: string
  readonly undoing: string
  readonly undo: string
  readonly undoWhy: string
  readonly undoNeeded: string
}

/**
 * One decision about a case: said in a form, standing from then on, and taken back only with what changed, as a decision
 * of its own.
 */
export abstract class DecisionPart<Name extends DecisionName> extends CasePart {
  static override properties = { ...CasePart.properties, tried: { state: true } }
  /** A save was tried: what is missing is said from now on. */
  declare tried: boolean
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.tried = false
  }

  protected abstract get decision(): DecisionWords<Name>

  /** What is taken as said before anybody says it. */
  protected assumed(_: PartFacts): Said<Name> {
    return {}
  }

  protected abstract faults(said: Said<Name>, facts: PartFacts): Faults<Name>

  /** The decision as it stands. */
  protected abstract renderStands(stands: Decision<Name>): TemplateResult

  protected abstract renderQuestions(said: Said<Name>, faults: Faults<Name>, facts: PartFacts): TemplateResult

  override willUpdate(): void {
    this.#form.show(this.app, this.view, this.decision.form)
  }

  /** Half a decision stays in the draft, what was emptied too. */
  protected say(facts: PartFacts, part: Said<Name>): void {
    this.#form.set(this.decision.field, { ...this.#said(facts), ...part } as FieldValue<Name>)
  }

  #said(facts: PartFacts): Said<Name> {
    return { ...this.assumed(facts), ...(this.#form.draft.value(this.decision.field) as Said<Name> | undefined) }
  }

  async #save(facts: PartFacts): Promise<void> {
    this.tried = true
    if (Object.keys(this.faults(this.#said(facts), facts)).length > 0) {
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    const whole = Object.entries(this.#said(facts)).filter(([, part]) => part !== '')
    this.#form.set(this.decision.field, Object.fromEntries(whole) as FieldValue<Name>)
    if (await this.#form.save()) this.tried = false
  }

  async #undo({ app, view }: PartFacts): Promise<void> {
    const { field, undoing, undoNeeded } = this.decision
    const why = this.words(undoing).trim()
    if (why === '') {
      this.#act.fail(undoing, undoNeeded)
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    const draft = new Draft()
    draft.set(field, null as FieldValue<Name>, view)
    const undone = await this.#act.run(undoing, () => draft.save(app.casebook, view.caseId, 'settle', why))
    if (undone) this.keep(undoing, '')
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const stands = facts.view.values[this.decision.field] as Decision<Name> | null | undefined
    return stands && this.#form.draft.isEmpty ? this.#renderUndoing(stands, facts) : this.#renderForm(facts)
  }

  #renderUndoing(stands: Decision<Name>, facts: PartFacts): TemplateResult {
    const { undoing, undo, undoWhy } = this.decision
    return html`<div class="form">
      ${this.renderStands(stands)}
      ${textControl({
        id: undoing,
        label: undoWhy,
        value: this.words(undoing),
        most: 2000,
        lines: 2,
        error: this.#act.errorOf(undoing),
        change: why => this.keep(undoing, why),
      })}
      <button @click=${() => this.#undo(facts)}>${undo}</button>
    </div>`
  }

  #renderForm(facts: PartFacts): TemplateResult {
    const said = this.#said(facts)
    const { state } = this.#form
    return html`<div class="form">
      ${this.renderQuestions(said, this.tried ? this.faults(said, facts) : {}, facts)}
      ${state.status === 'failed' ? html`<p class="error" role="alert">${state.message}</p>` : nothing}
      <button aria-busy=${state.status === 'saving'} @click=${() => this.#save(facts)}>${this.decision.save}</button>
    </div>`
  }
}
