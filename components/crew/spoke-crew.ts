import { html, nothing, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { Crew } from '../../src/crew/crew.ts'
import type { AppCasebook, AppContext } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { sayError } from '../text/say-failure.ts'
import { sayName } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { CrewPart } from './crew-part.ts'
import { looksOn } from './looks-on.ts'
import './spoke-crew-name.ts'
import './spoke-erasures.ts'
import './spoke-late-entries.ts'
import './spoke-member.ts'
import { type TeamRecord, teamRecordOf } from './team-record.ts'

/** Who is in the crew, by device; what of it needs a hand; letting in, naming, striking off, erasing. */
export class SpokeCrew extends CrewPart {
  static override properties = { record: { state: true }, failed: { state: true } }
  declare record: TeamRecord
  declare failed: string

  constructor() {
    super()
    this.record = new Map()
    this.failed = ''
  }

  protected override async read(casebook: AppCasebook): Promise<void> {
    try {
      this.record = await teamRecordOf(casebook)
      this.failed = ''
    } catch (error) {
      this.failed = t('app.failed', { reason: sayError(error) })
    }
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const { casebook } = app
    const crew = casebook.crew()
    const members = [...crew.members.values()].sort((a, b) => a.name.localeCompare(b.name))
    const here = members.filter(({ device }) => device === casebook.device)
    const others = members.filter(({ device, struckBy }) => device !== casebook.device && struckBy === null)
    const struck = members.filter(({ device, struckBy }) => device !== casebook.device && struckBy !== null)
    return html`<div class="page">
      <h1>${t('crew.title')}</h1>
      <spoke-crew-name></spoke-crew-name>
      ${this.failed ? html`<p class="notice danger" role="alert">${this.failed}</p>` : nothing}
      ${this.#renderOwnStanding(app)} ${this.#renderWithoutEffect(crew, casebook)}
      <spoke-late-entries></spoke-late-entries>
      <spoke-erasures .record=${this.record}></spoke-erasures>
      <h2>${t('crew.devices')}</h2>
      ${this.#renderInvite(app)}
      ${others.length + struck.length === 0 ? html`<p class="quiet">${t('crew.alone')}</p>` : nothing}
      <div>${repeat(
        [...here, ...others, ...struck],
        ({ device }) => device,
        ({ device }) => html`<spoke-member .device=${device} .record=${this.record}></spoke-member>`,
      )}</div>
    </div>`
  }

  #renderOwnStanding({ casebook }: AppContext): TemplateResult | typeof nothing {
    const own = casebook.crew().members.get(casebook.device)
    if (own && own.struckBy !== null) return html`<p class="notice danger">${t('crew.struckHere')}</p>`
    if (!looksOn(casebook)) return nothing
    return html`<p class="notice">${t('crew.lookingOn')} ${t('crew.lookingOnDo')}</p>`
  }

  #renderInvite(app: AppContext): TemplateResult | typeof nothing {
    if (app.practice || !this.mayAct(app)) return nothing
    return html`<a class="row go" href=${addressOf({ page: 'two-codes' })}>
      <strong>${t('crew.invite')}</strong><span class="result">${t('crew.inviteHint')}</span>
    </a>`
  }

  #renderWithoutEffect(crew: Crew, casebook: AppCasebook): TemplateResult {
    return html`${crew.strikesWithoutEffect.map(
      ({ by, device }) =>
        html`<p class="notice warn">${t('crew.withoutEffect', {
          who: sayName(casebook, by),
          name: sayName(casebook, device),
        })}</p>`,
    )}`
  }
}

customElements.define('spoke-crew', SpokeCrew)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-crew': SpokeCrew
  }
}
