import { html, LitElement } from 'lit'
export class SpokeReferral extends LitElement {
  override render() {
    return html`…`
  }
}
customElements.define('spoke-referral', SpokeReferral)
