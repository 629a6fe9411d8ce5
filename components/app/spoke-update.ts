import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { type Unsaved, unsavedPlaces } from '../controllers/drafts.ts'
import { isFormHalfFilled } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { writingDone } from '../controllers/writing.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import type { AppCasebook, Route } from './context.ts'
import { addressOf } from './routes.ts'
import type { UpdateController } from './update.ts'

type Refusal = 'form' | 'elsewhere' | readonly Unsaved[]

/** Offers a new version: never by itself, and never under a half-filled form. */
export class SpokeUpdate extends LitElement {
  static override styles = [
    base,
    css`
      .refusal { flex-basis: 100%; padding-block-end: var(--space-2); }
      .refusal a { display: inline-flex; align-items: center; min-block-size: var(--target); padding-inline-end: var(--space-3); }
    `,
  ]
  static override properties = {
    updater: { attribute: false },
    casebook: { attribute: false },
    refusal: { state: true },
  }
  declare updater: Pick<UpdateController, 'takeUpdate'> | undefined
  declare casebook: AppCasebook | undefined
  declare refusal: Refusal | undefined

  constructor() {
    super()
    new SpeechController(this)
  }

  async #take(): Promise<void> {
    await writingDone()
    const unsaved = this.casebook ? unsavedPlaces(this.casebook) : []
    if (unsaved.length > 0) this.refusal = unsaved
    else if (isFormHalfFilled()) this.refusal = 'form'
    else {
      const taken = await this.updater?.takeUpdate()
      this.refusal = taken && !taken.ok ? 'elsewhere' : undefined
    }
  }

  override render(): TemplateResult {
    return html`
      <span>${t('app.updateReady')}</span>
      <button class="quiet" @click=${() => void this.#take()}>${t('app.updateTake')}</button>
      ${this.refusal === undefined ? nothing : html`<div class="refusal" role="alert">${this.#renderRefusal(this.refusal)}</div>`}
    `
  }

  #renderRefusal(refusal: Refusal): TemplateResult {
    if (refusal === 'form') return html`<p>${t('app.updateForm')}</p>`
    if (refusal === 'elsewhere') return html`<p>${t('app.updateElsewhere')}</p>`
    return html`<p>${t('app.updateWaits')}</p>
      ${refusal.map(place => html`<a href=${addressOf(routeTo(place))}>${this.#nameOf(place)}</a>`)}`
  }

  #nameOf(place: Unsaved): string {
    if (place === 'referral') return t('referral.title')
    if (place === 'crew') return t('settings.crew')
    const person = this.casebook?.summaries().find(({ caseId }) => caseId === place)
    return person?.name ?? t('people.unnamed')
  }
}

const routeTo = (place: Unsaved): Route => {
  if (place === 'referral') return { page: 'new-referral' }
  return place === 'crew' ? { page: 'settings' } : { page: 'case', caseId: place, section: null }
}

customElements.define('spoke-update', SpokeUpdate)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-update': SpokeUpdate
  }
}
