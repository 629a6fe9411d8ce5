import { html, type TemplateResult } from 'lit'
import { currentSpeech, t } from '../../text/text.ts'
import { answersControl, dateControl, textControl } from '../answers.ts'
import type { PartFacts } from '../case-part.ts'
import { type Decision, DecisionPart, type DecisionWords, type Faults, type Said } from '../decision-part.ts'

type Name = 'cannotIssue'
const WAYS = ['wait', 'refer', 'temporary-chair'] as const

export const sayCannotIssue = ({ what, until, why }: Decision<Name>): string =>
  [t(`choosing.${what}`), until ? currentSpeech().date(until) : undefined, why].filter(part => part).join(' · ')

/** A chair cannot be issued today: wait, refer, or lend one until a day; and the decision that it can be issued after all. */
export class SpokeCannotIssue extends DecisionPart<Name> {
  protected override get decision(): DecisionWords<Name> {
    return {
      field: 'cannotIssue',
      form: 'choosing today',
      save: t('choosing.note'),
      undoing: 'lift',
      undo: t('choosing.lift'),
      undoWhy: t('choosing.liftWhy'),
      undoNeeded: t('choosing.liftNeeded'),
    }
  }

  protected override faults({ what, until, why }: Said<Name>, { outcome }: PartFacts): Faults<Name> {
    return {
      ...(what ? {} : { what: t('choosing.whatNeeded') }),
      ...(why?.trim() ? {} : { why: t('choosing.whyTodayNeeded') }),
      ...(until && until < outcome.today ? { until: t('choosing.untilPast') } : {}),
      ...(!until && what && what !== 'refer' ? { until: t('choosing.untilNeeded') } : {}),
    }
  }

  protected override renderStands(stands: Decision<Name>): TemplateResult {
    return html`<p class="notice warn">${t('choosing.standsSince', { what: sayCannotIssue(stands) })}</p>`
  }

  protected override renderQuestions(said: Said<Name>, faults: Faults<Name>, facts: PartFacts): TemplateResult {
    return html`${answersControl({
      id: 'what',
      label: t('choosing.what'),
      answers: WAYS.map(value => ({ value, words: t(`choosing.${value}`) })),
      chosen: said.what,
      error: faults.what,
      change: what => this.say(facts, { what }),
    })}
    ${dateControl({
      id: 'until',
      label: t('choosing.until'),
      value: said.until ?? '',
      least: facts.outcome.today,
      error: faults.until,
      change: until => this.say(facts, { until: until as Decision<Name>['until'] }),
    })}
    ${textControl({
      id: 'why',
      label: t('choosing.why'),
      value: said.why ?? '',
      most: 400,
      lines: 2,
      error: faults.why,
      change: why => this.say(facts, { why }),
    })}`
  }
}

customElements.define('spoke-cannot-issue', SpokeCannotIssue)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-cannot-issue': SpokeCannotIssue
  }
}
