import { css, html, nothing, type TemplateResult } from 'lit'
import { personOf } from '../../src/case/person-of.ts'
import { homeUpkeepOf } from '../../src/follow-up/upkeep.ts'
import type { Target } from '../../src/outcome/target.ts'
import type { PartFacts } from '../case/case-part.ts'
import { latestHandover } from '../case/latest-handover.ts'
import { modelIn } from '../case/set-up-words.ts'
import { TRAINED } from '../case/training/trained.ts'
import { drawingStyles } from '../fit/drawing-styles.ts'
import { trialOf } from '../fit/trial.ts'
import { atStart, fieldLabel, inside } from '../text/say-value.ts'
import { currentSpeech, type Speech, speaking, type TextKey, t } from '../text/text.ts'
import { markedPicture } from './marked-picture.ts'
import { ownNumbers, sayChairGiven } from './own-numbers.ts'
import { SheetElement } from './sheet-element.ts'

const BEFORE = ['brakes', 'cushion', 'feet', 'tyres', 'load'] as const
const TIP = ['back', 'spotter', 'lean', 'stand'] as const
const SKIN = ['look', 'relief', 'dry'] as const
/** More dates than these are for the crew, not for the wall of a house. */
const MOST_DATES = 4

/**
 * What stays with the person and the family: their own numbers with a picture, care of skin and chair, when to call and
 * whom. In plain words, in the language chosen for the person, whatever the crew's phones speak.
 */
export class SpokePaperHandover extends SheetElement {
  static override styles = [
    ...SheetElement.styles,
    drawingStyles,
    css`
      .set { display: grid; grid-template-columns: minmax(0, 1.15fr) minmax(0, 1fr); gap: 0 1.2em; align-items: center; }
      .picture { inline-size: 100%; max-block-size: 105mm; }
      svg .leader { stroke-width: 1.25; stroke: var(--ink); }
      svg .spot { fill: var(--ink); stroke: none; }
      svg .mark { fill: var(--paper); stroke: var(--ink); stroke-width: 1.75; }
      svg .mark-number { fill: var(--ink); font-weight: 700; font-family: var(--font); }
      .numbers { counter-reset: part; }
      .numbers li { padding-block: 0.35em; display: grid; grid-template-columns: 1.9em 1fr; align-items: baseline; }
      .numbers .count { font-weight: 700; inline-size: 1.5em; block-size: 1.5em; line-height: 1.4em; border: 1.5px solid var(--ink); border-radius: 50%; text-align: center; }
      .points li { padding-inline-start: 1.1em; text-indent: -1.1em; padding-block: 0.2em; }
      .points li::before { content: '•'; display: inline-block; inline-size: 1.1em; text-indent: 0; }
      .figure.number { display: inline-block; max-inline-size: 100%; }
      .blanks p { padding-block: 0.25em; }
      @container sheet (max-inline-size: 34rem) { .set { grid-template-columns: minmax(0, 1fr); } }
      @media print { .sheet { font-size: 11.25pt; } .set { grid-template-columns: minmax(0, 1.15fr) minmax(0, 1fr); } }
    `,
  ]
  static override properties = { ...SheetElement.properties, speech: { attribute: false } }
  /** The person's language; the screen's when absent. */
  declare speech: Speech | undefined

  protected override renderPart(facts: PartFacts): TemplateResult {
    const speech = this.speech ?? currentSpeech()
    return speaking(speech, () => {
      const { target } = facts.outcome
      return html`<article class="sheet" lang=${speech.language} dir=${speech.direction}>
        ${target ? this.#renderSheet(facts, target) : html`<p>${t('paper.noChair')}</p>`}
      </article>`
    })
  }

