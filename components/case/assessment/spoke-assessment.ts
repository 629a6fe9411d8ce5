import { html, LitElement, type TemplateResult } from 'lit'
import type { CaseView } from '../../../src/case/case-view.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
import '../spoke-questions.ts'
import { ASSESSMENT_GROUPS } from './assessment-groups.ts'

/** Assessment: posture, skin, what must be seen first, home and ground, goals. */
export class SpokeAssessment extends LitElement {
  static override properties = { view: { attribute: false }, outcome: { attribute: false } }
  declare view: CaseView | undefined
  declare outcome: Outcome | undefined

  override render(): TemplateResult {
    return html`<spoke-questions
      .section=${'assessment'}
      .groups=${ASSESSMENT_GROUPS}
      .view=${this.view}
      .outcome=${this.outcome}
    ></spoke-questions>`
  }
}

customElements.define('spoke-assessment', SpokeAssessment)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-assessment': SpokeAssessment
  }
}
