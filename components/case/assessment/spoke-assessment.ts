import { html, LitElement } from 'lit'
export class SpokeAssessment extends LitElement {
  override render() {
    return html`…`
  }
}
customElements.define('spoke-assessment', SpokeAssessment)
