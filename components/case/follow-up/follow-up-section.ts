import { html } from 'lit'
import { hasOpenHandover } from '../../../src/case/stage.ts'
import { currentSpeech, t } from '../../text/text.ts'
import type { CaseFacts, CaseSection, SectionResult } from '../case-section.ts'

const resultOf = ({ view, outcome }: CaseFacts): SectionResult => {
  const { ended, items } = outcome.dues
  const day = (date: Parameters<ReturnType<typeof currentSpeech>['date']>[0]): string => currentSpeech().date(date)
  if (ended) return { text: t('followUp.resultEnded', { date: day(ended.on) }), left: null }
  const [first] = items
  if (!first) return { text: t(hasOpenHandover(view) ? 'followUp.resultNothing' : 'followUp.resultNotYet'), left: null }
  const values = { what: t(`due.${first.kind}`), date: day(first.date) }
  return first.state === 'overdue'
    ? { text: t('followUp.resultOverdue', values), left: null, calls: 'danger' }
    : {
        text: t('followUp.resultNext', values),
        left: null,
        ...(first.state === 'due' ? { calls: 'warn' as const } : {}),
      }
}

export const followUpSection: CaseSection = {
  key: 'follow-up',
  title: 'frame.followUp',
  result: resultOf,
  load: () => import('./spoke-follow-up.ts'),
  photos: ['skin', 'seated-side', 'chair', 'part'],
  render: ({ view, outcome }) => html`<spoke-follow-up .view=${view} .outcome=${outcome}></spoke-follow-up>`,
}
