import { css, html, nothing, type TemplateResult } from 'lit'
import type { EventName } from '../../../src/case/event-date.ts'
import { hasOpenHandover } from '../../../src/case/stage.ts'
import { unsavedCount } from '../../controllers/drafts.ts'
import { cushionForm, problemForm, repairForm, returnForm, tyreForm } from '../../follow-up/chair-forms.ts'
import type { EventFormSpec } from '../../follow-up/event-form-spec.ts'
import { historyOf } from '../../follow-up/history-words.ts'
import '../../follow-up/spoke-dues.ts'
import '../../follow-up/spoke-event-form.ts'
import { notFoundForm, reviewForm, skinLookForm, statureForm } from '../../follow-up/visit-forms.ts'
import { sayWho } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'

/** What is written down most comes first. Each form knows its own kind of event; here only its name is asked. */
const FORMS = [
  reviewForm,
  notFoundForm,
  skinLookForm,
  problemForm,
  repairForm,
  tyreForm,
  cushionForm,
  statureForm,
  returnForm,
] as unknown as readonly EventFormSpec[]

/** Follow-up and repairs: what falls due and why, what is written down at a visit, what happened. */
export class SpokeFollowUp extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .opener { display: flex; align-items: center; justify-content: space-between; gap: var(--space-3); }
      .opener::after { content: '+' / ''; color: var(--accent); font-weight: 700; font-size: var(--text-number); }
      .opener[aria-expanded='true']::after { content: '–' / ''; }
      .opener .what { font-weight: 700; }
    `,
  ]
  static override properties = { ...CasePart.properties, openForm: { state: true }, savedForm: { state: true } }
  declare openForm: EventName | null
  declare savedForm: EventName | null

  constructor() {
    super()
    this.openForm = null
    this.savedForm = null
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const given = hasOpenHandover(facts.view)
    return html`
      ${given || facts.outcome.dues.ended ? nothing : html`<p class="notice">${t('followUp.notYet')}</p>`}
      <section class="block">
        <h3>${t('followUp.dues')}</h3>
        <spoke-dues .view=${facts.view} .outcome=${facts.outcome}></spoke-dues>
      </section>
      <section class="block">
        <h3>${t('followUp.record')}</h3>
        <div class="lines">
          ${FORMS.filter(form => form.isShown?.(facts) ?? true).map(form => this.#renderForm(form, facts))}
        </div>
      </section>
      ${this.#renderHistory(facts)}
    `
  }

  #renderForm(form: EventFormSpec, { app, view, outcome }: PartFacts): TemplateResult {
    const open = this.openForm === form.name
    const typed = unsavedCount(app.casebook, view.caseId, `follow-up ${form.name}`)
    return html`<div class="line">
      <h4>
        <button
          class="opener"
          aria-expanded=${open}
          @click=${() => {
            this.openForm = open ? null : form.name
            this.savedForm = null
          }}
        >
          <span>
            <span class="what">${t(form.title)}</span>
            ${form.hint ? html`<span class="quiet"> · ${t(form.hint)}</span>` : nothing}
            ${typed > 0 && !open ? html`<br /><span class="mark calls">${t('frame.unsaved')}</span>` : nothing}
          </span>
        </button>
      </h4>
      ${this.savedForm === form.name ? html`<p class="saved">${t('followUp.saved')}</p>` : nothing}
      ${
        open
          ? html`<spoke-event-form
              .view=${view}
              .outcome=${outcome}
              .spec=${form}
              @event-recorded=${() => {
                this.openForm = null
                this.savedForm = form.name
              }}
            ></spoke-event-form>`
          : nothing
      }
    </div>`
  }

  #renderHistory({ app, view, context }: PartFacts): TemplateResult {
    const history = historyOf(view, context.catalogue)
    return html`<section class="block">
      <h3>${t('followUp.history')}</h3>
      ${
        history.length === 0
          ? html`<p class="quiet">${t('followUp.historyNone')}</p>`
          : html`<ul class="lines">
              ${history.map(
                ({ on, words, by }) => html`<li class="line">
                  <span dir="auto">${t('followUp.historyLine', { date: currentSpeech().date(on), what: words })}</span>
                  <p class="reason">${sayWho(app.casebook, by)}</p>
                </li>`,
              )}
            </ul>`
      }
    </section>`
  }
}

customElements.define('spoke-follow-up', SpokeFollowUp)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-follow-up': SpokeFollowUp
  }
}
