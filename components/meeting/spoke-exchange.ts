import { html, LitElement, nothing, type TemplateResult } from 'lit'
import type { ExchangeAccount } from '../../sync/exchange/exchange.ts'
import type { MetDevice } from '../../sync/transport/meetings.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { StayAwakeController } from '../controllers/stay-awake.ts'
import { base } from '../styles/tokens.ts'
import { sayParted } from '../text/say-meeting.ts'
import { t } from '../text/text.ts'
import { meetingStyles } from './meeting-styles.ts'
import { sayExchanging } from './say-exchanging.ts'

/** How the exchange with one device stands: how far it has come, and what came of it so far. */
export class SpokeExchange extends LitElement {
  static override styles = [base, meetingStyles]
  static override properties = { met: { attribute: false }, name: { attribute: false } }
  declare met: MetDevice | undefined
  /** As the crew knows its holder. */
  declare name: string | undefined

  /** The rounds since this is on screen, each once: the last one alone would say "nothing new" a moment later. */
  readonly #rounds = new Set<ExchangeAccount>()

  constructor() {
    super()
    new SpeechController(this)
    new StayAwakeController(this, () => this.met?.phase === 'exchanging')
  }

  override willUpdate(): void {
    if (this.met?.account) this.#rounds.add(this.met.account)
  }

  override render(): TemplateResult | typeof nothing {
    const { met } = this
    if (!met) return nothing
    return html`<section class="stack">
      <h2><bdi>${this.name ?? t('codes.nobody')}</bdi></h2>
      ${this.#renderPhase(met)} ${this.#renderAccount()}
    </section>`
  }

  #renderPhase({ phase, progress, reason }: MetDevice): TemplateResult {
    switch (phase) {
      case 'exchanging': {
        const words = sayExchanging({ progress })
        return html`<p>${words}</p>
          ${
            progress
              ? html`<progress aria-label=${t('codes.comparing')} max=${progress.of || 1} value=${progress.done}></progress>`
              : html`<progress aria-label=${words}></progress>`
          }
          <p class="quiet">${t('codes.useMeanwhile')}</p>`
      }
      case 'equal':
        return html`<p class="notice"><strong>${t('codes.equal')}</strong> ${t('codes.goesOn')}</p>`
      case 'unequal':
        return html`<p class="notice warn">${t('codes.unequal')}</p>`
      case 'over':
        return html`<p class="notice warn">${reason ? sayParted(reason) : nothing}</p>`
    }
  }

  #renderAccount(): TemplateResult | typeof nothing {
    const rounds = [...this.#rounds]
    if (rounds.length === 0) return nothing
    const sum = (count: (round: ExchangeAccount) => number): number =>
      rounds.reduce((all, round) => all + count(round), 0)
    const [cameIn, wentOver, refused] = [
      sum(round => round.entriesReceived),
      sum(round => round.entriesSent),
      sum(round => round.refusedCount),
    ]
    const cases = new Set(rounds.flatMap(round => round.changed).filter(key => key !== 'team' && key !== 'catalogue'))
    const what = [
      ...(cameIn > 0 ? [sayCameIn(cameIn, cases.size)] : []),
      ...(wentOver > 0 ? [`${t('codes.wentOver', { count: wentOver })}.`] : []),
    ]
    return html`
      ${what.length > 0 ? what.map(words => html`<p>${words}</p>`) : html`<p>${t('codes.nothingNew')}</p>`}
      ${refused > 0 ? html`<p class="notice warn">${t('codes.refused', { count: refused })}</p>` : nothing}
    `
  }
}

const sayCameIn = (count: number, people: number): string => {
  const words = t('codes.cameIn', { count })
  return people > 0 ? t('codes.cameInFor', { words, people: t('codes.ofPeople', { count: people }) }) : `${words}.`
}

customElements.define('spoke-exchange', SpokeExchange)
