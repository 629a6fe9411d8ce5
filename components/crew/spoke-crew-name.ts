import { html, nothing, type TemplateResult } from 'lit'
import { announce } from '../app/announce.ts'
import type { AppContext } from '../app/context.ts'
import { draftsOf } from '../controllers/drafts.ts'
import { currentSpeech, t } from '../text/text.ts'
import { CrewPart } from './crew-part.ts'

/** Where the crew's new name is kept until it is saved. */
const CREW_KEY = 'crew'
type CrewTyped = { readonly crewName?: string; readonly place?: string }

/** What the crew calls itself and where it works: the heading of every list. */
export class SpokeCrewName extends CrewPart {
  #typed({ casebook }: AppContext): CrewTyped {
    return (draftsOf(casebook).kept(CREW_KEY) as CrewTyped | undefined) ?? {}
  }

  #type(app: AppContext, part: CrewTyped): void {
    draftsOf(app.casebook).keep(CREW_KEY, { ...this.#typed(app), ...part })
  }

  readonly #handleSave = async (event: Event, app: AppContext): Promise<void> => {
    event.preventDefault()
    const { casebook } = app
    const { title } = casebook.crew()
    const typed = this.#typed(app)
    const crewName = (typed.crewName ?? title?.crewName ?? '').trim()
    const place = (typed.place ?? title?.place ?? '').trim()
    const missing = [...(crewName ? [] : [t('door.crewName')]), ...(place ? [] : [t('door.place')])]
    if (missing.length > 0) return this.lacks('title', t('door.missing', { fields: currentSpeech().list(missing) }))
    if (!(await this.do('title', () => casebook.setTitle({ crewName, place })))) return
    draftsOf(casebook).keep(CREW_KEY, undefined)
    this.requestUpdate()
    announce(t('settings.crewSaved'))
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const { title, differences } = app.casebook.crew()
    const typed = this.#typed(app)
    const twice = differences.find(one => one.type === 'crew-named-twice')
    const error = this.act.errorOf('title')
    if (!this.mayAct(app))
      return html`<p class="quiet" dir="auto">${[title?.crewName, title?.place].filter(Boolean).join(' · ')}</p>`
    return html`<details class="row member" ?open=${twice !== undefined || typed.crewName !== undefined || typed.place !== undefined}>
      <summary>
        <strong><bdi>${title?.crewName ?? t('door.crewName')}</bdi></strong>
        <span class="result"><bdi>${title?.place ?? ''}</bdi></span>
      </summary>
      <form class="inside stack" novalidate @submit=${(event: Event) => void this.#handleSave(event, app)}>
        ${twice ? html`<p class="notice warn">${t('crew.crewNamedTwice', { names: currentSpeech().list(twice.names) })}</p>` : nothing}
        <div class="pair">
          ${this.#renderText('crew-name', 'crewName', typed.crewName ?? title?.crewName ?? '', app)}
          ${this.#renderText('place', 'place', typed.place ?? title?.place ?? '', app)}
        </div>
        ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
        <button type="submit">${t('settings.crewSave')}</button>
      </form>
    </details>`
  }

  #renderText(id: string, part: keyof CrewTyped, value: string, app: AppContext): TemplateResult {
    return html`<div class="question">
      <label for=${id}>${t(`door.${part}`)}</label>
      <input id=${id} dir="auto" maxlength="80" autocomplete="off" .value=${value}
        @input=${(event: InputEvent) => this.#type(app, { [part]: (event.target as HTMLInputElement).value })} />
    </div>`
  }
}

customElements.define('spoke-crew-name', SpokeCrewName)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-crew-name': SpokeCrewName
  }
}
