import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { SpeechController } from '../../components/controllers/speech-controller.ts'
import { base } from '../../components/styles/tokens.ts'
import { sayError } from '../../components/text/say-failure.ts'
import { currentSpeech, type TextKey, t } from '../../components/text/text.ts'
import { platformTimer } from '../../sync/timer.ts'
import { type DemoPhone, PHONE_CHANGE } from './demo-phone.ts'
import { Line, type LineState, SLOW_BYTES_PER_SECOND } from './line.ts'
import { FIRST, PERSON, SECOND, TWO_MEASURES_MM } from './people-here.ts'
import { twoPhonesStyles } from './two-phones-styles.ts'

const LINE_STATES = ['cut', 'slow', 'joined'] as const satisfies readonly LineState[]

/**
 * Two devices in one page, each in a frame with a memory of its own, and a hand on the line between them: cut it, let both
 * say different things, join it, and see what the merge makes of that.
 */
export class SpokeTwoPhones extends LitElement {
  static override styles = [base, twoPhonesStyles]
  static override properties = { failure: { state: true }, isMade: { state: true } }
  declare failure: string | null
  declare isMade: boolean

  readonly #phones: [DemoPhone | undefined, DemoPhone | undefined] = [undefined, undefined]
  readonly #line = new Line(platformTimer, () => this.requestUpdate())
  /** Entries on each phone when the line was last cut: more of them means that something was said since. */
  #entriesAtCut: readonly [number, number] = [0, 0]
  #connections = 0
  /** Something differed since the line was cut last. */
  #hasDiffered = false

  constructor() {
    super()
    this.failure = null
    this.isMade = false
    new SpeechController(this)
  }

