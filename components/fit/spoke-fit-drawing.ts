import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { AsBuilt } from '../../src/chair/as-built.ts'
import { type Drawing, drawingOf } from '../../src/fitting/drawing.ts'
import { evaluateSetUp } from '../../src/fitting/evaluate.ts'
import { footrestValues } from '../../src/fitting/wanted.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { sayError } from '../text/say-failure.ts'
import { currentSpeech, type Language, t } from '../text/text.ts'
import { type Built, builtBeside } from './built-set-up.ts'
import { builtWords, rearDescription, sideDescription } from './drawing-words.ts'
import { fitDrawingStyles } from './fit-drawing-styles.ts'
import { movedStyles } from './moved-styles.ts'
import { brokenWords, type NumberRow, nearestWords, numberRows, rearShareOf } from './number-rows.ts'
import type { PinSettings, SettingMoved, SetUpTried } from './setting-moved.ts'
import { FOLLOWING, MOVABLE, type SettingName, sayMeasures, settingWords } from './setting-rows.ts'
import './spoke-fit-controls.ts'
import './spoke-rear-view.ts'
import { type Extent, extentOf } from './spoke-side-view.ts'
import { type Change, type Fitted, type Trial, type TrialAnswer, type TrialFacts, trialOf } from './trial.ts'

/**
 * This person in this chair, to scale, with every number beside it, and the settings that can be tried on it. Moving saves
 * nothing: `set-up-tried` goes up with what was tried, `pin-settings` when a person wants to keep it.
 */
export class SpokeFitDrawing extends LitElement {
  static override styles = [base, movedStyles, fitDrawingStyles]

  static override properties = { facts: { attribute: false }, built: { attribute: false }, still: { type: Boolean } }

  /** Undefined: no chair is chosen yet. */
  declare facts: TrialFacts | undefined
  declare built: AsBuilt | undefined
  /** Shown without controls. */
  declare still: boolean

