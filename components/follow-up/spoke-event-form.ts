import { html, nothing, type TemplateResult } from 'lit'
import type { EventName } from '../../src/case/event-date.ts'
import { answersControl, dateControl, focusFirstError, numberControl, textControl } from '../case/answers.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import { ActController } from '../controllers/act-controller.ts'
import { Draft } from '../controllers/draft.ts'
import { FormController } from '../controllers/form-controller.ts'
import { readTyped } from '../fields/typed-number.ts'
import { sayNumber } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import type { EventFormSpec, Part, Said } from './event-form-spec.ts'

/** An event was written down: the form has served. */
export class EventRecorded extends Event {
  static readonly type = 'event-recorded'
  readonly name: EventName

  constructor(name: EventName) {
    super(EventRecorded.type, { bubbles: true, composed: true })
    this.name = name
  }
}

/** The form of one kind of event: what is filled in stays until it is saved, however often the form is closed meanwhile. */
export class SpokeEventForm extends CasePart {
  static override properties = { ...CasePart.properties, spec: { attribute: false }, tried: { state: true } }
  declare spec: EventFormSpec | undefined
  declare tried: boolean
  readonly #form = new FormController(this)
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.tried = false
  }

  override willUpdate(): void {
    this.#form.show(this.app, this.view, `follow-up ${this.spec?.name ?? ''}`)
  }

  #said(spec: EventFormSpec, facts: PartFacts): Said {
    return { ...spec.defaults(facts), ...(this.#form.draft.value(spec.name) as Said | undefined) }
  }

  #put(spec: EventFormSpec, facts: PartFacts, key: string, value: Said[string]): void {
    // Half an event stays in the draft; what is saved is made by `toEvent` once nothing is lacking.
    this.#form.set(spec.name, { ...this.#said(spec, facts), [key]: value } as never)
  }

  #errors(spec: EventFormSpec, facts: PartFacts): ReadonlyMap<string, string> {
    const said = this.#said(spec, facts)
    const errors = new Map<string, string>()
    for (const part of spec.parts(facts, said)) {
      const words = errorOf(part, said, facts.outcome.today)
      if (words !== undefined) errors.set(part.key, words)
    }
    const lacks = spec.lacks?.(said)
    if (lacks && !errors.has(lacks.key)) errors.set(lacks.key, t(lacks.words))
    return errors
  }

  async #save(spec: EventFormSpec, facts: PartFacts): Promise<void> {
    this.tried = true
    if (this.#errors(spec, facts).size > 0) {
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    const { app, view } = facts
    const said = this.#said(spec, facts)
    const draft = new Draft()
    draft.set(spec.name, spec.toEvent(inOwnUnits(spec.parts(facts, said), said), facts), view)
    for (const risk of spec.risks?.(said) ?? []) if (view.values[risk] !== true) draft.set(risk, true, view)
    if (!(await this.#act.run('save', () => draft.save(app.casebook, view.caseId)))) return
    this.#form.drop()
    this.tried = false
    this.dispatchEvent(new EventRecorded(spec.name))
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { spec } = this
    if (!spec) return html`${nothing}`
    const said = this.#said(spec, facts)
    const errors = this.tried ? this.#errors(spec, facts) : new Map<string, string>()
    const failed = this.#act.errorOf('save')
    return html`<div class="form">
      ${spec.parts(facts, said).map(part => this.#renderPart(part, said, errors.get(part.key), spec, facts))}
      ${failed ? html`<p class="error refused" role="alert" tabindex="-1">${failed}</p>` : nothing}
      <button class="main" aria-busy=${this.#act.isSaving('save')} @click=${() => this.#save(spec, facts)}>
        ${t('followUp.save')}
      </button>
    </div>`
  }

  #renderPart(
    part: Part,
    said: Said,
    error: string | undefined,
    spec: EventFormSpec,
    facts: PartFacts,
  ): TemplateResult {
    const { key, label, hint } = part
    const control = { id: key, label: t(label), error, ...(hint ? { hint: t(hint) } : {}) }
    const change = (value: Said[string]): void => this.#put(spec, facts, key, value)
    const typed = String(said[key] ?? '')
    switch (part.kind) {
      case 'date':
        return dateControl({ ...control, value: typed, most: facts.outcome.today, change })
      case 'answers':
        return answersControl({
          ...control,
          answers: part.answers,
          chosen: said[key],
          tiny: part.tiny ?? false,
          change,
        })
      case 'text':
        return textControl({
          ...control,
          value: typed,
          most: part.most,
          lines: part.lines ?? 1,
          ...(part.suggestions ? { suggestions: part.suggestions } : {}),
          change,
        })
      case 'number': {
        const number = readTyped(typed)
        const after = number === undefined ? undefined : part.inOwnUnit?.(number).words
        return numberControl({ ...control, value: typed, ...(after ? { after } : {}), change })
      }
    }
  }
}

/** What is wrong with one answer, in words; undefined where nothing is. */
const errorOf = (part: Part, said: Said, today: string): string | undefined => {
  const value = said[part.key]
  const typed = String(value ?? '').trim()
  switch (part.kind) {
    case 'date':
      if (typed === '') return t('followUp.dateNeeded')
      return typed > today ? t('followUp.dateLate') : undefined
    case 'answers':
      return part.needed && value === undefined ? t('followUp.answerNeeded') : undefined
    case 'text':
      return part.needed && typed === '' ? t('followUp.textNeeded') : undefined
    case 'number': {
      if (typed === '') return part.needed ? t('followUp.numberNeeded') : undefined
      const number = readTyped(typed)
      if (number === undefined) return t('followUp.numberNeeded')
      const own = part.inOwnUnit?.(number).value ?? number
      return own < part.least || own > part.most
        ? t('followUp.numberRange', {
            least: sayNumber(part.least, part.unit, 0),
            most: sayNumber(part.most, part.unit, 0),
          })
        : undefined
    }
  }
}

/** Typed numbers become what is kept: read in any digits, in the field's own unit. */
const inOwnUnits = (parts: readonly Part[], said: Said): Said => {
  const numbers = parts.flatMap(part => {
    const typed = part.kind === 'number' ? readTyped(String(said[part.key] ?? '')) : undefined
    if (part.kind !== 'number' || typed === undefined) return []
    return [[part.key, part.inOwnUnit?.(typed).value ?? typed] as const]
  })
  return { ...said, ...Object.fromEntries(numbers) }
}

customElements.define('spoke-event-form', SpokeEventForm)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-event-form': SpokeEventForm
  }
  interface HTMLElementEventMap {
    'event-recorded': EventRecorded
  }
}
