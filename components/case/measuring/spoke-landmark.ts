import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { CaseView, Head } from '../../../src/case/case-view.ts'
import { fieldOf, type Reading } from '../../../src/case/fields.ts'
import { appContext } from '../../app/context.ts'
import { FormController } from '../../controllers/form-controller.ts'
import { SpeechController } from '../../controllers/speech-controller.ts'
import { fieldTemplate } from '../../fields/field-template.ts'
import { base } from '../../styles/tokens.ts'
import { fieldLabel, sayReading } from '../../text/say-value.ts'
import { t } from '../../text/text.ts'
import { earlierTemplate } from './earlier-template.ts'
import { drawingStyles, landmarkDrawing } from './landmark-drawing.ts'
import { ReadingSavedEvent } from './landmark-events.ts'
import { landmarkStyles } from './landmark-styles.ts'
import type { LandmarkField } from './landmarks.ts'
import { doubtsAbout, readingMeant, sayBoth, sayDoubt } from './reading-doubts.ts'
import './spoke-tape-holder.ts'
import { tapeHolder } from './tape-holder.ts'

/**
 * One place on the body: where the tape goes, how, and the reading. What was read before, by anybody, is shown only once
 * this reading is entered, so that it does not lead the hand; so is what is unlikely about it. Where there is nothing to
 * compare and nothing to doubt, entering saves.
 */
export class SpokeLandmark extends LitElement {
  static override styles = [base, drawingStyles, landmarkStyles]
  static override properties = {
    view: { attribute: false },
    field: { attribute: false },
    entered: { state: true },
  }
  declare view: CaseView | undefined
  declare field: LandmarkField
  /** True once the reading is typed to its end: now it is compared. */
  declare entered: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #form = new FormController(this)

