import { html, LitElement, type TemplateResult } from 'lit'
import type { CaseView } from '../../../src/case/case-view.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
import '../spoke-questions.ts'
import { REFERRAL_GROUPS } from './referral-groups.ts'

/** Referral: who it is, how they are found, what they were told and agreed to. */
export class SpokeReferral extends LitElement {
  static override properties = { view: { attribute: false }, outcome: { attribute: false } }
  declare view: CaseView | undefined
  declare outcome: Outcome | undefined

  override render(): TemplateResult {
    return html`<spoke-questions
      .section=${'referral'}
      .groups=${REFERRAL_GROUPS}
      .view=${this.view}
      .outcome=${this.outcome}
    ></spoke-questions>`
  }
}

customElements.define('spoke-referral', SpokeReferral)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-referral': SpokeReferral
  }
}
