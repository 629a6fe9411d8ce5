import { html, LitElement } from 'lit'
export class SpokeMeasuring extends LitElement {
  override render() {
    return html`…`
  }
}
customElements.define('spoke-measuring', SpokeMeasuring)
