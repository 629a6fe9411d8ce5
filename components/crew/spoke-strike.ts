import { html, nothing, type TemplateResult } from 'lit'
import type { DeviceId } from '../../src/ids.ts'
import { announce } from '../app/announce.ts'
import type { AppContext } from '../app/context.ts'
import { sayName } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { CrewPart } from './crew-part.ts'

const CONSEQUENCES = [
  'crew.strikeFrom',
  'crew.strikeBefore',
  'crew.strikeLate',
  'crew.strikeSecret',
  'crew.strikeStays',
] as const

/** Strikes a device off, after saying all that this does and does not do. */
export class SpokeStrike extends CrewPart {
  static override properties = { device: { attribute: false }, isSure: { state: true } }
  declare device: DeviceId | undefined
  declare isSure: boolean

  constructor() {
    super()
    this.isSure = false
  }

  readonly #handleStrike = async (event: Event, device: DeviceId, { casebook }: AppContext): Promise<void> => {
    event.preventDefault()
    const why = this.words(`strike ${device}`).trim()
    const secondName = this.words(`strike-second ${device}`).trim()
    if (why === '') return this.lacks('strike', t('crew.strikeWhyMissing'))
    const name = sayName(casebook, device)
    const said = { why, ...(secondName === '' ? {} : { secondName }) }
    if (!(await this.do('strike', () => casebook.strike(device, said)))) return
    this.isSure = false
    this.keep(`strike ${device}`, '')
    this.keep(`strike-second ${device}`, '')
    announce(t('crew.struck', { name }))
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const { device } = this
    if (!device) return html`${nothing}`
    if (!this.isSure && this.words(`strike ${device}`) === '')
      return html`<button class="danger" @click=${() => {
        this.isSure = true
      }}>${t('crew.strike')}</button>`
    const error = this.act.errorOf('strike')
    return html`<form class="sure stack" novalidate @submit=${(event: Event) => void this.#handleStrike(event, device, app)}>
      <h3>${t('crew.strikeTitle', { name: sayName(app.casebook, device) })}</h3>
      <ul>${CONSEQUENCES.map(key => html`<li>${t(key)}</li>`)}</ul>
      <p><strong>${t('crew.strikeForEver')}</strong></p>
      <div class="question">
        <label for="why">${t('crew.strikeWhy')}</label>
        <textarea id="why" rows="2" maxlength="500" dir="auto" aria-invalid=${error ? 'true' : 'false'} aria-describedby="why-error"
          .value=${this.words(`strike ${device}`)}
          @input=${(event: InputEvent) => this.keep(`strike ${device}`, (event.target as HTMLTextAreaElement).value)}></textarea>
        ${error ? html`<p class="error" id="why-error" role="alert">${error}</p>` : nothing}
      </div>
      <div class="question">
        <label for="second">${t('crew.strikeSecond')}</label>
        <input id="second" dir="auto" maxlength="80" autocomplete="off" .value=${this.words(`strike-second ${device}`)}
          @input=${(event: InputEvent) => this.keep(`strike-second ${device}`, (event.target as HTMLInputElement).value)} />
      </div>
      <div class="actions">
        <button type="submit" class="danger main">${t('crew.strikeYes')}</button>
        <button type="button" class="quiet" @click=${() => {
          this.isSure = false
          this.keep(`strike ${device}`, '')
        }}>${t('app.cancel')}</button>
      </div>
    </form>`
  }
}

customElements.define('spoke-strike', SpokeStrike)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-strike': SpokeStrike
  }
}
