import { html, nothing, type TemplateResult } from 'lit'
import type { FieldValue } from '../../../src/case/fields.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { answersControl, dateControl, focusFirstError, textControl } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { EXIT_REASONS } from './exit-reasons.ts'

type Exit = NonNullable<FieldValue<'exit'>>

/** The end of a case: why and since when; and opening it again with what changed. */
export class SpokeExit extends CasePart {
  static override properties = { ...CasePart.properties, tried: { state: true } }
  declare tried: boolean
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.tried = false
  }

  override willUpdate(): void {
    this.#form.show(this.app, this.view, 'exit')
  }

  #said({ outcome }: PartFacts): Partial<Exit> {
    return { on: outcome.today, ...this.#form.draft.value('exit') }
  }

  #put(facts: PartFacts, part: { [Key in keyof Exit]?: Exit[Key] | undefined }): void {
    const all = Object.entries({ ...this.#said(facts), ...part }).filter(([, one]) => one !== undefined)
    this.#form.set('exit', Object.fromEntries(all) as Exit)
  }

  #errors(facts: PartFacts): { on?: string; why?: string } {
    const { on, why } = this.#said(facts)
    return {
      ...(on === undefined
        ? { on: t('followUp.dateNeeded') }
        : on > facts.outcome.today
          ? { on: t('followUp.dateLate') }
          : {}),
      ...(why === undefined ? { why: t('followUp.answerNeeded') } : {}),
    }
  }

  async #close(facts: PartFacts): Promise<void> {
    this.tried = true
    if (Object.keys(this.#errors(facts)).length > 0) {
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    this.#put(facts, {})
    if (await this.#form.save()) this.tried = false
  }

  async #reopen({ app, view }: PartFacts): Promise<void> {
    const why = this.words('reopen').trim()
    if (why === '') {
      this.#act.fail('reopen', t('followUp.exitReopenNeeded'))
      this.renderRoot.querySelector<HTMLElement>('#reopen')?.focus()
      return
    }
    const draft = new Draft()
    draft.set('exit', null, view)
    if (await this.#act.run('reopen', () => draft.save(app.casebook, view.caseId, 'settle', why)))
      this.keep('reopen', '')
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { exit } = facts.view.values
    return exit && this.#form.draft.isEmpty ? this.#renderClosed(exit, facts) : this.#renderForm(facts)
  }

  #renderClosed({ why, on }: Exit, facts: PartFacts): TemplateResult {
    return html`<div class="form">
      <p class="notice">
        ${t('followUp.exitClosed', { why: t(`followUp.exit ${why}`), date: currentSpeech().date(on) })}
      </p>
      ${textControl({
        id: 'reopen',
        label: t('followUp.exitReopenWhy'),
        value: this.words('reopen'),
        most: 2000,
        lines: 2,
        error: this.#act.errorOf('reopen'),
        change: why => this.keep('reopen', why),
      })}
      <button @click=${() => this.#reopen(facts)}>${t('followUp.exitReopen')}</button>
    </div>`
  }

  #renderForm(facts: PartFacts): TemplateResult {
    const said = this.#said(facts)
    const errors = this.tried ? this.#errors(facts) : {}
    const { state } = this.#form
    return html`<p class="lead">${t('followUp.exitLead')}</p>
      <div class="form">
        ${answersControl({
          id: 'why',
          label: t('followUp.exitWhy'),
          answers: EXIT_REASONS.map(value => ({ value, words: t(`followUp.exit ${value}`) })),
          chosen: said.why,
          error: errors.why,
          change: why => this.#put(facts, { why }),
        })}
        ${dateControl({
          id: 'on',
          label: t('followUp.exitOn'),
          value: said.on ?? '',
          most: facts.outcome.today,
          error: errors.on,
          change: on => this.#put(facts, { on: on === '' ? undefined : (on as Exit['on']) }),
        })}
        ${state.status === 'failed' ? html`<p class="error" role="alert">${state.message}</p>` : nothing}
        <button @click=${() => this.#close(facts)}>${t('followUp.exitSave')}</button>
      </div>`
  }
}

customElements.define('spoke-exit', SpokeExit)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-exit': SpokeExit
  }
}
