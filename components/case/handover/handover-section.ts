import { html } from 'lit'
import { hasOpenHandover } from '../../../src/case/stage.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn, type SectionResult } from '../case-section.ts'
import { latestHandover } from '../latest-handover.ts'

const resultOf = (facts: CaseFacts): SectionResult => {
  const { view, outcome } = facts
  const left = leftIn(facts, 'handover')
  const given = latestHandover(view)
  const day = (date: Parameters<ReturnType<typeof currentSpeech>['date']>[0]): string => currentSpeech().date(date)
  if (given && hasOpenHandover(view)) {
    const date = day(given.handedOverOn)
    return given.temporaryUntil
      ? { text: t('handing.resultTemporary', { date, until: day(given.temporaryUntil) }), left }
      : { text: t('handing.resultDone', { date }), left }
  }
  if (outcome.holds.length > 0) return { text: t('handing.resultHolds', { count: outcome.holds.length }), left }
  return { text: t(outcome.next.length > 1 ? 'handing.resultLeft' : 'handing.resultReady'), left }
}

export const handoverSection: CaseSection = {
  key: 'handover',
  title: 'frame.handover',
  result: resultOf,
  load: () => import('./spoke-handover.ts'),
  render: ({ view, outcome }) => html`<spoke-handover .view=${view} .outcome=${outcome}></spoke-handover>`,
}
