import { html, type TemplateResult } from 'lit'
import { currentSpeech, t } from '../../text/text.ts'
import { answersControl, dateControl } from '../answers.ts'
import type { PartFacts } from '../case-part.ts'
import { type Decision, DecisionPart, type DecisionWords, type Faults, type Said } from '../decision-part.ts'
import { EXIT_REASONS } from './exit-reasons.ts'

/** The end of a case: why and since when; and opening it again with what changed. */
export class SpokeExit extends DecisionPart<'exit'> {
  protected override get decision(): DecisionWords<'exit'> {
    return {
      field: 'exit',
      form: 'exit',
      save: t('followUp.exitSave'),
      undoing: 'reopen',
      undo: t('followUp.exitReopen'),
      undoWhy: t('followUp.exitReopenWhy'),
      undoNeeded: t('followUp.exitReopenNeeded'),
    }
  }

  protected override assumed({ outcome }: PartFacts): Said<'exit'> {
    return { on: outcome.today }
  }

  protected override faults({ on, why }: Said<'exit'>, { outcome }: PartFacts): Faults<'exit'> {
    return {
      ...(on ? {} : { on: t('followUp.dateNeeded') }),
      ...(on && on > outcome.today ? { on: t('followUp.dateLate') } : {}),
      ...(why === undefined ? { why: t('followUp.answerNeeded') } : {}),
    }
  }

  protected override renderStands({ why, on }: Decision<'exit'>): TemplateResult {
    return html`<p class="notice">
      ${t('followUp.exitClosed', { why: t(`followUp.exit ${why}`), date: currentSpeech().date(on) })}
    </p>`
  }

  protected override renderQuestions(said: Said<'exit'>, faults: Faults<'exit'>, facts: PartFacts): TemplateResult {
    return html`<p class="lead">${t('followUp.exitLead')}</p>
      ${answersControl({
        id: 'why',
        label: t('followUp.exitWhy'),
        answers: EXIT_REASONS.map(value => ({ value, words: t(`followUp.exit ${value}`) })),
        chosen: said.why,
        error: faults.why,
        change: why => this.say(facts, { why }),
      })}
      ${dateControl({
        id: 'on',
        label: t('followUp.exitOn'),
        value: said.on ?? '',
        most: facts.outcome.today,
        error: faults.on,
        change: on => this.say(facts, { on: on as Decision<'exit'>['on'] }),
      })}`
  }
}

customElements.define('spoke-exit', SpokeExit)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-exit': SpokeExit
  }
}