  #both(): readonly [DemoPhone, DemoPhone] | undefined {
    const [first, second] = this.#phones
    return first && second && [first, second]
  }

  readonly #handleReady = (position: 0 | 1, event: Event): void => {
    const phone: DemoPhone = (event as CustomEvent<DemoPhone>).detail
    this.#phones[position] = phone
    phone.addEventListener(PHONE_CHANGE, () => this.#handlePhoneChange())
    const both = this.#both()
    if (both) void this.#make(both)
  }

  /** One founds, the other is invited over the line, which then is cut. */
  async #make([first, second]: readonly [DemoPhone, DemoPhone]): Promise<void> {
    try {
      await first.found()
      const areEqual = new Promise<void>(resolve => {
        const look = (): void => {
          if (second.facts.entries > 0 && first.facts.hash === second.facts.hash) resolve()
        }
        for (const phone of [first, second]) phone.addEventListener(PHONE_CHANGE, look)
      })
      this.#join('joined')
      await areEqual
      this.#cut()
      for (const phone of [first, second]) phone.show('measuring')
      this.isMade = true
    } catch (error) {
      this.failure = sayError(error)
    }
  }

  #handlePhoneChange(): void {
    if (this.#both()?.some(({ facts }) => facts.differences > 0)) this.#hasDiffered = true
    this.requestUpdate()
  }

  #join(state: Exclude<LineState, 'cut'>): void {
    const both = this.#both()
    const ends = this.#line.join(state)
    this.requestUpdate()
    if (!both || !ends) return
    this.#connections += 1
    // In place of the two certificates of a real connection: names that are true of this one alone.
    const names = [
      `first end of connection ${this.#connections}`,
      `second end of connection ${this.#connections}`,
    ] as const
    const meetings = [
      both[0].meet(ends[0], { here: names[0], there: names[1] }),
      both[1].meet(ends[1], { here: names[1], there: names[0] }),
    ]
    Promise.all(meetings).catch((error: unknown) => {
      this.failure = sayError(error)
    })
  }

  #cut(): void {
    this.#line.cut()
    const [first, second] = this.#phones
    this.#entriesAtCut = [first?.facts.entries ?? 0, second?.facts.entries ?? 0]
    this.#hasDiffered = false
    this.requestUpdate()
  }

  #handleLine(state: LineState): void {
    if (state === 'cut') this.#cut()
    else this.#join(state)
  }

  override render(): TemplateResult {
    return html`
      <header class="stack">
        <h1>${t('twoPhones.title')}</h1>
        <p>${t('twoPhones.lead', { person: PERSON.name })}</p>
      </header>
      <main class="table">
        ${this.#renderPhone(0)}
        <div class="line">
          ${this.failure === null ? this.#renderNow() : this.#renderFailure(this.failure)} ${this.#renderLine()}
          ${this.#renderAccount()}
        </div>
        ${this.#renderPhone(1)}
      </main>
    `
  }

  #renderPhone(position: 0 | 1): TemplateResult {
    const { name, role } = position === 0 ? FIRST : SECOND
    const title = t('twoPhones.phone', { name, role: t(`settings.role ${role}`) })
    return html`<figure>
      <figcaption>${title}</figcaption>
      <iframe
        title=${title}
        src="./two-phones/phone.html"
        @phone-ready=${(event: Event) => this.#handleReady(position, event)}
      ></iframe>
    </figure>`
  }

  #renderNow(): TemplateResult {
    return html`<section class="now" aria-live="polite">
      <h2>${t('twoPhones.now')}</h2>
      <p>${this.#now()}</p>
    </section>`
  }

  #renderFailure(reason: string): TemplateResult {
    return html`<div class="notice danger stack" role="alert">
      <p>${t('twoPhones.failed', { reason })}</p>
      <button @click=${() => location.reload()}>${t('twoPhones.again')}</button>
    </div>`
  }

  /** The one next thing, from what the two phones hold. */
  #now(): string {
    const both = this.#both()
    if (!this.isMade || !both) return t('twoPhones.making')
    const [first, second] = both.map(({ facts }) => facts)
    if (!first || !second) return t('twoPhones.making')
    const [firstMm, secondMm] = TWO_MEASURES_MM
    if (this.#line.state === 'cut') {
      const saying = [first, second].filter((facts, at) => facts.entries > (this.#entriesAtCut[at] ?? 0)).length
      if (saying === 0 && first.differences > 0) return this.#sayDifference()
      if (saying === 0)
        return t('twoPhones.nowMeasure', { first: firstMm, second: secondMm, part: t('frame.measuring') })
      return t(saying === 1 ? 'twoPhones.nowOther' : 'twoPhones.nowJoin')
    }
    if (first.hash !== second.hash) return t('twoPhones.nowCrossing')
    if (first.differences > 0) return this.#sayDifference()
    return t(this.#hasDiffered ? 'twoPhones.nowSettled' : 'twoPhones.nowJoined')
  }

  #sayDifference(): string {
    return t('twoPhones.nowSettle', { part: t('frame.differences') })
  }

  #renderLine(): TemplateResult {
    const { state } = this.#line
    const size = currentSpeech().bytes(SLOW_BYTES_PER_SECOND)
    return html`<fieldset ?disabled=${!this.isMade}>
      <legend>${t('twoPhones.line')}</legend>
      <div class="cable ${state}" aria-hidden="true"></div>
      ${LINE_STATES.map(
        one => html`<label>
          <input type="radio" name="line" .checked=${one === state} @change=${() => this.#handleLine(one)} />
          <span><b>${t(`twoPhones.${one}`)}</b> <span class="quiet">${t(`twoPhones.${one}Hint` satisfies TextKey, { size })}</span></span>
        </label>`,
      )}
    </fieldset>`
  }

  #renderAccount(): TemplateResult | typeof nothing {
    const both = this.#both()
    if (!both || !this.isMade) return nothing
    const [first, second] = both.map(({ facts }) => facts)
    if (!first || !second) return nothing
    const { bytes, frames } = this.#line.carried
    const entries = first.entriesReceived + second.entriesReceived
    const held =
      first.hash === second.hash
        ? t('twoPhones.same', { count: first.entries, hash: first.hash })
        : t('twoPhones.apart', { first: first.entries, second: second.entries })
    return html`<div class="stack">
      <p>${held}</p>
      <p class="quiet">${t('twoPhones.carried', { bytes, frames, entries })}</p>
    </div>`
  }
}

customElements.define('spoke-two-phones', SpokeTwoPhones)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-two-phones': SpokeTwoPhones
  }
}
