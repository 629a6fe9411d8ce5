import { html, nothing, type TemplateResult } from 'lit'
import { ERASE_REASONS, type EraseReason } from '../../src/crew/team-fields.ts'
import type { CaseId } from '../../src/ids.ts'
import { announce } from '../app/announce.ts'
import type { AppContext } from '../app/context.ts'
import { goTo } from '../app/routes.ts'
import { answersControl } from '../case/answers.ts'
import { fieldStyles } from '../styles/field-styles.ts'
import { t } from '../text/text.ts'
import { lettersOf } from './case-letters.ts'
import { CrewPart } from './crew-part.ts'

/** At the end of a case: asks to erase it, after saying what that does. It takes a second device to do it. */
export class SpokeAskErasure extends CrewPart {
  static override styles = [...CrewPart.styles, fieldStyles]
  static override properties = { caseId: { attribute: false }, isSure: { state: true }, why: { state: true } }
  declare caseId: CaseId | undefined
  declare isSure: boolean
  declare why: EraseReason | undefined

  constructor() {
    super()
    this.isSure = false
  }

  async #ask(caseId: CaseId, { casebook }: AppContext): Promise<void> {
    const { why } = this
    if (!why) return this.lacks('erase', t('crew.eraseWhyMissing'))
    if (!(await this.do('erase', () => casebook.eraseCase(caseId, why)))) return
    goTo({ page: 'crew' })
    announce(t('crew.eraseAsked'))
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const { caseId } = this
    if (!caseId || !this.mayAct(app)) return html`${nothing}`
    return html`<section class="block stack">
      <h3>${t('crew.erase')}</h3>
      <p>${t('crew.eraseLead')}</p>
      ${
        this.isSure
          ? this.#renderSure(caseId, app)
          : html`<button class="danger" @click=${() => {
              this.isSure = true
            }}>${t('crew.eraseBegin')}</button>`
      }
    </section>`
  }

  #renderSure(caseId: CaseId, app: AppContext): TemplateResult {
    return html`<div class="sure stack">
      <ul>
        <li>${t('crew.eraseHides')}</li>
        <li>${t('crew.eraseThen')}</li>
        <li><strong>${t('crew.eraseForEver')}</strong></li>
      </ul>
      <p><strong>${t('crew.eraseLetters', { mark: lettersOf(caseId) })}</strong></p>
      ${answersControl<EraseReason>({
        id: 'why',
        label: t('crew.eraseWhy'),
        answers: ERASE_REASONS.map(value => ({ value, words: t(`crew.why ${value}`) })),
        chosen: this.why,
        error: this.act.errorOf('erase'),
        change: why => {
          this.why = why
        },
      })}
      <div class="actions">
        <button class="danger main" @click=${() => void this.#ask(caseId, app)}>${t('crew.eraseYes')}</button>
        <button class="quiet" @click=${() => {
          this.isSure = false
        }}>${t('app.cancel')}</button>
      </div>
    </div>`
  }
}

customElements.define('spoke-ask-erasure', SpokeAskErasure)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-ask-erasure': SpokeAskErasure
  }
}
