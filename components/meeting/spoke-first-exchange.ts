import { ContextConsumer } from '@lit/context'
import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { Meetings } from '../../sync/transport/meetings.ts'
import { type AppContext, appContext } from '../app/context.ts'
import { addressOf } from '../app/routes.ts'
import { FollowController } from '../controllers/follow-controller.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { sayExchanging } from './say-exchanging.ts'

/**
 * On a device that was let in: how far the first exchange has come, and that it did not come to its end, for as long as this
 * device never held all that another one does. Says nothing after that.
 */
export class SpokeFirstExchange extends LitElement {
  static override styles = [
    base,
    css`
      p { display: flex; flex-wrap: wrap; align-items: center; justify-content: space-between; gap: 0 var(--space-4); padding-inline: var(--space-4); background: var(--warn-soft); color: var(--warn); font-size: var(--text-small); border-block-end: 1px solid var(--line); }
      p.comes { background: var(--accent-soft); color: var(--ink); }
      span { padding-block: var(--space-2); }
      a { display: inline-flex; align-items: center; min-block-size: var(--target); color: inherit; font-weight: 600; }
    `,
  ]
  static override properties = { known: { state: true } }
  /** Of these it is known when they last met whom. */
  declare known: Meetings | undefined

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  readonly #meetings = new FollowController<Meetings>(this, (meetings, told) => meetings.subscribe(told))
  #asked: Meetings | undefined

  constructor() {
    super()
    new SpeechController(this)
  }

  override willUpdate(): void {
    const meetings = this.#app.value?.meetings
    this.#meetings.follow(meetings)
    if (meetings === this.#asked) return
    this.#asked = meetings
    void meetings?.lastMetRead.then(() => {
      this.known = meetings
    })
  }

  override render(): TemplateResult | typeof nothing {
    const app = this.#app.value
    const { known } = this
    if (!app || !known || app.meetings !== known || !isUnfinished(app, known)) return nothing
    const met = known.devices.find(({ phase }) => phase === 'exchanging')
    if (met) return html`<p class="comes"><span>${sayExchanging(met)}</span></p>`
    const words = app.casebook.crew().members.size === 0 ? t('codes.noCrewYet') : t('codes.firstOpen')
    return html`<p>
      <span>${words}</span><a href=${addressOf({ page: 'two-codes' })}>${t('codes.meetAgain')}</a>
    </p>`
  }
}

/** Whoever founded the casebook lacks nothing; whoever was let in holds everything once it was equal to another device. */
const isUnfinished = ({ casebook }: AppContext, { lastMet }: Meetings): boolean =>
  lastMet.size === 0 && casebook.crew().members.get(casebook.device)?.depth !== 0

customElements.define('spoke-first-exchange', SpokeFirstExchange)
