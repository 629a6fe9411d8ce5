import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { CaseView, Head } from '../../../src/case/case-view.ts'
import type { Reading } from '../../../src/case/fields.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
import type { Doubt } from '../../../src/reason.ts'
import { appContext } from '../../app/context.ts'
import { unsavedCount } from '../../controllers/drafts.ts'
import { SpeechController } from '../../controllers/speech-controller.ts'
import { base } from '../../styles/tokens.ts'
import { fieldLabel, sayMeasure } from '../../text/say-value.ts'
import { t } from '../../text/text.ts'
import { sayOptions } from '../say-hold.ts'
import { sayTaken, usualTaken } from './earlier-template.ts'
import type { ReadingSavedEvent } from './landmark-events.ts'
import { type Landmark, type LandmarkField, landmarksOf } from './landmarks.ts'
import { measuringStyles } from './measuring-styles.ts'
import { sayDoubt } from './reading-doubts.ts'
import './spoke-landmark.ts'

type OnBody = Landmark & { readonly field: LandmarkField }

const readingsOf = (view: CaseView, field: LandmarkField): readonly Head<Reading>[] =>
  (view.heads[field] ?? []) as readonly Head<Reading>[]

/** Measuring: one landmark at a time, then all measures as rows. Any order; saving goes on to the next that is wanted. */
export class SpokeMeasuring extends LitElement {
  static override styles = [base, measuringStyles]
  static override properties = {
    view: { attribute: false },
    outcome: { attribute: false },
    current: { state: true },
    saved: { state: true },
  }
  declare view: CaseView | undefined
  declare outcome: Outcome | undefined
  /** What is being measured; null when nothing is; undefined until the first look at the case. */
  declare current: LandmarkField | null | undefined
  declare saved: { readonly field: LandmarkField; readonly words: string } | null

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.saved = null
    new SpeechController(this)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('view') as CaseView | undefined
    const otherCase = changed.has('view') && before?.caseId !== this.view?.caseId
    if (!this.view || !this.outcome || (this.current !== undefined && !otherCase)) return
    this.current = this.#next(null)
    this.saved = null
  }

  #isMeasured(field: LandmarkField): boolean {
    return (this.view?.heads[field] ?? []).length > 0
  }

  #doubtAbout(field: LandmarkField): Doubt | undefined {
    return this.outcome?.doubts.find(doubt => doubt.field === field)
  }

  /** What is typed and not saved, then what cannot be right, then the next that is wanted and not measured. */
  #next(after: LandmarkField | null): LandmarkField | null {
    if (!this.view) return null
    const all = landmarksOf(this.view)
    const start = all.findIndex(({ field }) => field === after) + 1
    const inTurn = [...all.slice(start), ...all.slice(0, start)].filter(({ field }) => field !== after)
    const next =
      inTurn.find(({ field }) => this.#typedIn(field) > 0) ??
      inTurn.find(({ field }) => this.#doubtAbout(field)?.setAside) ??
      inTurn.find(({ field, wanted }) => wanted && !this.#isMeasured(field))
    return next?.field ?? null
  }

  #typedIn(field: LandmarkField): number {
    const app = this.#app.value
    return app && this.view ? unsavedCount(app.casebook, this.view.caseId, `measuring ${field}`) : 0
  }

  readonly #handleSaved = (event: ReadingSavedEvent): void => {
    const field = event.field as LandmarkField
    this.saved = { field, words: event.words }
    void this.#show(this.#next(field), false)
  }

  async #show(field: LandmarkField | null, forget = true): Promise<void> {
    if (forget) this.saved = null
    this.current = field
    await this.updateComplete
    // Focus wants a layout: in the next frame, where there is one anyway, not between the save and what follows from it.
    await new Promise(requestAnimationFrame)
    const place = this.renderRoot.querySelector<HTMLElement>('.now')
    place?.focus({ preventScroll: true })
    place?.scrollIntoView({ block: 'start' })
  }

  override render(): TemplateResult {
    const { view, outcome } = this
    if (!view || !outcome) return html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    const landmarks = landmarksOf(view)
    const wanted = landmarks.filter(one => one.wanted)
    const left = wanted.filter(one => !this.#isMeasured(one.field)).length
    return html`<div class="now" tabindex="-1">
        ${this.saved ? this.#renderSaved(this.saved, view) : nothing}
        ${
          this.current
            ? html`<spoke-landmark
                .view=${view}
                .field=${this.current}
                @reading-saved=${this.#handleSaved}
              ></spoke-landmark>`
            : this.#renderFinished(left, view)
        }
      </div>
      <div class="lists">
        ${this.#renderList(t('measuring.wanted'), wanted, view)}
        ${this.#renderList(
          t('measuring.optional'),
          landmarks.filter(one => !one.wanted),
          view,
        )}
      </div>`
  }

  #renderFinished(left: number, view: CaseView): TemplateResult {
    const differs = view.differences.filter(one => Object.hasOwn(view.readings, one.field))
    return html`${left === 0 ? html`<p>${t('measuring.finished')}</p>` : nothing}
    ${differs.map(
      one => html`<p class="notice warn">
        ${fieldLabel(one.field)}. ${t('measuring.stands', { options: sayOptions(one) })}
        <a href="#/case/${view.caseId}/differences">${t('form.settleIt')}</a>
      </p>`,
    )}`
  }

  #renderSaved({ field, words }: NonNullable<SpokeMeasuring['saved']>, view: CaseView): TemplateResult {
    const difference = view.differences.find(one => one.field === field)
    return html`<div class="notice saved ${difference ? 'warn' : 'good'}">
      <p>${t('measuring.savedLine', { field: fieldLabel(field), value: words })}</p>
      ${
        difference
          ? html`<p>
              ${t('measuring.stands', { options: sayOptions(difference) })}
              <a href="#/case/${view.caseId}/differences">${t('form.settleIt')}</a>
            </p>`
          : nothing
      }
      <button type="button" class="quiet" @click=${() => this.#show(field)}>${t('measuring.again')}</button>
    </div>`
  }

  #renderList(title: string, landmarks: readonly OnBody[], view: CaseView): TemplateResult {
    const app = this.#app.value
    const usual = app
      ? usualTaken(
          landmarks.map(({ field }) => readingsOf(view, field)),
          app.casebook,
        )
      : ''
    return html`<section class="all" aria-label=${title}>
      <h3>${title}</h3>
      ${usual === '' ? nothing : html`<p class="usual">${t('measuring.unlessSaid', { taken: usual })}</p>`}
      <ul>
        ${landmarks.map(one => html`<li>${this.#renderRow(one, view, usual)}</li>`)}
      </ul>
    </section>`
  }

  #renderRow({ field }: OnBody, view: CaseView, usual: string): TemplateResult {
    const isCurrent = field === this.current
    const app = this.#app.value
    const taken = app ? sayTaken(readingsOf(view, field), app.casebook) : ''
    const doubt = isCurrent ? undefined : this.#doubtAbout(field)
    return html`<button type="button" aria-current=${isCurrent ? 'step' : nothing} @click=${() => this.#show(field)}>
      <span class="name">${fieldLabel(field)}</span>
      ${isCurrent ? html`<span class="value quiet">…</span>` : this.#renderValue(field, view)}
      <span class="more">
        ${isCurrent || taken === usual ? nothing : taken}
        ${this.#typedIn(field) > 0 ? html`<span class="typed">${t('frame.unsaved')}</span>` : nothing}
      </span>
      ${doubt ? html`<span class="doubt">${sayDoubt(doubt, field)}</span>` : nothing}
    </button>`
  }

  #renderValue(field: LandmarkField, view: CaseView): TemplateResult {
    const value = view.values[field]
    const difference = view.differences.find(one => one.field === field)
    if (difference) return html`<span class="value differs">${sayOptions(difference)}</span>`
    if (value === undefined) return html`<span class="value quiet">${t('measuring.notYet')}</span>`
    return html`<span class="value number">${sayMeasure(field, value)}</span>`
  }
}

customElements.define('spoke-measuring', SpokeMeasuring)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-measuring': SpokeMeasuring
  }
}
