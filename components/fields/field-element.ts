import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import type { CaseView, Difference, Head } from '../../src/case/case-view.ts'
import { type FieldName, type FieldValue, fieldOf } from '../../src/case/fields.ts'
import { type AppCasebook, type AppContext, appContext } from '../app/context.ts'
import type { Edit } from '../controllers/draft.ts'
import { FieldPlaceController } from '../controllers/field-place-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { fieldStyles } from '../styles/field-styles.ts'
import { base } from '../styles/tokens.ts'
import { fieldLabel, sayValue, sayWho, sayWhoMeasured } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { FieldChangeEvent } from './field-events.ts'

const sayWhoStated = (casebook: AppCasebook, { by }: Head): string => sayWho(casebook, by)

/**
 * What every field has in common. It shows what is being typed (`edit`), else what the record says (`view`); what came in
 * while a person was typing stands beside it with who and when, and never replaces it. Fires `field-change` only for what
 * a person did. Without a `view` it shows nothing recorded and works all the same (a new referral).
 */
export abstract class FieldElement<Name extends FieldName = FieldName> extends LitElement {
  static override styles = [base, fieldStyles]
  static override properties = {
    name: {},
    view: { attribute: false },
    edit: { attribute: false },
    error: {},
    label: {},
  }
  declare name: Name
  declare view: CaseView | undefined
  declare edit: Edit | undefined
  declare error: string
  /** In the place of the field's own name. */
  declare label: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #place = new FieldPlaceController(this, () => ({
    presence: this.app?.meetings?.presence,
    caseId: this.view?.caseId,
    field: this.name,
  }))

  constructor() {
    super()
    this.error = ''
    this.label = ''
    new SpeechController(this)
  }

  protected get app(): AppContext | undefined {
    return this.#app.value
  }

  protected get labelText(): string {
    return this.label === '' ? fieldLabel(this.name) : this.label
  }

  /** What the record says; undefined where nothing was said or answers differ. */
  protected get recorded(): FieldValue<Name> | undefined {
    return this.view?.values[this.name as keyof CaseView['values']] as FieldValue<Name> | undefined
  }

  protected get shown(): FieldValue<Name> | undefined {
    return this.edit ? (this.edit.value as FieldValue<Name>) : this.recorded
  }

  protected get difference(): Difference | undefined {
    return this.view?.differences.find(one => one.field === this.name)
  }

  protected change(value: FieldValue<Name> | undefined): void {
    this.dispatchEvent(new FieldChangeEvent(this.name, value) as FieldChangeEvent)
  }

  /** Statements that came in after the person began to type. */
  protected get arrived(): readonly Head[] {
    const { edit } = this
    return edit ? (this.view?.heads[this.name] ?? []).filter(head => !edit.stood.includes(head.id)) : []
  }

  protected abstract renderControl(): TemplateResult

  protected renderError(): TemplateResult | typeof nothing {
    return this.error === '' ? nothing : html`<p class="error" id="error">${this.error}</p>`
  }

  /** Somebody else is at the same field: said while both can still talk about it. */
  protected renderOthers(): TemplateResult | typeof nothing {
    const { app } = this
    if (!app) return nothing
    return html`${this.#place.others.map(
      device => html`<p class="below quiet at-field">${t('nearby.atField', { who: sayWho(app.casebook, device) })}</p>`,
    )}`
  }

  protected renderHeads(heads: readonly Head[]): TemplateResult {
    return html`<ul>
      ${heads.map(head => {
        const say = fieldOf(this.name).kind === 'measure' ? sayWhoMeasured : sayWhoStated
        const who = this.app ? say(this.app.casebook, head) : t('form.unknownDevice')
        const value = sayValue(this.name, head.value)
        return html`<li>${t('form.saidBy', { value, who, when: currentSpeech().moment(head.at) })}</li>`
      })}
    </ul>`
  }

  protected renderArrived(): TemplateResult | typeof nothing {
    const { arrived } = this
    if (arrived.length === 0) return nothing
    return html`<div class="notice warn below arrived">
      ${this.renderHeads(arrived)}
      <p>${t('form.arrived')}</p>
    </div>`
  }

  override render(): TemplateResult {
    const { difference } = this
    if (difference && !this.edit && this.view)
      return html`<div class="label">${this.labelText}</div>
        <div class="notice warn">
          <strong>${t('form.twoStand')}</strong>
          ${this.renderHeads(difference.options.flatMap(option => option.heads))}
          <a href="#/case/${this.view.caseId}/differences">${t('form.settleIt')}</a>
        </div>`
    const newer = this.view?.newer.includes(this.name) ? html`<p class="notice below">${t('form.newer')}</p>` : nothing
    return html`${this.renderControl()} ${this.renderError()} ${this.renderOthers()} ${this.renderArrived()} ${newer}`
  }
}
