import { html, nothing, type TemplateResult } from 'lit'
import { isInGoodStanding } from '../../src/crew/crew.ts'
import type { Erasure } from '../../src/crew/erasures.ts'
import type { CaseId } from '../../src/ids.ts'
import { announce } from '../app/announce.ts'
import type { AppContext } from '../app/context.ts'
import { sayName } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { lettersOf } from './case-letters.ts'
import { CrewPart } from './crew-part.ts'
import type { TeamRecord } from './team-record.ts'

/**
 * Cases that one device asked to erase, named by letters of their random id and by who asked: nobody may look into them
 * any more. Another device agrees, and they are gone; the one that asked cannot do it alone.
 */
export class SpokeErasures extends CrewPart {
  static override properties = { record: { attribute: false }, sureOf: { state: true } }
  declare record: TeamRecord
  /** Which one is about to be agreed to. */
  declare sureOf: CaseId | null

  constructor() {
    super()
    this.record = new Map()
    this.sureOf = null
  }

  async #agree(caseId: CaseId, { casebook }: AppContext): Promise<void> {
    if (!(await this.do(caseId, () => casebook.eraseCase(caseId)))) return
    this.sureOf = null
    announce(t('crew.eraseDone'))
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const erasures = [...app.casebook.erasures()]
    const hidden = erasures.filter(([, { state }]) => state === 'hidden')
    const count = erasures.length - hidden.length
    if (erasures.length === 0) return html`${nothing}`
    return html`<section class="stack">
      <h2>${t('crew.erasing')}</h2>
      ${hidden.map(([caseId, erasure]) => this.#renderHidden(caseId, erasure, app))}
      ${count > 0 ? html`<p class="quiet">${t('crew.erased', { count })}</p>` : nothing}
    </section>`
  }

  #renderHidden(caseId: CaseId, erasure: Erasure, app: AppContext): TemplateResult {
    const { casebook } = app
    const asked = erasure.askedBy.map(device => {
      const who = sayName(casebook, device)
      const said = [...this.record.values()].find(
        ({ by, set }) => by === device && (set.erase as { readonly case?: unknown } | undefined)?.case === caseId,
      )
      return said ? t('crew.askedBy', { who, when: currentSpeech().moment(said.at) }) : who
    })
    const why = erasure.reasons.map(reason => t(`crew.why ${reason}`))
    return html`<div class="row inside stack case">
      <h3>${t('crew.eraseCase', { mark: lettersOf(caseId) })}</h3>
      <p class="quiet">${currentSpeech().series([
        ...asked,
        ...(why.length > 0 ? [t('crew.because', { why: currentSpeech().list(why) })] : []),
      ])}</p>
      ${this.#renderNext(caseId, erasure, app)}
    </div>`
  }

  #renderNext(caseId: CaseId, { askedBy }: Erasure, app: AppContext): TemplateResult | typeof nothing {
    const { casebook } = app
    const crew = casebook.crew()
    if (askedBy.includes(casebook.device)) {
      const others = [...crew.members.keys()].filter(one => !askedBy.includes(one) && isInGoodStanding(crew, one))
      return html`<p>${t(others.length > 0 ? 'crew.eraseWaits' : 'crew.eraseNobody')}</p>`
    }
    if (!this.mayAct(app)) return nothing
    const who = currentSpeech().list(askedBy.map(device => sayName(casebook, device)))
    const error = this.act.errorOf(caseId)
    return html`<p>${t('crew.eraseCompare', { who })}</p>
      ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
      ${
        this.sureOf === caseId
          ? html`<div class="sure actions">
              <button class="danger main" @click=${() => void this.#agree(caseId, app)}>${t('crew.eraseAgreeYes')}</button>
              <button class="quiet" @click=${() => {
                this.sureOf = null
              }}>${t('app.cancel')}</button>
            </div>`
          : html`<button class="danger" @click=${() => {
              this.sureOf = caseId
            }}>${t('crew.eraseAgree')}</button>`
      }`
  }
}

customElements.define('spoke-erasures', SpokeErasures)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-erasures': SpokeErasures
  }
}
