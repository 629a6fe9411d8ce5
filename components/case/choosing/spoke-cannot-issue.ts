import { html, nothing, type TemplateResult } from 'lit'
import type { FieldValue } from '../../../src/case/fields.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { answersControl, dateControl, focusFirstError, textControl } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'

type CannotIssue = NonNullable<FieldValue<'cannotIssue'>>
const WAYS = ['wait', 'refer', 'temporary-chair'] as const

export const sayCannotIssue = ({ what, until, why }: CannotIssue): string =>
  [t(`choosing.${what}`), until ? currentSpeech().date(until) : undefined, why].filter(part => part).join(' · ')

/** A chair cannot be issued today: wait, refer, or lend one until a day; and the decision that it can be issued after all. */
export class SpokeCannotIssue extends CasePart {
  static override properties = { ...CasePart.properties, tried: { state: true } }
  declare tried: boolean
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.tried = false
  }

  override willUpdate(): void {
    this.#form.show(this.app, this.view, 'choosing today')
  }

  get #said(): Partial<CannotIssue> {
    return this.#form.draft.value('cannotIssue') ?? {}
  }

  #put(part: { [Key in keyof CannotIssue]?: CannotIssue[Key] | undefined }): void {
    const said = Object.fromEntries(Object.entries({ ...this.#said, ...part }).filter(([, one]) => one !== undefined))
    // Half a statement stays in the draft until it is whole; `#errors` stands before the save.
    this.#form.set('cannotIssue', said as CannotIssue)
  }

  #errors(today: string): { what?: string; until?: string; why?: string } {
    const { what, until, why } = this.#said
    return {
      ...(what ? {} : { what: t('choosing.whatNeeded') }),
      ...(why?.trim() ? {} : { why: t('choosing.whyTodayNeeded') }),
      ...(until && until < today ? { until: t('choosing.untilPast') } : {}),
      ...(!until && what && what !== 'refer' ? { until: t('choosing.untilNeeded') } : {}),
    }
  }

  async #save({ outcome }: PartFacts): Promise<void> {
    this.tried = true
    if (Object.keys(this.#errors(outcome.today)).length > 0) {
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    if (await this.#form.save()) this.tried = false
  }

  async #lift({ app, view }: PartFacts): Promise<void> {
    const why = this.words('lift').trim()
    if (why === '') return this.#act.fail('lift', t('choosing.liftNeeded'))
    const draft = new Draft()
    draft.set('cannotIssue', null, view)
    if (await this.#act.run('lift', () => draft.save(app.casebook, view.caseId, 'settle', why))) this.keep('lift', '')
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const stands = facts.view.values.cannotIssue
    return stands && this.#form.draft.isEmpty ? this.#renderStands(stands, facts) : this.#renderForm(facts)
  }

  #renderStands(stands: CannotIssue, facts: PartFacts): TemplateResult {
    return html`<div class="form">
      <p class="notice warn">${t('choosing.standsSince', { what: sayCannotIssue(stands) })}</p>
      ${textControl({
        id: 'lift',
        label: t('choosing.liftWhy'),
        value: this.words('lift'),
        most: 400,
        lines: 2,
        error: this.#act.errorOf('lift'),
        change: why => this.keep('lift', why),
      })}
      <button @click=${() => this.#lift(facts)}>${t('choosing.lift')}</button>
    </div>`
  }

  #renderForm(facts: PartFacts): TemplateResult {
    const { today } = facts.outcome
    const said = this.#said
    const errors = this.tried ? this.#errors(today) : {}
    const { state } = this.#form
    return html`<div class="form">
      ${answersControl({
        id: 'what',
        label: t('choosing.what'),
        answers: WAYS.map(value => ({ value, words: t(`choosing.${value}`) })),
        chosen: said.what,
        error: errors.what,
        change: what => this.#put({ what }),
      })}
      ${dateControl({
        id: 'until',
        label: t('choosing.until'),
        value: said.until ?? '',
        least: today,
        error: errors.until,
        change: until => this.#put({ until: until === '' ? undefined : (until as CannotIssue['until']) }),
      })}
      ${textControl({
        id: 'why',
        label: t('choosing.why'),
        value: said.why ?? '',
        most: 400,
        lines: 2,
        error: errors.why,
        change: why => this.#put({ why: why === '' ? undefined : why }),
      })}
      ${state.status === 'failed' ? html`<p class="error" role="alert">${state.message}</p>` : nothing}
      <button @click=${() => this.#save(facts)}>${t('choosing.note')}</button>
    </div>`
  }
}

customElements.define('spoke-cannot-issue', SpokeCannotIssue)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-cannot-issue': SpokeCannotIssue
  }
}
