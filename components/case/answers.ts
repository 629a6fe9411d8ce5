import { html, nothing, type TemplateResult } from 'lit'
import { t } from '../text/text.ts'

/** Native controls for what is no field of its own but a part of an event, each with its label and error in words. */
interface Control {
  readonly id: string
  readonly label: string
  readonly hint?: string
  readonly error?: string | undefined
}

const describedBy = ({ id, hint, error }: Control): string | typeof nothing => {
  const ids = [...(hint ? [`${id}-hint`] : []), ...(error ? [`${id}-error`] : [])]
  return ids.length > 0 ? ids.join(' ') : nothing
}
const hintBelow = ({ id, hint }: Control): TemplateResult | typeof nothing =>
  hint ? html`<p class="hint" id="${id}-hint">${hint}</p>` : nothing
const errorBelow = ({ id, error }: Control): TemplateResult | typeof nothing =>
  error ? html`<p class="error" id="${id}-error">${error}</p>` : nothing

export interface Answer<Value> {
  readonly value: Value
  readonly words: string
  readonly hint?: string | undefined
}

/** One answer out of a few. */
export const answersControl = <Value>(
  control: Control & {
    readonly answers: readonly Answer<Value>[]
    readonly chosen: Value | undefined
    readonly change: (value: Value) => void
    /** Answers of a figure or two stand in one row. */
    readonly tiny?: boolean
  },
): TemplateResult => html`<fieldset aria-describedby=${describedBy(control)}>
  <legend>${control.label}</legend>
  ${hintBelow(control)}
  <div class="answers ${control.tiny ? 'tiny' : ''}">
    ${control.answers.map(
      ({ value, words, hint }) => html`<label class="answer">
        <input
          type="radio"
          name=${control.id}
          .checked=${control.chosen === value}
          @change=${() => control.change(value)}
        />
        <span class="name">${words}</span>
        ${hint ? html`<span class="hint">${hint}</span>` : nothing}
      </label>`,
    )}
  </div>
  ${errorBelow(control)}
</fieldset>`

export const yesNo = (): readonly Answer<boolean>[] => [
  { value: true, words: t('option.yes') },
  { value: false, words: t('option.no') },
]

const typedIn = (event: Event): string => (event.target as HTMLInputElement).value

export const textControl = (
  control: Control & {
    readonly value: string
    readonly most: number
    readonly lines?: number
    readonly change: (value: string) => void
    readonly suggestions?: readonly string[]
  },
): TemplateResult => {
  const { id, label, value, most, lines = 1, change, suggestions } = control
  const invalid = control.error !== undefined && control.error !== ''
  return html`<div>
    <label class="label" for=${id}>${label}</label>
    ${hintBelow(control)}
    ${
      lines > 1
        ? html`<textarea
            id=${id}
            rows=${lines}
            maxlength=${most}
            dir="auto"
            aria-describedby=${describedBy(control)}
            aria-invalid=${invalid}
            .value=${value}
            @input=${(event: Event) => change(typedIn(event))}
          ></textarea>`
        : html`<input
            id=${id}
            maxlength=${most}
            dir="auto"
            autocomplete="off"
            list=${suggestions ? `${id}-list` : nothing}
            aria-describedby=${describedBy(control)}
            aria-invalid=${invalid}
            .value=${value}
            @input=${(event: Event) => change(typedIn(event))}
          />`
    }
    ${suggestions ? html`<datalist id="${id}-list">${suggestions.map(one => html`<option value=${one}></option>`)}</datalist>` : nothing}
    ${errorBelow(control)}
  </div>`
}

/** A day. Half a date is handed on as an empty text, so that it is asked for and never taken for a day. */
export const dateControl = (
  control: Control & {
    readonly value: string
    readonly least?: string
    readonly most?: string
    readonly change: (value: string) => void
  },
): TemplateResult => html`<div>
  <label class="label" for=${control.id}>${control.label}</label>
  ${hintBelow(control)}
  <input
    id=${control.id}
    type="date"
    min=${control.least ?? '1900-01-01'}
    max=${control.most ?? nothing}
    aria-describedby=${describedBy(control)}
    aria-invalid=${control.error !== undefined && control.error !== ''}
    .value=${control.value}
    @input=${(event: Event) => control.change(typedIn(event))}
  />
  ${errorBelow(control)}
</div>`

/** A number as typed: it stays text until it is saved, so that half a number is not lost. */
export const numberControl = (
  control: Control & {
    readonly value: string
    readonly change: (value: string) => void
    readonly after?: string
    readonly decimal?: boolean
  },
): TemplateResult => html`<div>
  <label class="label" for=${control.id}>${control.label}</label>
  ${hintBelow(control)}
  <input
    id=${control.id}
    class="number"
    inputmode=${control.decimal === false ? 'numeric' : 'decimal'}
    autocomplete="off"
    maxlength="10"
    aria-describedby=${describedBy(control)}
    aria-invalid=${control.error !== undefined && control.error !== ''}
    .value=${control.value}
    @input=${(event: Event) => control.change(typedIn(event))}
  />
  ${control.after ? html`<p class="hint">${control.after}</p>` : nothing} ${errorBelow(control)}
</div>`

/** Puts the person's place at the first thing that a refused form asks for. */
export const focusFirstError = (root: ParentNode): void => {
  const place = root.querySelector<HTMLElement>('[aria-invalid="true"], fieldset:has(.error) input, .refused')
  place?.focus()
  place?.scrollIntoView({ block: 'center' })
}
