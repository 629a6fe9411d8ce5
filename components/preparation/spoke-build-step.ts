import { css, html, nothing, type TemplateResult } from 'lit'
import type { BuildStep } from '../../src/preparation/build-sheet.ts'
import { textControl } from '../case/answers.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import { ActController } from '../controllers/act-controller.ts'
import { Draft } from '../controllers/draft.ts'
import { sayFailure } from '../text/say-failure.ts'
import { sayWho } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { changeWords, NOT_DONE, stepTitle } from './sheet-words.ts'
import { stepDetails } from './step-details.ts'

/**
 * One step of the build sheet: what it changes, what it needs, ticked as it is done. A step that cannot be undone wants the
 * name of a second person first. A tick made by mistake can be taken back: that is written down too.
 */
export class SpokeBuildStep extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .title { font-weight: 700; }
      /* As high as it was before its tick. */
      .step { min-block-size: inherit; display: flex; flex-direction: column; justify-content: space-between; }
      .step.done .title, .step.done p { color: var(--ink-quiet); }
      .ticking { display: grid; grid-template-columns: minmax(0, 3fr) minmax(0, 2fr); gap: var(--space-2); margin-block-start: var(--space-3); }
      .ticking button { min-block-size: 56px; }
      p.tick { margin: 0; font-weight: 700; color: var(--accent); border: 2px solid transparent; }
      .tightenings { margin-block-start: var(--space-2); padding-inline-start: var(--space-4); border-inline-start: 3px solid var(--line); }
      .tightenings li + li { margin-block-start: var(--space-2); }
      .tick {
        display: flex; gap: var(--space-2); align-items: center; justify-content: center;
        min-block-size: 56px; padding-inline: var(--space-2);
      }
      .tick .box { inline-size: 1.4rem; block-size: 1.4rem; border: 2px solid currentColor; border-radius: var(--radius-small); flex: none; display: grid; place-items: center; line-height: 1; }
      .lines { margin-block: var(--space-3); }
      @container part (min-inline-size: 40rem) {
        .step { display: grid; grid-template-columns: minmax(0, 1fr) 22rem; gap: 0 var(--space-5); align-items: start; }
        .ticking { margin-block-start: 0; }
      }
    `,
  ]
  static override properties = {
    ...CasePart.properties,
    step: { attribute: false },
    listed: { type: Boolean },
  }
  declare step: BuildStep | undefined
  /** Among those to do, where it keeps its place and height once it is ticked. */
  declare listed: boolean
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.listed = false
  }

  async #tick(step: BuildStep, { app, view, outcome }: PartFacts): Promise<void> {
    const secondName = this.words(`second ${step.key}`).trim()
    const own = app.casebook.crew().members.get(app.casebook.device)?.name
    if (step.needsSecondName && secondName === '') return this.#refuse(t('preparing.secondNeeded'))
    if (step.needsSecondName && secondName.toLowerCase() === own?.trim().toLowerCase())
      return this.#refuse(t('preparing.secondSame'))
    const draft = new Draft()
    const { key, against } = step
    draft.set('stepDone', { step: key, on: outcome.today, against, ...(secondName === '' ? {} : { secondName }) }, view)
    // The next step must not come under the finger that ticked this one.
    this.style.minBlockSize = `${this.offsetHeight}px`
    if (await this.#act.run('tick', () => draft.save(app.casebook, view.caseId))) this.keep(`second ${key}`, '')
  }

  #refuse(words: string): void {
    this.#act.fail('tick', words)
    this.renderRoot.querySelector<HTMLInputElement>('#second')?.focus()
  }

  /** Takes the ticks of the step back: what stands in their place says that it was done for nothing. */
  async #takeBack(step: BuildStep, { app, view }: PartFacts): Promise<void> {
    const ticks = view.events.stepDone.filter(event => event.value.step === step.key)
    const last = ticks.at(-1)
    if (!last) return
    const against = Object.fromEntries(Object.keys(step.against).map(setting => [setting, NOT_DONE]))
    await this.#act.run('back', async () => {
      const saved = await app.casebook.save(view.caseId, {
        kind: 'settle',
        set: { stepDone: { step: step.key, on: last.value.on, against } },
        over: ticks.map(tick => tick.id),
        why: t('preparing.undoWhy'),
      })
      return saved.ok ? { ok: true } : { ok: false, message: sayFailure(saved.failure), field: null }
    })
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { step } = this
    if (!step) return html`${nothing}`
    return step.state === 'done' && !this.listed ? this.#renderDone(step, facts) : this.#renderOpen(step, facts)
  }

  #renderDone(step: BuildStep, facts: PartFacts): TemplateResult {
    const { app, view } = facts
    const last = view.events.stepDone.findLast(event => event.value.step === step.key)
    return html`<div class="line">
      <p class="title" dir="auto">${t('preparing.step', { number: step.number, title: stepTitle(step) })}</p>
      ${
        last
          ? html`<p class="reason">
              ${t('preparing.ticked', {
                date: currentSpeech().date(last.value.on),
                who: [sayWho(app.casebook, last.by), last.value.secondName].filter(name => name).join(', '),
              })}
            </p>`
          : nothing
      }
      ${this.#renderTakeBack(step, facts)} ${this.#renderError('back')}
    </div>`
  }

  #renderTakeBack(step: BuildStep, facts: PartFacts): TemplateResult {
    return html`<button
      class="quiet back"
      ?disabled=${this.#act.isSaving('back')}
      @click=${() => this.#takeBack(step, facts)}
    >
      ${t('preparing.undo')}<span class="unseen">: ${stepTitle(step)}</span>
    </button>`
  }

  #renderOpen(step: BuildStep, facts: PartFacts): TemplateResult {
    const { catalogue } = facts.context
    const chair = facts.outcome.build?.chair ?? ''
    const takenBack = step.changes.some(change => change.from === NOT_DONE)
    const state = takenBack && step.state === 'redo' ? 'to-do' : step.state
    const isDone = state === 'done'
    return html`<div class="line step ${isDone ? 'done' : ''}">
      <div>
      <p class="title">
        <span dir="auto">${t('preparing.step', { number: step.number, title: stepTitle(step) })}</span>
        ${state === 'to-do' || isDone ? nothing : html`<span class="mark calls">${t(`stepState.${state}`)}</span>`}
      </p>
      ${changeWords(step.changes, catalogue, chair).map(words => html`<p>${words}</p>`)}
      ${state === 'redo' ? html`<p class="reason">${t('preparing.redoWhy')}</p>` : nothing}
      ${state === 'contradicted' ? html`<p class="reason">${t('preparing.contradictedWhy')}</p>` : nothing}
      ${stepDetails(step, facts)} ${step.needsSecondName && !isDone ? this.#renderSecond(step, facts) : nothing}
      ${step.needsSecondName ? nothing : this.#renderError('tick')} ${this.#renderError('back')}
      </div>
      ${isDone ? this.#renderTicked(step, facts) : this.#renderTick(step, state, facts)}
    </div>`
  }

  /** In the place of the button that was tapped stands no button: what takes the tick back stands beside it. */
  #renderTicked(step: BuildStep, facts: PartFacts): TemplateResult {
    return html`<div class="ticking">
      <p class="tick"><span class="box" aria-hidden="true">✓</span>${t('preparing.tick')}</p>
      ${this.#renderTakeBack(step, facts)}
    </div>`
  }

  #renderTick(step: BuildStep, state: BuildStep['state'], facts: PartFacts): TemplateResult {
    return html`<div class="ticking">
      <button class="tick" aria-busy=${this.#act.isSaving('tick')} @click=${() => this.#tick(step, facts)}>
        <span class="box" aria-hidden="true"></span>
        ${
          this.#act.isSaving('tick')
            ? t('preparing.ticking')
            : t(state === 'to-do' ? 'preparing.tick' : 'preparing.tickAgain')
        }<span class="unseen">: ${stepTitle(step)}</span>
      </button>
    </div>`
  }

  #renderSecond({ key }: BuildStep, { app }: PartFacts): TemplateResult {
    const { crew, device } = { crew: app.casebook.crew(), device: app.casebook.device }
    const others = [...crew.members.values()].filter(member => member.device !== device).map(member => member.name)
    return html`<div class="notice warn form">
      <p>${t('preparing.secondLead')}</p>
      ${textControl({
        id: 'second',
        label: t('preparing.secondName'),
        value: this.words(`second ${key}`),
        most: 120,
        suggestions: others,
        error: this.#act.errorOf('tick'),
        change: name => this.keep(`second ${key}`, name),
      })}
    </div>`
  }

  #renderError(key: string): TemplateResult | typeof nothing {
    const error = this.#act.errorOf(key)
    return error ? html`<p class="error" role="alert">${error}</p>` : nothing
  }
}

customElements.define('spoke-build-step', SpokeBuildStep)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-build-step': SpokeBuildStep
  }
}
