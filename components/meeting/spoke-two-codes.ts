import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { Result } from '../../src/result.ts'
import type { SaveFailure } from '../../sync/statement.ts'
import type { Meetings } from '../../sync/transport/meetings.ts'
import type { ClosedBecause } from '../../sync/transport/transport.ts'
import type { Met } from '../../sync/transport/two-codes.ts'
import { announce } from '../app/announce.ts'
import { type AppContext, appContext } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { FollowController } from '../controllers/follow-controller.ts'
import { HalfFilledController } from '../controllers/half-filled.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { whileWriting } from '../controllers/writing.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { sayParted } from '../text/say-meeting.ts'
import { sayName } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import type { Camera } from './camera.ts'
import type { Attempt, MetEvent } from './spoke-code-walk.ts'
import type { Named, NamedEvent } from './spoke-invite.ts'
import './spoke-code-walk.ts'
import './spoke-exchange.ts'
import './spoke-invite.ts'

/** What the page needs of the app around it. */
export interface TwoCodesPort {
  begin(): Promise<Attempt>
  /** Names the newcomer in the crew and hands over the secrets of the casebook. */
  invite(met: Met, named: Named): Promise<Result<undefined, SaveFailure>>
}

const NOBODY: Named = { name: '', role: 'technician' }
const DECLINED: ClosedBecause = { type: 'refused', message: 'The other device did not let this one in.' }

/** Meeting by two codes: one of the crew is exchanged with at once, somebody new is named first. */
export class SpokeTwoCodes extends LitElement {
  static override styles = [
    base,
    formStyles,
    css`
      spoke-exchange { border-block-end: 1px solid var(--line); padding-block-end: var(--space-4); }
      a.go { display: grid; place-items: center; min-block-size: var(--target); background: var(--accent); color: var(--on-accent); border-radius: var(--radius); font-weight: 600; text-decoration: none; }
    `,
  ]
  static override properties = {
    port: { attribute: false },
    camera: { attribute: false },
    newcomer: { state: true },
    named: { state: true },
    isBusy: { state: true },
    error: { state: true },
    left: { state: true },
  }
  declare port: TwoCodesPort | undefined
  declare camera: Camera | undefined
  /** Behind an open gate, and not let in yet. */
  declare newcomer: Met | undefined
  /** Stays until somebody was let in by it. */
  declare named: Named
  declare isBusy: boolean
  declare error: string
  /** Why the newcomer went before being let in, in words. */
  declare left: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #meetings = new FollowController<Meetings>(this, (meetings, told) => meetings.subscribe(told))

  constructor() {
    super()
    this.named = NOBODY
    this.isBusy = false
    this.error = ''
    this.left = ''
    new SpeechController(this)
    new HalfFilledController(this, () => this.named.name !== '')
  }

  override willUpdate(): void {
    this.#meetings.follow(this.#app.value?.meetings)
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback()
    if (!this.isBusy) this.#decline()
  }

  readonly #handleMet = ({ met }: MetEvent): void => {
    this.left = ''
    this.error = ''
    if (met.as === 'member') {
      this.#app.value?.meetings?.take(met)
      return
    }
    this.newcomer = met
    const known = this.#app.value?.casebook.crew().members.get(met.device)
    // Named at an earlier meeting that broke off.
    if (known) {
      announce(t('codes.inviteAgain', { name: known.name }))
      void this.#invite(met, known)
    }
    void met.transport.closed.then(reason => {
      if (this.newcomer !== met || this.isBusy) return
      this.newcomer = undefined
      this.left = t('codes.leftBefore', { reason: sayParted(reason) })
      announce(this.left)
    })
  }

  readonly #handleInvite = (): void => {
    if (this.newcomer) void this.#invite(this.newcomer, this.named)
  }

  async #invite(met: Met, named: Named): Promise<void> {
    const meetings = this.#app.value?.meetings
    if (!meetings || !this.port || this.isBusy) return
    this.isBusy = true
    const { port } = this
    const invited = await whileWriting(() => port.invite(met, named))
    this.isBusy = false
    if (!invited.ok) {
      this.error = sayFailure(invited.failure)
      if (!this.isConnected) this.#decline()
      return
    }
    this.newcomer = undefined
    this.named = NOBODY
    meetings.take(met)
    announce(t('codes.invited', { name: named.name }))
  }

  readonly #handleDecline = (): void => this.#decline()

  #decline(): void {
    const met = this.newcomer
    this.newcomer = undefined
    met?.transport.close(DECLINED)
  }

  override render(): TemplateResult {
    const app = this.#app.value
    if (!app) return html`<p class="page" role="status">${t('app.loading')}</p>`
    return html`<div class="page">
      <h1>${t('codes.title')}</h1>
      ${app.meetings ? this.#renderMeeting(app, app.meetings) : html`<p class="notice">${t('codes.practice')}</p>`}
    </div>`
  }

  #renderMeeting(app: AppContext, meetings: Meetings): TemplateResult {
    if (this.newcomer)
      return html`<spoke-invite .named=${this.named} .isBusy=${this.isBusy} .error=${this.error} @invite=${this.#handleInvite}
        @decline=${this.#handleDecline} @named=${({ named }: NamedEvent) => {
          this.named = named
        }}></spoke-invite>`
    const { devices } = meetings
    return html`<spoke-code-walk .begin=${this.port?.begin} .camera=${this.camera}
      .isSecond=${devices.length > 0} @met=${this.#handleMet}>
      <div class="stack">${this.left ? html`<p class="notice warn">${this.left}</p>` : nothing}
      ${devices.length === 0 ? html`<p>${t('codes.what')}</p>` : this.#renderDevices(app, devices)}</div>
      <p class="quiet" slot="after">${t('codes.newcomer')}</p>
    </spoke-code-walk>`
  }

  #renderDevices({ casebook }: AppContext, devices: Meetings['devices']): TemplateResult {
    const { members } = casebook.crew()
    return html`
      ${devices.map(met => html`<spoke-exchange .met=${met} .name=${members.has(met.device) ? sayName(casebook, met.device) : undefined}></spoke-exchange>`)}
      <p><a class="go" href=${addressOf({ page: 'people' })}>${t('codes.toPeople')}</a></p>
      <h2>${t('codes.another')}</h2>
    `
  }
}

customElements.define('spoke-two-codes', SpokeTwoCodes)
