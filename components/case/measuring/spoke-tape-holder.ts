import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { appContext } from '../../app/context.ts'
import { SpeechController } from '../../controllers/speech-controller.ts'
import { base } from '../../styles/tokens.ts'
import { sayWho } from '../../text/say-value.ts'
import { t } from '../../text/text.ts'
import { keepTapeHolder, tapeHolder } from './tape-holder.ts'

const MOST_CHARACTERS = 120

/**
 * Who measures: whoever types, unless somebody else holds the tape. Said once for all that is measured; always on screen,
 * so that nobody's name goes beside a reading unseen.
 */
export class SpokeTapeHolder extends LitElement {
  static override styles = [
    base,
    css`
      .line { display: flex; flex-wrap: wrap; align-items: center; gap: 0 var(--space-3); color: var(--ink-quiet); font-size: var(--text-small); }
      .line p { flex: 0 1 auto; }
      .line button { padding-inline: 0; }
      .choose { border: 1px solid var(--line); border-radius: var(--radius); padding: var(--space-3); display: grid; gap: var(--space-2); margin: 0; }
      legend { padding-inline: var(--space-1); }
      .names { display: flex; flex-wrap: wrap; gap: var(--space-2); }
      .other { display: flex; flex-wrap: wrap; gap: var(--space-2); align-items: end; }
      .other div { flex: 1 1 9rem; min-inline-size: 0; }
    `,
  ]
  static override properties = { isOpen: { state: true } }
  declare isOpen: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.isOpen = false
    new SpeechController(this)
  }

  async #open(): Promise<void> {
    this.isOpen = true
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('.names button')?.focus()
  }

  async #keep(name: string | undefined): Promise<void> {
    const casebook = this.#app.value?.casebook
    if (!casebook) return
    keepTapeHolder(casebook, name)
    this.isOpen = false
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('.line button')?.focus()
  }

  /** Typed without a name: whoever types. */
  readonly #handleOther = (event: Event): void => {
    event.preventDefault()
    const typed = this.renderRoot.querySelector<HTMLInputElement>('#other')?.value.trim() ?? ''
    void this.#keep(typed === '' ? undefined : typed)
  }

  override render(): TemplateResult {
    const casebook = this.#app.value?.casebook
    if (!casebook) return html`${nothing}`
    const typist = sayWho(casebook, casebook.device)
    const holder = tapeHolder(casebook)
    if (!this.isOpen)
      return html`<div class="line">
        <p>${holder === undefined ? t('measuring.measuredBy', { who: typist }) : t('measuring.heldBy', { who: holder, typist })}</p>
        <button type="button" class="quiet" @click=${() => this.#open()}>
          ${t(holder === undefined ? 'measuring.somebodyElse' : 'form.change')}
        </button>
      </div>`
    const { members } = casebook.crew()
    const own = members.get(casebook.device)?.name
    const others = [...new Set([...members.values()].map(({ name }) => name))].filter(name => name !== own)
    return html`<fieldset class="choose">
      <legend>${t('measuring.whoHolds')}</legend>
      <div class="names">
        <button type="button" aria-pressed=${holder === undefined} @click=${() => this.#keep(undefined)}>${typist}</button>
        ${others.map(
          name =>
            html`<button type="button" aria-pressed=${holder === name} @click=${() => this.#keep(name)}>${name}</button>`,
        )}
      </div>
      <form class="other" @submit=${this.#handleOther}>
        <div>
          <label for="other">${t('measuring.anotherName')}</label>
          <input id="other" dir="auto" autocomplete="off" maxlength=${MOST_CHARACTERS} .value=${holder !== undefined && !others.includes(holder) ? holder : ''} />
        </div>
        <button type="submit">${t('measuring.holds')}</button>
      </form>
    </fieldset>`
  }
}

customElements.define('spoke-tape-holder', SpokeTapeHolder)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-tape-holder': SpokeTapeHolder
  }
}
