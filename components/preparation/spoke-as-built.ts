import { html, nothing, type TemplateResult } from 'lit'
import { answersControl, focusFirstError, numberControl } from '../case/answers.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import { modelIn, sayMm } from '../case/set-up-words.ts'
import { FormController } from '../controllers/form-controller.ts'
import type { FieldChangeEvent } from '../fields/field-events.ts'
import '../fields/spoke-text.ts'
import { readTyped } from '../fields/typed-number.ts'
import { fieldLabel } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { type BuiltField, type BuiltRow, type BuiltValue, builtRows } from './built-rows.ts'

const OTHER = Symbol('another length')

/** The chair as it really is, read setting by setting: as on the sheet, or otherwise. Readings are kept apart from the sheet. */
export class SpokeAsBuilt extends CasePart {
  static override properties = { ...CasePart.properties, others: { state: true } }
  /** Fields whose length is being typed. */
  declare others: ReadonlySet<BuiltField>
  readonly #form = new FormController(this)

  constructor() {
    super()
    this.others = new Set()
  }

  override willUpdate(): void {
    this.#form.show(this.app, this.view, 'preparing built')
  }

  #shown(field: BuiltField, facts: PartFacts): unknown {
    return this.#form.draft.has(field) ? this.#form.draft.value(field) : facts.view.values[field]
  }

  #answer(field: BuiltField, value: BuiltValue | typeof OTHER): void {
    const others = new Set(this.others)
    if (value === OTHER) others.add(field)
    else {
      others.delete(field)
      this.#form.set(field, value as never)
    }
    this.others = others
  }

  #type(field: BuiltField, typed: string): void {
    // What is no number yet stays as typed: the save says so beside the field.
    this.#form.set(field, (typed.trim() === '' ? undefined : (readTyped(typed) ?? typed)) as never)
  }

  async #save(): Promise<void> {
    if (await this.#form.save()) this.others = new Set()
    else {
      await this.updateComplete
      focusFirstError(this.renderRoot)
    }
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { target } = facts.outcome
    const model = target && modelIn(facts.context.catalogue, target.setUp.chair)
    if (!target || !model) return html`<p class="notice">${t('preparing.noSheet')}</p>`
    const { state, draft } = this.#form
    return html`<div class="form">
      ${builtRows(facts.context.catalogue, model, target.setUp).map(row => this.#renderRow(row, facts))}
      <spoke-text
        .name=${'serialNumber'}
        .label=${t('preparing.serialNumber')}
        .view=${facts.view}
        .edit=${draft.edit('serialNumber')}
        .error=${this.#form.errorOf('serialNumber')}
        @field-change=${(event: FieldChangeEvent) => this.#form.handleChange(event)}
      ></spoke-text>
      ${
        state.status === 'failed' && state.field === null
          ? html`<p class="error refused" role="alert" tabindex="-1">${state.message}</p>`
          : nothing
      }
      ${state.status === 'saved' ? html`<p class="saved">${t('form.saved')}</p>` : nothing}
      <button class="main" aria-busy=${state.status === 'saving'} @click=${() => this.#save()}>
        ${draft.isEmpty ? t('app.save') : t('preparing.saveBuilt', { count: draft.fields.length })}
      </button>
    </div>`
  }

  #renderRow(row: BuiltRow, facts: PartFacts): TemplateResult {
    const { field, sheet, others } = row
    const shown = this.#shown(field, facts)
    const isOther = this.others.has(field) || (shown !== undefined && shown !== sheet.value)
    const canBeOther = row.takesMm || others.length > 0
    return html`<div>
      ${answersControl<BuiltValue | typeof OTHER>({
        id: field,
        label: fieldLabel(field),
        answers: [
          { ...sheet, hint: t('preparing.asSheet') },
          ...(canBeOther ? [{ value: OTHER as typeof OTHER, words: t('preparing.other') }] : []),
        ],
        chosen: isOther ? OTHER : (shown as BuiltValue | undefined),
        error: isOther ? undefined : this.#form.errorOf(field) || undefined,
        change: value => this.#answer(field, value),
      })}
      ${isOther ? html`<div class="inner stack">${this.#renderOther(row, shown)}</div>` : nothing}
    </div>`
  }

  #renderOther({ field, sheet, others, takesMm }: BuiltRow, shown: unknown): TemplateResult {
    const isNamed = shown === sheet.value || others.some(one => one.value === shown)
    return html`${
      others.length === 0
        ? nothing
        : answersControl<BuiltValue>({
            id: `${field}-other`,
            label: t('preparing.otherValue'),
            answers: others,
            chosen: isNamed ? (shown as BuiltValue) : undefined,
            change: value => this.#form.set(field, value as never),
          })
    }
    ${
      takesMm
        ? numberControl({
            id: `${field}-mm`,
            label: t('preparing.otherMm'),
            value: isNamed || shown === undefined ? '' : String(shown),
            error: this.#form.errorOf(field) || undefined,
            ...(typeof shown === 'number' && !isNamed ? { after: sayMm(shown) } : {}),
            change: typed => this.#type(field, typed),
          })
        : nothing
    }`
  }
}

customElements.define('spoke-as-built', SpokeAsBuilt)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-as-built': SpokeAsBuilt
  }
}
