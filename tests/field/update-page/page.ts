import { html, LitElement } from 'lit'
import { appWorker } from '../../../components/app/service-worker.ts'
import { UpdateController } from '../../../components/app/update.ts'

/** Given when the page is built. */
declare const VERSION: string

/** Shows what the controller tells, and a form that must not be lost. */
class UpdatePage extends LitElement {
  static override properties = { refusal: { state: true } }
  declare refusal: string
  readonly #update = new UpdateController(this)

  constructor() {
    super()
    this.refusal = ''
  }

  async #take(): Promise<void> {
    const taken = await this.#update.takeUpdate()
    this.refusal = taken.ok ? '' : taken.failure.type
  }

  override render() {
    return html`
      <h1>Version ${VERSION}</h1>
      <p>Offline copy ${this.#update.offlineCopy}</p>
      <label>Hip width <input></label>
      ${this.#update.updateReady ? html`<button @click=${this.#take}>Take the new version</button>` : null}
      <output>${this.refusal}</output>
    `
  }
}

customElements.define('update-page', UpdatePage)
document.body.append(document.createElement('update-page'))
void appWorker.start()
