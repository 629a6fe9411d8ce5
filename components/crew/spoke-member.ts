import { html, nothing, type TemplateResult } from 'lit'
import { markOf } from '../../src/crew/attribution.ts'
import type { Member, Named } from '../../src/crew/crew.ts'
import { ROLES, type Role } from '../../src/crew/team-fields.ts'
import type { DeviceId } from '../../src/ids.ts'
import { announce } from '../app/announce.ts'
import type { AppContext } from '../app/context.ts'
import { sayName } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { CrewPart } from './crew-part.ts'
import './spoke-strike.ts'
import type { TeamRecord } from './team-record.ts'

const sayNamed = ({ name, role }: Named): string => `${name} (${t(`settings.role ${role}`)})`

/** One device of the crew: its name and role, to be put right; and striking it off. */
export class SpokeMember extends CrewPart {
  static override properties = { device: { attribute: false }, record: { attribute: false } }
  declare device: DeviceId | undefined
  /** What was said along with a strike; empty until it is read. */
  declare record: TeamRecord

  constructor() {
    super()
    this.record = new Map()
  }

  readonly #handleSave = async (event: Event, member: Member, { casebook }: AppContext): Promise<void> => {
    event.preventDefault()
    const { device, key, namingIds } = member
    const name = (this.words(`name ${device}`) || member.name).trim()
    const role = (this.words(`role ${device}`) || member.role) as Role
    if (name === '') return this.lacks('name', t('crew.nameMissing'))
    if (!(await this.do('name', () => casebook.addMember({ device, key, name, role }, namingIds)))) return
    this.keep(`name ${device}`, '')
    this.keep(`role ${device}`, '')
    announce(t('crew.nameSaved', { name: sayName(casebook, device), role: t(`settings.role ${role}`) }))
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const { casebook } = app
    const crew = casebook.crew()
    const member = this.device && crew.members.get(this.device)
    if (!member) return html`${nothing}`
    const { device, struckBy } = member
    const twice = crew.differences.filter(one => one.type === 'member-named-twice').find(one => one.device === device)
    const isTyped = this.words(`name ${device}`) + this.words(`role ${device}`) + this.words(`strike ${device}`) !== ''
    return html`<details class="row member ${struckBy === null ? '' : 'struck'}" ?open=${isTyped}>
      <summary>
        <strong>${sayName(casebook, device)}</strong>
        <span class="result">${this.#sayResult(member, app)}</span>
        ${twice ? html`<span class="result warn">${t('crew.namedTwice', { names: currentSpeech().list(twice.named.map(sayNamed)) })}</span>` : nothing}
      </summary>
      <div class="inside stack">
        <p class="quiet">${member.namedBy === null ? t('crew.founder') : t('crew.namedBy', { who: sayName(casebook, member.namedBy) })}</p>
        <p class="quiet">${t('crew.letters', { mark: markOf(crew, device) })}</p>
        ${struckBy === null ? this.#renderActs(member, app) : this.#renderStruck(struckBy)}
      </div>
    </details>`
  }

  #sayResult({ device, role, struckBy }: Member, { casebook }: AppContext): string {
    const here = device === casebook.device ? [t('crew.thisDevice')] : []
    const strike = struckBy === null ? undefined : this.record.get(struckBy)
    const struck = strike
      ? [t('crew.struckRow', { who: sayName(casebook, strike.by), when: currentSpeech().moment(strike.at) })]
      : []
    return currentSpeech().series([t(`settings.role ${role}`), ...here, ...struck])
  }

  #renderStruck(struckBy: Member['struckBy']): TemplateResult {
    const strike = struckBy === null ? undefined : this.record.get(struckBy)
    const second = (strike?.set.strike as { readonly secondName?: string } | undefined)?.secondName
    return html`${strike?.why ? html`<p dir="auto">${t('crew.struckWhy', { why: strike.why })}</p>` : nothing}
      ${second ? html`<p dir="auto">${t('crew.struckSecond', { name: second })}</p>` : nothing}`
  }

  #renderActs(member: Member, app: AppContext): TemplateResult | typeof nothing {
    if (!this.mayAct(app)) return nothing
    const { device } = member
    return html`${this.#renderNaming(member, app)}
      ${
        device === app.casebook.device
          ? html`<p class="hint">${t('crew.notOwnStrike')}</p>`
          : html`<spoke-strike .device=${device}></spoke-strike>`
      }`
  }

  #renderNaming(member: Member, app: AppContext): TemplateResult {
    const { device, name, role } = member
    const error = this.act.errorOf('name')
    const chosen = this.words(`role ${device}`) || role
    const roles = ROLES.filter(one => one !== 'visitor' || role === 'visitor')
    return html`<form class="stack" novalidate @submit=${(event: Event) => void this.#handleSave(event, member, app)}>
      <div class="pair">
        <div class="question">
          <label for="member-name">${t('crew.name')}</label>
          <input id="member-name" dir="auto" maxlength="80" autocomplete="off" aria-invalid=${error ? 'true' : 'false'}
            .value=${this.words(`name ${device}`) || name}
            @input=${(event: InputEvent) => this.keep(`name ${device}`, (event.target as HTMLInputElement).value)} />
        </div>
        <div class="question">
          <label for="member-role">${t('crew.role')}</label>
          <select id="member-role" @change=${(event: Event) => this.keep(`role ${device}`, (event.target as HTMLSelectElement).value)}>
            ${roles.map(one => html`<option value=${one} .selected=${one === chosen}>${t(`settings.role ${one}`)}</option>`)}
          </select>
        </div>
      </div>
      ${role === 'visitor' ? nothing : html`<p class="hint">${t('crew.writerStays')}</p>`}
      ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
      <button type="submit">${t('crew.saveName')}</button>
    </form>`
  }
}

customElements.define('spoke-member', SpokeMember)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-member': SpokeMember
  }
}