  #renderSheet(facts: PartFacts, target: Target): TemplateResult {
    const { view, context, outcome } = facts
    const latest = latestHandover(view)
    const name = view.values.personName ?? t('paper.noName')
    return html`
      <header class="top">
        <div>
          <h1>${t('given.title')}</h1>
          <p>${t('given.for', { name })}</p>
        </div>
        <p>
          ${sayChairGiven(view, target, context.catalogue)}<br />
          ${t('given.since', { date: currentSpeech().date(latest?.handedOverOn ?? outcome.today) })}
        </p>
      </header>
      ${
        latest?.temporaryUntil
          ? html`<p class="framed strong">${t('given.temporary', { date: currentSpeech().date(latest.temporaryUntil) })}</p>`
          : nothing
      }
      ${this.#renderNumbers(facts, target)}
      <div class="two">
        ${this.#renderPoints(
          'given.before',
          BEFORE.map(one => t(`given.before ${one}`)),
        )}
        ${this.#renderPoints(
          'given.tip',
          TIP.map(one => t(`given.tip ${one}`)),
        )}
      </div>
      <section class="framed">
        <h2>${t('given.stop')}</h2>
        <p>${t('given.stopWhat')}</p>
      </section>
      <div class="whole">${this.#renderPoints('given.skin', this.#skin(facts))}</div> ${this.#renderCare(facts, target)}
      <div class="two">
        <div>${this.#renderShown(facts)} ${this.#renderContact(facts)}</div>
        ${this.#renderNext(facts)}
      </div>
      <footer class="foot small">
        <p><span class="strong">${t('given.cautions')}.</span> ${t('given.cautionsBody')}</p>
        <p>${t('given.noLonger')}</p>
      </footer>
    `
  }

  #renderNumbers({ view, outcome, context }: PartFacts, target: Target): TemplateResult {
    const numbers = ownNumbers(view, target, context.catalogue)
    const answer = trialOf({
      person: personOf(view, outcome.today),
      catalogue: context.catalogue,
      policy: context.policy,
      today: outcome.today,
      chosen: target.setUp,
      smallGapAccepted: view.values.acceptedGapWhy !== undefined,
      measuredComAheadMm: target.measuredComAheadMm,
    })
    const parts = numbers.map(one => one.part)
    return html`<section class="whole">
      <h2>${t('given.set')}</h2>
      <p>${t('given.setLead')}</p>
      <div class="set">
        ${answer.type === 'ready' ? markedPicture(answer.trial.start.drawing.side, parts) : nothing}
        <ol class="numbers">
          ${numbers.map(
            (one, index) =>
              html`<li><span class="count" aria-hidden="true">${currentSpeech().number(index + 1)}</span><span>${one.words}</span></li>`,
          )}
        </ol>
      </div>
    </section>`
  }

  #renderPoints(title: TextKey, points: readonly string[]): TemplateResult {
    return html`<section>
      <h2>${t(title)}</h2>
      <ul class="points">${points.map(point => html`<li>${point}</li>`)}</ul>
    </section>`
  }

  #skin({ view }: PartFacts): readonly string[] {
    const plan = view.values.pressureReliefPlan
    const [look, relief, dry] = SKIN.map(one => t(`given.skin ${one}`))
    return [look ?? '', relief ?? '', ...(plan ? [t('given.skin plan', { plan })] : []), dry ?? '', t('given.skin red')]
  }

  #renderCare(facts: PartFacts, target: Target): TemplateResult {
    const listed = homeUpkeepOf(modelIn(facts.context.catalogue, target.setUp.chair))
    return html`<section>
      <h2>${t('given.care')}</h2>
      <div class="two">
        ${listed.map(
          ({ every, tasks }) => html`<section>
            <h3>${t(`given.${every}`)}</h3>
            <ul class="points">${tasks.map(task => html`<li>${t(`given.care ${task}` as TextKey)}</li>`)}</ul>
          </section>`,
        )}
      </div>
    </section>`
  }

  #renderShown({ view }: PartFacts): TemplateResult {
    const shown = TRAINED.filter(name => view.values[name]?.demonstrated === true).map(name => inside(fieldLabel(name)))
    const helper = view.values.caregiverName
    return html`<section>
      <h2>${t('given.shown')}</h2>
      <p>${shown.length > 0 ? `${atStart(currentSpeech().list(shown))}.` : t('given.shownNone')}</p>
      ${helper ? html`<p>${t('given.helper', { name: helper })}</p>` : nothing}
    </section>`
  }

  #renderNext({ outcome }: PartFacts): TemplateResult {
    const items = outcome.dues.items.filter(one => one.kind !== 'cannot-issue').slice(0, MOST_DATES)
    return html`<section class="blanks">
      <h2>${t('given.next')}</h2>
      ${
        items.length > 0
          ? items.map(
              ({ kind, date }) =>
                html`<p>${t('given.nextLine', { what: t(`due.${kind}`), date: currentSpeech().date(date) })}</p>`,
            )
          : html`<p>${t('given.nextNone')} <span class="blank"></span></p>`
      }
      <p>${t('given.sooner')}</p>
    </section>`
  }

  #renderContact({ app, view }: PartFacts): TemplateResult {
    const { title, contacts } = app.casebook.crew()
    const repairer = view.values.localRepairer
    return html`<section class="blanks">
      <h2>${t('given.contact')}</h2>
      ${title ? html`<p class="strong">${t('given.crew', { crew: title.crewName, place: title.place })}</p>` : nothing}
      ${
        contacts.length === 0
          ? html`<p>${t('given.telephone')} <span class="blank"></span></p>`
          : contacts.map(
              ({ who, telephone }) =>
                html`<p><span dir="auto">${who}</span>: <span class="figure number" dir="ltr">${telephone}</span></p>`,
            )
      }
      ${
        repairer
          ? html`<p>${t('given.repairer', { who: repairer })}</p>`
          : html`<p>${t('given.repairerBlank')} <span class="blank"></span></p>`
      }
      <p>${t('given.health')} <span class="blank"></span></p>
    </section>`
  }
}

customElements.define('spoke-paper-handover', SpokePaperHandover)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper-handover': SpokePaperHandover
  }
}
