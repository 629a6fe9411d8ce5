import { css, html, type TemplateResult } from 'lit'
import { LOAD_PLACES, type Load } from '../../src/body/person.ts'
import { optionLabel } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { FieldElement } from './field-element.ts'
import { readTyped } from './typed-number.ts'

const TIMES = ['usual', 'worst'] as const

/** What is carried in or on the chair: how heavy, where, on which days. "Carries nothing" is an answer too. */
export class SpokeLoads extends FieldElement<'loads'> {
  static override styles = [
    ...FieldElement.styles,
    css`
      .load { padding-block: var(--space-3); border-block-start: 1px solid var(--line); }
      .answer + .load { margin-block-start: var(--space-4); }
      .load > * + * { margin-block-start: var(--space-3); }
      .mass { max-inline-size: 10rem; }
      .row { display: flex; flex-wrap: wrap; gap: var(--space-2); align-items: center; }
    `,
  ]

  get #loads(): readonly Load[] {
    return this.shown ?? []
  }

  #replace(index: number, change: Partial<Load>): void {
    this.change(this.#loads.map((load, at) => (at === index ? { ...load, ...change } : load)))
  }

  protected override renderControl(): TemplateResult {
    return html`<div role="group" aria-label=${this.labelText}>
      <div class="label">${this.labelText}</div>
      <label class="answer">
        <input
          type="checkbox"
          .checked=${this.shown?.length === 0}
          @change=${(event: Event) => this.change((event.target as HTMLInputElement).checked ? [] : undefined)}
        />
        <span class="name">${t('form.carriesNothing')}</span>
      </label>
      ${this.#loads.map((load, index) => this.#renderLoad(load, index))}
      <button
        type="button"
        class="below"
        @click=${() => this.change([...this.#loads, { massKg: '' as never, at: 'lap', when: 'usual' }])}
      >
        ${t('form.addLoad')}
      </button>
    </div>`
  }

  #renderLoad(load: Load, index: number): TemplateResult {
    const count = index + 1
    return html`<div class="load" role="group" aria-label=${t('form.load', { count })}>
      <div class="mass">
        <label class="label" for="mass-${index}">${t('form.loadMass')}</label>
        <input
          id="mass-${index}"
          class="number"
          inputmode="decimal"
          autocomplete="off"
          maxlength="6"
          .value=${String(load.massKg)}
          @input=${(event: Event) => {
            const text = (event.target as HTMLInputElement).value
            this.#replace(index, { massKg: (readTyped(text) ?? text) as number })
          }}
        />
      </div>
      ${this.#renderRadios(`at-${index}`, t('form.loadWhere'), LOAD_PLACES, load.at, at => this.#replace(index, { at }))}
      ${this.#renderRadios(`when-${index}`, t('form.loadWhen'), TIMES, load.when ?? 'usual', when => this.#replace(index, { when }))}
      <button type="button" class="quiet" @click=${() => this.#remove(index)}>${t('form.removeLoad', { count })}</button>
    </div>`
  }

  #remove(index: number): void {
    const rest = this.#loads.filter((_, at) => at !== index)
    this.change(rest.length === 0 ? undefined : rest)
  }

  #renderRadios<Answer extends string>(
    name: string,
    words: string,
    answers: readonly Answer[],
    chosen: Answer,
    choose: (answer: Answer) => void,
  ): TemplateResult {
    return html`<fieldset>
      <legend>${words}</legend>
      <div class="answers">
        ${answers.map(
          answer => html`<label class="answer">
            <input type="radio" name=${name} .checked=${answer === chosen} @change=${() => choose(answer)} />
            <span class="name">${optionLabel('loads', answer)}</span>
          </label>`,
        )}
      </div>
    </fieldset>`
  }
}

customElements.define('spoke-loads', SpokeLoads)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-loads': SpokeLoads
  }
}
