import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { Head } from '../../../src/case/case-view.ts'
import { type Check, checkFieldName } from '../../../src/case/fields.ts'
import { type CheckState, checkAgainst, type StaleCheck } from '../../../src/preparation/checks.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import { fieldLabel, sayWho } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { textControl } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { modelIn } from '../set-up-words.ts'
import { staleWords } from './stale-words.ts'

/** What is being said about a check beyond one tap: each needs words. */
const SAYINGS = ['fail', 'not-applicable', 'retest'] as const
type Saying = (typeof SAYINGS)[number]

const MARKS = { 'not-done': 'still', passed: 'good', failed: 'bad', stale: 'calls', 'not-applicable': 'still' } as const
const RESULT_OF = { fail: 'fail', 'not-applicable': 'not-applicable', retest: 'pass' } as const
const ASK = {
  fail: 'checking.failWhat',
  'not-applicable': 'checking.notApplicableWhy',
  retest: 'checking.retestWhat',
} as const
const NEEDED = {
  fail: 'checking.failNeeded',
  'not-applicable': 'checking.notApplicableNeeded',
  retest: 'checking.retestNeeded',
} as const
const SAVE = {
  fail: 'checking.failSave',
  'not-applicable': 'checking.notApplicableSave',
  retest: 'checking.retestSave',
} as const

/**
 * One check: how it stands and why, and one tap to say that it is in order. A fault is said in words; it turns to "in order"
 * only with what was done (a retest). Everything is recorded for the settings that the chair now has.
 */
export class SpokeCheck extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .name { font-weight: 700; }
      .actions .good { border-width: 2px; min-block-size: 56px; }
      .actions .gone { flex: 1 1 9rem; }
      @container part (min-inline-size: 44rem) {
        .line.still { display: grid; grid-template-columns: minmax(0, 1fr) 22rem; gap: 0 var(--space-5); align-items: center; }
        .line.still .actions { margin: 0; grid-column: 2; grid-row: 1; }
        .line.still .error { grid-column: 1 / -1; }
      }
    `,
  ]
  static override properties = {
    ...CasePart.properties,
    check: { attribute: false },
    said: { attribute: false },
    saying: { state: true },
  }
  declare check: CheckState | undefined
  /** Causes that were said above for several checks. */
  declare said: readonly string[]
  declare saying: Saying | null
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.said = []
    this.saying = null
  }

  /** What is being said stays, also when the check moves to another place of the list. */
  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('check') && this.saying === null)
      this.saying = SAYINGS.find(saying => this.words(this.#form(saying)) !== '') ?? null
  }

  #form(saying: Saying): string {
    return `check ${this.check?.check ?? ''} ${saying}`
  }

  async #record(facts: PartFacts, result: Check['result'], note: string, retest: boolean): Promise<void> {
    const { app, view, outcome, context } = facts
    const { check } = this
    const model = outcome.target && modelIn(context.catalogue, outcome.target.setUp.chair)
    if (!check || !outcome.target || !model) return
    const against = checkAgainst(model, check.check, outcome.target.setUp)
    const value: Check = { result, on: outcome.today, against, ...(note === '' ? {} : { note }) }
    const draft = new Draft()
    draft.set(checkFieldName(check.check), value, view)
    const saved = await this.#act.run('check', () =>
      retest ? draft.save(app.casebook, view.caseId, 'retest', note) : draft.save(app.casebook, view.caseId),
    )
    if (!saved) return
    for (const saying of SAYINGS) this.keep(this.#form(saying), '')
    this.saying = null
  }

  async #say(facts: PartFacts, saying: Saying): Promise<void> {
    const words = this.words(this.#form(saying)).trim()
    if (words === '') {
      this.#act.fail('words', t(NEEDED[saying]))
      this.renderRoot.querySelector<HTMLElement>('#words')?.focus()
      return
    }
    await this.#record(facts, RESULT_OF[saying], words, this.check?.state === 'failed' && saying !== 'fail')
  }

  #leave(saying: Saying): void {
    this.keep(this.#form(saying), '')
    this.saying = null
  }

  async #begin(saying: Saying): Promise<void> {
    this.saying = saying
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('#words')?.focus()
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { check } = this
    if (!check) return html`${nothing}`
    const error = this.#act.errorOf('check')
    return html`<div class="line ${this.saying === null ? 'still' : ''}">
      <div>
        <div class="head">
          <span class="name" id="name">${fieldLabel(checkFieldName(check.check))}</span>
          <span class="mark ${MARKS[check.state]}">${t(`checkState.${check.state}`)}</span>
        </div>
        ${this.#renderWhy(check, facts)}
      </div>
      ${this.saying === null ? this.#renderActions(check, facts) : this.#renderSaying(this.saying, facts)}
      ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
    </div>`
  }

  #renderWhy(check: CheckState, { app, view, context, outcome }: PartFacts): TemplateResult {
    const heads = (view.heads[checkFieldName(check.check)] ?? []) as readonly Head<Check>[]
    const chair = outcome.target?.setUp.chair ?? ''
    const told = check.state === 'stale' ? staleWords(check, context.catalogue, chair, true) : []
    const why = told.every(words => this.said.includes(words))
      ? []
      : staleWords(check as StaleCheck, context.catalogue, chair)
    return html`${why.map(words => html`<p>${words}</p>`)}
    ${heads.map(
      ({ value, by }) => html`<p class="reason">
        ${value.result === 'fail' && value.note ? html`${t('checking.fault', { note: value.note })} · ` : nothing}
        ${value.result !== 'fail' && value.note ? html`<span dir="auto">${value.note}</span> · ` : nothing}
        ${t('checking.madeOn', { date: currentSpeech().date(value.on), who: sayWho(app.casebook, by) })}
      </p>`,
    )}`
  }

  #renderActions({ state }: CheckState, facts: PartFacts): TemplateResult {
    const button = (words: string, act: () => unknown, name = ''): TemplateResult =>
      html`<button class=${name} aria-describedby="name" @click=${act}>${words}</button>`
    if (state === 'failed')
      return html`<div class="actions">${button(t('checking.retest'), () => this.#begin('retest'), 'good')}</div>`
    const fail = button(t('checking.fail'), () => this.#begin('fail'))
    // Nothing comes under the finger that said "in order".
    if (state === 'passed' || state === 'not-applicable')
      return html`<div class="actions"><span class="gone"></span>${fail}</div>`
    return html`<div class="actions">
      ${button(
        this.#act.isSaving('check') ? t('form.saving') : t('checking.pass'),
        () => this.#record(facts, 'pass', '', false),
        'good',
      )}
      ${fail}
    </div>`
  }

  #renderSaying(saying: Saying, facts: PartFacts): TemplateResult {
    return html`<div class="form inner">
      ${textControl({
        id: 'words',
        label: t(ASK[saying]),
        ...(saying === 'fail' ? { hint: t('checking.failHint') } : {}),
        value: this.words(this.#form(saying)),
        most: 400,
        lines: 2,
        error: this.#act.errorOf('words'),
        change: words => this.keep(this.#form(saying), words),
      })}
      <div class="actions">
        <button class="main" @click=${() => this.#say(facts, saying)}>${t(SAVE[saying])}</button>
        <button class="quiet" @click=${() => this.#leave(saying)}>${t('checking.cancel')}</button>
        ${
          saying === 'fail' && this.check?.state !== 'failed'
            ? html`<button class="quiet" @click=${() => this.#begin('not-applicable')}>${t('checking.notApplicable')}</button>`
            : nothing
        }
      </div>
    </div>`
  }
}

customElements.define('spoke-check', SpokeCheck)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-check': SpokeCheck
  }
}
