import type { Section } from '../../src/case/fields.ts'
import { checkFieldName } from '../../src/case/fields.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { fieldLabel } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { sayFew, sayFields, sayOptions } from './say-hold.ts'

/** The one next thing to do for a case, and the part of it where it is done. */
export interface NextThing {
  readonly text: string
  readonly section: string
}

/** What the next thing is told from. */
export interface NextFacts {
  readonly outcome: Pick<Outcome, 'differences' | 'holds' | 'checks' | 'stage' | 'next' | 'dues'>
}

const NEXT_IN = {
  referral: 'frame.nextReferral',
  assessment: 'frame.nextAssessment',
  measuring: 'frame.nextMeasuring',
  choosing: 'frame.nextChoosing',
  preparing: 'frame.nextPreparing',
  checks: 'frame.nextChecks',
  fitting: 'frame.nextFitting',
  training: 'frame.nextTraining',
  handover: 'frame.nextHandover',
} as const satisfies { readonly [Name in Section]?: TextKey }

const hasWords = (section: Section): section is keyof typeof NEXT_IN => Object.hasOwn(NEXT_IN, section)

const nextDue = ({ outcome }: NextFacts): NextThing | undefined => {
  const [first] = outcome.dues.items
  if (!first) return undefined
  const values = { what: t(`due.${first.kind}`), date: currentSpeech().date(first.date) }
  return { text: t(first.state === 'overdue' ? 'frame.nextOverdue' : 'frame.nextDue', values), section: 'follow-up' }
}

const BEFORE_BUILDING: readonly string[] = ['referral', 'assessment', 'measuring', 'choosing', 'closed']
const isBeyondChoosing = (stage: NextFacts['outcome']['stage']): boolean => !BEFORE_BUILDING.includes(stage)

/** First what was said twice, then what cannot be right, then what changed, then the next part of the job. */
export const nextThing = (facts: NextFacts): NextThing | undefined => {
  const { outcome } = facts
  const difference = outcome.differences.find(one => one.effect !== 'none')
  if (difference)
    return {
      text: t('frame.nextDifference', { field: fieldLabel(difference.field), options: sayOptions(difference) }),
      section: 'differences',
    }
  const again = outcome.holds.find(hold => hold.key === 'measure-again')
  if (again)
    return {
      text: t('frame.nextMeasureAgain', { fields: sayFields(String(again.reason.inputs.fields).split(' ')) }),
      section: 'measuring',
    }
  const building = isBeyondChoosing(outcome.stage)
    ? outcome.holds.find(hold => hold.key === 'build-not-finished')
    : undefined
  for (const [state, key] of [
    ['failed', 'frame.nextFailed'],
    ['stale', 'frame.nextStale'],
  ] as const) {
    const checks = outcome.checks.filter(one => one.state === state).map(one => checkFieldName(one.check))
    // What has to be built first would make the check old again.
    if (checks.length === 0 || (state === 'stale' && building)) continue
    return { text: t(key, { checks: sayFew(checks) }), section: 'checks' }
  }
  if (outcome.stage === 'closed') return undefined
  if (building)
    return {
      text: t('frame.nextPreparingSteps', { count: String(building.reason.inputs.steps).split(' ').length }),
      section: 'preparing',
    }
  if (outcome.stage === 'follow-up') return nextDue(facts)
  const lack = outcome.next.find(one => one.section === outcome.stage) ?? outcome.next[0]
  if (!lack || !hasWords(lack.section)) return nextDue(facts)
  return { text: t(NEXT_IN[lack.section], { fields: sayFew(lack.needs) }), section: lack.section }
}