  constructor() {
    super()
    this.entered = false
    new SpeechController(this)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('field')) this.entered = false
    this.#form.show(this.#app.value, this.view, `measuring ${this.field}`)
  }

  get #reading(): Reading | undefined {
    const reading = this.#form.draft.value(this.field)
    return reading && fieldOf(this.field).schema.safeParse(reading).success ? reading : undefined
  }

  get #earlier(): readonly Head<Reading>[] {
    return (this.view?.heads[this.field] ?? []) as readonly Head<Reading>[]
  }

  get #doubts() {
    const { view } = this
    const [app, reading] = [this.#app.value, this.#reading]
    return view && app && reading ? doubtsAbout(view, this.field, reading, app.today()) : []
  }

  readonly #handleChange = (event: HTMLElementEventMap['field-change']): void => {
    this.#form.handleChange(event)
    if (event.field === this.field) this.entered = false
  }

  readonly #handleKey = (event: KeyboardEvent): void => {
    const onInput = event.composedPath().some(part => part instanceof HTMLInputElement && part.type !== 'radio')
    if (event.key === 'Enter' && onInput) void this.#enter()
  }

  readonly #enter = async (): Promise<void> => {
    if (!this.#reading) {
      this.#form.check(this.field, this.#form.draft.has(this.field) ? undefined : t('measuring.typeFirst'))
      return
    }
    if (this.#earlier.length === 0 && this.#doubts.length === 0) {
      await this.#save('repeat')
      return
    }
    this.entered = true
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('.review')?.focus()
  }

  async #save(how: 'repeat' | 'correction'): Promise<void> {
    const [typed, app] = [this.#reading, this.#app.value]
    if (!typed || !app) return
    const measuredBy = tapeHolder(app.casebook)
    const reading = measuredBy === undefined ? typed : { ...typed, measuredBy }
    const { field } = this
    await this.#form.saveDecided(field, reading, how, () => {
      // Heard first: what comes next is given before this is rendered.
      this.dispatchEvent(new ReadingSavedEvent(field, sayBoth(field, reading)))
      this.entered = false
    })
  }

  #take(reading: Reading): void {
    this.#form.set(this.field, reading)
    this.entered = true
  }

  override render(): TemplateResult {
    const { view, field } = this
    if (!view || !field) return html`<p class="quiet" aria-busy="true">${t('app.loading')}</p>`
    return html`<div class="landmark" @field-change=${this.#handleChange} @keydown=${this.#handleKey}>
      <div class="place">
        <h3>${fieldLabel(field)}</h3>
        <div class="figure"><svg viewBox="0 0 240 240" aria-hidden="true">${landmarkDrawing(field)}</svg></div>
        <p class="how">${t(`measuring.how ${field}`)}</p>
      </div>
      <div class="taking">
        ${this.entered ? this.#renderReview() : this.#renderTyping(view)}
        <spoke-tape-holder></spoke-tape-holder>
      </div>
    </div>`
  }

  #renderTyping(view: CaseView): TemplateResult {
    const { field } = this
    const { draft, state } = this.#form
    const reading = this.#reading
    const earlier = this.#earlier.length
    const asksProsthesis = field === 'massKg' && (isWorn(view, 'limbLossLeft') || isWorn(view, 'limbLossRight'))
    const failure = state.status === 'failed' && state.field !== field ? state.message : ''
    return html`<spoke-reading
        pad
        fresh
        .name=${field}
        .view=${view}
        .edit=${draft.edit(field)}
        .error=${this.#form.errorOf(field)}
      >
        <button slot="enter" type="button" class="main" @click=${this.#enter}>
          ${
            state.status === 'saving'
              ? t('form.saving')
              : reading
                ? t('measuring.useAs', { value: sayReading(reading) })
                : t('measuring.use')
          }
        </button>
      </spoke-reading>
      ${
        asksProsthesis
          ? fieldTemplate('weighedWithProsthesis', { view, edit: draft.edit('weighedWithProsthesis'), error: '' })
          : nothing
      }
      ${earlier > 0 ? html`<p class="quiet">${t('measuring.hidden', { count: earlier })}</p>` : nothing}
      ${failure === '' ? nothing : html`<p class="error" role="alert">${failure}</p>`}`
  }

  #renderReview(): TemplateResult {
    const { field } = this
    const reading = this.#reading
    if (!reading) return html``
    const doubts = this.#doubts
    const earlier = this.#earlier
    const { state } = this.#form
    const fixes = doubts.flatMap(doubt => readingMeant(field, reading, doubt) ?? [])
    const value = sayReading(reading)
    const calm = fixes.length === 0
    return html`<div class="review" tabindex="-1">
      <p class="typed">${sayBoth(field, reading)}</p>
      ${doubts.map(doubt => html`<p class="notice warn"><strong>${sayDoubt(doubt, field, reading)}</strong></p>`)}
      ${fixes.map(
        meant => html`<button type="button" class="main" @click=${() => this.#take(meant)}>
          ${t('measuring.fix', { value: sayBoth(field, meant) })}
        </button>`,
      )}
      ${earlier.length > 0 ? earlierTemplate(field, earlier, reading, this.#app.value?.casebook) : nothing}
      ${state.status === 'failed' ? html`<p class="error" role="alert">${state.message}</p>` : nothing}
      <button type="button" class=${calm ? 'main' : ''} @click=${() => this.#save('repeat')}>
        ${
          state.status === 'saving'
            ? t('form.saving')
            : !calm
              ? t('measuring.keep', { value })
              : earlier.length > 0
                ? t('measuring.saveRepeat')
                : t('measuring.save', { value })
        }
      </button>
      ${
        earlier.length > 0
          ? html`<button type="button" @click=${() => this.#save('correction')}>${t('measuring.saveCorrection')}</button>`
          : nothing
      }
      <button
        type="button"
        class="quiet"
        @click=${() => {
          this.entered = false
        }}
      >
        ${t('measuring.typeAgain')}
      </button>
    </div>`
  }
}

const isWorn = ({ values }: CaseView, side: 'limbLossLeft' | 'limbLossRight'): boolean =>
  values[side]?.prosthesisWorn === true

customElements.define('spoke-landmark', SpokeLandmark)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-landmark': SpokeLandmark
  }
}
