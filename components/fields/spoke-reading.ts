import { html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import {
  isWeighedWith,
  type NamesOfKind,
  type Reading,
  readingValue,
  type WEIGHED_WITH,
} from '../../src/case/fields.ts'
import type { Quantity } from '../../src/units.ts'
import { optionHint, optionLabel, ownUnit, quantityOf, sayMeasure } from '../text/say-value.ts'
import { type TextKey, t } from '../text/text.ts'
import { FieldElement } from './field-element.ts'
import { INCH_FRACTIONS, PAD_KEYS, type PadKey, press, withFraction } from './number-pad.ts'
import { readingStyles } from './reading-styles.ts'
import { type Method, methodsOf, rememberMethod, rememberUnit, unitsOf, usualMethod, usualUnit } from './tape.ts'
import { readTyped } from './typed-number.ts'
import { type Typed, type Weighing, weighingTemplate } from './weighing-template.ts'

type MeasureName = NamesOfKind<'measure'>

const UNIT_OF: { readonly [Name in Quantity]?: TextKey } = {
  length: 'form.unit',
  mass: 'form.unitOfScale',
  pressure: 'form.unitOfGauge',
}

/**
 * A reading as typed, in the unit of the tape, with its value in the field's own unit beside it; how it was measured.
 * `pad`: with large keys, for one hand in a glove. `fresh`: what was read before is not shown until this one is typed.
 * Weighed with something else on the scale, two readings are typed; the sum is made here and shown.
 */
export class SpokeReading extends FieldElement<MeasureName> {
  static override styles = [...FieldElement.styles, readingStyles]
  static override properties = {
    ...FieldElement.properties,
    pad: { type: Boolean },
    fresh: { type: Boolean },
    typed: { state: true },
    less: { state: true },
    turn: { state: true },
    unit: { state: true },
    how: { state: true },
  }
  declare pad: boolean
  declare fresh: boolean
  declare typed: string
  /** Of two weighings the second: what was on the scale too, alone. */
  declare less: string
  /** Which of the two the keys write into. */
  declare turn: keyof Weighing
  declare unit: string
  declare how: Method

  constructor() {
    super()
    this.pad = false
    this.fresh = false
    this.typed = ''
    this.less = ''
    this.turn = 'typed'
    this.unit = ''
    this.how = 'tape'
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('name')) this.turn = 'typed'
    if (changed.has('name') || changed.has('edit') || (changed.has('view') && !this.edit)) this.#follow()
  }

  /** Shows the draft, else what stands; keeps "36." as typed while it says the same number. */
  #follow(): void {
    const reading = (this.edit?.value as Reading | undefined) ?? (this.fresh ? undefined : this.#standing)
    this.typed = following(this.typed, reading?.typed)
    this.less = following(this.less, reading?.less)
    this.unit = reading?.unit ?? usualUnit(this.name)
    this.how = reading?.how ?? usualMethod(this.name)
  }

  get #standing(): Reading | undefined {
    const heads = this.view?.heads[this.name] ?? []
    const [first] = heads
    if (heads.length === 1 && first) return first.value as Reading
    const value = this.view?.values[this.name]
    return value === undefined ? undefined : { typed: value, unit: ownUnit(quantityOf(this.name)) }
  }

  #say(change: Typed & { unit?: string; how?: Method }): void {
    this.typed = change.typed ?? this.typed
    this.less = change.less ?? this.less
    this.unit = change.unit ?? this.unit
    this.how = change.how ?? this.how
    if (change.unit) rememberUnit(this.name, change.unit)
    if (change.how) rememberMethod(this.name, change.how)
    if (this.typed.trim() === '' && this.less.trim() === '') {
      this.change(undefined)
      return
    }
    const on = this.app?.today()
    // What is no number goes into the draft as typed: it is not lost, and the save says what is wrong with it.
    const typed = (readTyped(this.typed) ?? this.typed) as number
    const less = (readTyped(this.less) ?? this.less) as number
    const both = isWeighedWith(this.how) && this.less.trim() !== '' ? { less } : {}
    this.change({ typed, ...both, unit: this.unit, how: this.how, ...(on ? { on } : {}) })
  }

  #press(key: PadKey): void {
    const part = isWeighedWith(this.how) ? this.turn : 'typed'
    this.#say({ [part]: press(this[part], key) })
  }

  /** Where only the second weighing is missing, the hand is led there. */
  protected override updated(changed: PropertyValues<this>): void {
    if (!changed.has('error') || this.error === '' || !isWeighedWith(this.how)) return
    if (readTyped(this.typed) !== undefined && this.less === '') void this.#toSecond()
  }

  async #toSecond(): Promise<void> {
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('#less')?.focus()
  }

  /** What came in meanwhile must not lead the hand either; whoever compares shows it then. */
  protected override renderArrived(): TemplateResult | typeof nothing {
    return this.fresh ? nothing : super.renderArrived()
  }

  protected override renderControl(): TemplateResult {
    const units = unitsOf(this.name)
    const choice =
      units.length > 1 ? this.#renderUnits(units) : html`<span class="unit">${t(`unit.${this.unit}` as TextKey)}</span>`
    return html`${isWeighedWith(this.how) ? this.#renderWeighing(this.how, choice) : this.#renderOne(choice)}
      ${this.pad ? html`${this.#renderPad()}<slot name="enter"></slot>` : nothing} ${this.#renderMethods()}`
  }

  #renderOne(choice: TemplateResult): TemplateResult {
    return html`<label class="label ${this.pad ? 'unseen' : ''}" for="typed">${this.labelText}</label>
      <div class="line">
        <div class="entry">
          <input
            id="typed"
            class="number"
            inputmode=${this.pad ? 'none' : 'decimal'}
            autocomplete="off"
            maxlength="9"
            aria-describedby="own ${this.error === '' ? '' : 'error'}"
            aria-invalid=${this.error !== ''}
            .value=${this.typed}
            @input=${(event: Event) => this.#say({ typed: (event.target as HTMLInputElement).value })}
          />
        </div>
        ${choice}
      </div>
      ${this.unit === ownUnit(quantityOf(this.name)) ? nothing : html`<p class="own" id="own">${this.#ownUnitText()}</p>`}`
  }

  #renderWeighing(how: keyof typeof WEIGHED_WITH, choice: TemplateResult): TemplateResult {
    return weighingTemplate({
      weighing: { typed: this.typed, less: this.less },
      how,
      unit: this.unit,
      pad: this.pad,
      turn: this.turn,
      hasError: this.error !== '',
      choice,
      say: typed => this.#say(typed),
      turnTo: part => {
        this.turn = part
      },
    })
  }

  /** = 365 mm, where another unit was typed. */
  #ownUnitText(): string {
    const typed = readTyped(this.typed)
    if (typed === undefined || this.unit === ownUnit(quantityOf(this.name))) return ''
    return `= ${sayMeasure(this.name, readingValue(this.name, { typed, unit: this.unit }))}`
  }

  #renderUnits(units: readonly string[]): TemplateResult {
    return html`<fieldset class="units">
      <legend class="unseen">${t(UNIT_OF[quantityOf(this.name)] ?? 'form.unit')}</legend>
      ${units.map(
        unit => html`<label>
          <input type="radio" name="unit" .checked=${unit === this.unit} @change=${() => this.#say({ unit })} />
          <span>${t(`unit.${unit}` as TextKey)}</span>
        </label>`,
      )}
    </fieldset>`
  }

  #renderPad(): TemplateResult {
    const fractions = this.unit === 'in'
    return html`<div class="pad" dir="ltr">
      ${PAD_KEYS.map(key => {
        const words = key === 'delete' ? t('form.deleteDigit') : key === '.' ? t('form.decimalPoint') : nothing
        return html`<button type="button" aria-label=${words} @click=${() => this.#press(key)}>
          ${key === 'delete' ? '⌫' : key}
        </button>`
      })}
      ${
        fractions
          ? INCH_FRACTIONS.map(
              ({ sign, value, words }) => html`<button
                type="button"
                aria-label=${t(words)}
                @click=${() => this.#say({ typed: withFraction(this.typed, value) })}
              >
                ${sign}
              </button>`,
            )
          : nothing
      }
    </div>`
  }

  #renderMethods(): TemplateResult | typeof nothing {
    const methods = methodsOf(this.name)
    if (methods.length === 1 || (!this.pad && this.typed === '')) return nothing
    const hint = optionHint('how', this.how)
    return html`<fieldset class="methods">
      <legend class="unseen">${t('form.method')}</legend>
      ${methods.map(
        how => html`<label>
          <input type="radio" name="how" .checked=${how === this.how} @change=${() => this.#say({ how })} />
          <span>${optionLabel('how', how)}</span>
        </label>`,
      )}
      ${hint === undefined ? nothing : html`<p class="hint">${hint}</p>`}
    </fieldset>`
  }
}

/** What the draft says, but "36." as typed while it says the same number. */
const following = (typed: string, said: number | string | undefined): string => {
  const text = said === undefined ? '' : String(said)
  return said === undefined || readTyped(typed) !== readTyped(text) ? text : typed
}

customElements.define('spoke-reading', SpokeReading)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-reading': SpokeReading
  }
}