  #answer: TrialAnswer | { readonly type: 'nothing' } | { readonly type: 'failed'; readonly reason: string } = {
    type: 'nothing',
  }
  #change: Change = { pins: {} }
  #fitted: Fitted | undefined
  #extent: Extent | undefined
  #changedKeys: ReadonlySet<string> = new Set()
  #turn = 0
  readonly #rowsOf = new WeakMap<Fitted, { readonly language: Language; readonly rows: readonly NumberRow[] }>()

  constructor() {
    super()
    new SpeechController(this)
    this.still = false
    this.addEventListener('setting-moved', this.#handleMoved)
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('facts')) this.#begin()
  }

  /** New facts: what was being tried is tried on them again, so that a merge takes nothing out of a person's hand. */
  #begin(): void {
    const before = this.#fitted && this.#texts(this.#fitted)
    try {
      this.#answer = this.facts ? trialOf(this.facts) : { type: 'nothing' }
      if (this.#answer.type !== 'ready') {
        this.#fitted = undefined
        return
      }
      const { trial } = this.#answer
      this.#fitted = this.#isTried() ? trial.with(this.#change) : trial.start
      this.#extent = extentOf(trial.start.drawing.side)
    } catch (error) {
      this.#fitted = undefined
      this.#answer = { type: 'failed', reason: sayError(error) }
      return
    }
    this.#mark(before)
  }

  #isTried(): boolean {
    return this.#change.cushion !== undefined || Object.keys(this.#change.pins).length > 0
  }

  #texts(fitted: Fitted): ReadonlyMap<string, string> {
    const settings = [...MOVABLE, ...FOLLOWING].map(name => [name as string, settingWords(name, fitted.setUp)] as const)
    return new Map([...settings, ...this.#rows(fitted).map(row => [`number ${row.key}`, row.value] as const)])
  }

  /** Worked out once for each set-up: marking what changed and showing it ask for the same rows. */
  #rows(fitted: Fitted): readonly NumberRow[] {
    if (this.#answer.type !== 'ready') return []
    const { language } = currentSpeech()
    const known = this.#rowsOf.get(fitted)
    if (known?.language === language) return known.rows
    const rows = numberRows(fitted, this.#answer.trial.needs, this.#answer.trial.policy)
    this.#rowsOf.set(fitted, { language, rows })
    return rows
  }

  #mark(before: ReadonlyMap<string, string> | undefined): void {
    if (!before || !this.#fitted) return
    const now = [...this.#texts(this.#fitted)]
    this.#changedKeys = new Set(now.filter(([key, text]) => before.get(key) !== text).map(([key]) => key))
    this.#turn += 1
  }

  readonly #handleMoved = (event: CustomEvent<SettingMoved>): void => {
    event.stopPropagation()
    if (this.#answer.type !== 'ready' || !this.#fitted) return
    this.#try(changeWith(this.#change, event.detail, this.#fitted), this.#answer.trial)
  }

  readonly #handleReset = (): void => {
    if (this.#answer.type === 'ready') this.#try({ pins: {} }, this.#answer.trial)
  }

  readonly #handlePin = (): void => {
    if (!this.facts) return
    const { pins, cushion } = this.#change
    const detail: PinSettings = { chosen: { ...this.facts.chosen, ...pins, ...(cushion ? { cushion } : {}) } }
    this.dispatchEvent(new CustomEvent('pin-settings', { detail, bubbles: true, composed: true }))
  }

  #try(change: Change, trial: Trial): void {
    const before = this.#fitted && this.#texts(this.#fitted)
    this.#change = change
    this.#fitted = this.#isTried() ? trial.with(change) : trial.start
    this.#mark(before)
    this.requestUpdate()
    const detail: SetUpTried = { fitted: this.#fitted, words: this.#stands(this.#fitted, trial) }
    this.dispatchEvent(new CustomEvent('set-up-tried', { detail, bubbles: true, composed: true }))
  }

  #stands(fitted: Fitted, trial: Trial): string {
    return brokenWords(fitted, trial.needs) ?? t('fit.keepsRules')
  }

  #builtDrawing({ sitter, needs, policy }: Trial, { setUp }: Built): Drawing {
    return drawingOf(sitter, needs, setUp, evaluateSetUp(sitter, needs, setUp, policy), policy)
  }

  protected override render() {
    const answer = this.#answer
    switch (answer.type) {
      case 'nothing':
        return html`<p class="notice">${t('fit.nothing')}</p>`
      case 'missing':
        return html`<p class="notice warn">${t('fit.missing', { fields: sayMeasures(answer.needs) })}</p>`
      case 'not-in-catalogue':
        return html`<p class="notice warn">${t('fit.notInCatalogue')}</p>`
      case 'failed':
        return html`<p class="notice danger">${t('fit.failed', { reason: answer.reason })}</p>`
      case 'ready':
        return this.#fitted ? this.#fit(this.#fitted, answer.trial) : nothing
    }
  }

  #fit(fitted: Fitted, trial: Trial): TemplateResult {
    const { drawing, evaluation, setUp } = fitted
    const built = builtBeside(setUp, this.built)
    const isDrawnBuilt = built !== undefined && built.differs.size > 0
    const stands = this.#stands(fitted, trial)
    const broken = evaluation.broken?.rule
    return html`<div class="fit">
      <div class="column drawn">
        <div class="side">
          <spoke-side-view .view=${drawing.side} .extent=${this.#extent} .broken=${broken} .differs=${built?.differs ?? new Set()}
            .built=${isDrawnBuilt ? this.#builtDrawing(trial, built).side : undefined} .elbowWindow=${trial.policy.elbowDeg}
            .rearShare=${rearShareOf(fitted)} .footrestSteps=${footrestValues(setUp.model).filter(one => one !== null)}
            .heading=${t('fit.sideTitle')} .description=${sideDescription(fitted, isDrawnBuilt)} ?still=${this.still}></spoke-side-view>
          <p class="legend">${t('fit.legend')}</p>
        </div>
        <div class="rear">
          <spoke-rear-view .view=${drawing.rear} .broken=${broken} .heading=${t('fit.rearTitle')}
            .description=${rearDescription(drawing.rear)}></spoke-rear-view>
        </div>
      </div>
      <div class="column set">
        <div class=${broken ? 'stands notice danger stack' : 'stands notice kept stack'}>
          <p><strong>${stands}</strong></p>
          ${broken ? nothing : html`<p>${nearestWords(fitted, trial.needs)}</p>`}
          ${this.built ? html`<p>${builtWords(setUp, built, this.built)}</p>` : nothing}
        </div>
        ${this.still ? nothing : this.#settings(fitted, stands)}
        <div class="following">
          <spoke-fit-controls only="following" .fitted=${fitted} .changedKeys=${this.#changedKeys} .turn=${this.#turn}></spoke-fit-controls>
        </div>
      </div>
      <section class="numbers" aria-label=${t('fit.numbers')}>
        <dl>${this.#rows(fitted).map(row => this.#number(row))}</dl>
      </section>
    </div>`
  }

  #settings(fitted: Fitted, stands: string): TemplateResult {
    const moved = new Set<SettingName>(Object.keys(this.#change.pins).map(key => key.replace(/Mm$/, '') as SettingName))
    if (this.#change.cushion !== undefined) moved.add('cushion')
    return html`<div class="settings">
      <spoke-fit-controls only="movable" .fitted=${fitted} .movedKeys=${moved} .changedKeys=${this.#changedKeys}
        .turn=${this.#turn} .stands=${stands}></spoke-fit-controls>
      ${
        this.#isTried()
          ? html`<div class="actions">
              <button class="main" @click=${this.#handlePin}>${t('fit.pin')}</button>
              <button @click=${this.#handleReset}>${t('fit.reset')}</button>
              <p class="quiet">${t('fit.pinText')}</p>
            </div>`
          : nothing
      }
    </div>`
  }

  #number(row: NumberRow): TemplateResult {
    const changed = this.#changedKeys.has(`number ${row.key}`) ? ` changed-${this.#turn % 2}` : ''
    return html`<div class=${row.broken ? 'number-row broken' : 'number-row'} data-key=${row.key}>
      <dt>${row.name}</dt>
      <dd class=${`value${changed}`}>${row.value} ${row.error ? html`<span class="error-of">${row.error}</span>` : nothing}</dd>
      <dd class="note">${row.note}</dd>
    </div>`
  }
}

/** The change with one more setting moved. Moved back to where everything stood, nothing is tried any more. */
const changeWith = (change: Change, moved: SettingMoved, { setUp }: Fitted): Change => {
  switch (moved.setting) {
    case 'axle':
      return { ...change, pins: { ...change.pins, axle: moved.value } }
    case 'cushion':
      return { ...change, cushion: moved.value }
    case 'footrestLeft':
      return { ...change, pins: { ...change.pins, footrestLeftMm: moved.value } }
    case 'footrestRight':
      return { ...change, pins: { ...change.pins, footrestRightMm: moved.value } }
    case 'footrests':
      return {
        ...change,
        pins: {
          ...change.pins,
          ...(setUp.footrestLeftMm === null ? {} : { footrestLeftMm: moved.value }),
          ...(setUp.footrestRightMm === null ? {} : { footrestRightMm: moved.value }),
        },
      }
  }
}

customElements.define('spoke-fit-drawing', SpokeFitDrawing)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-fit-drawing': SpokeFitDrawing
  }
}
