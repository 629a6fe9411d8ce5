import { html } from 'lit'
import { currentSpeech, t } from '../../text/text.ts'
import type { CaseFacts, CaseSection, SectionResult } from '../case-section.ts'

const resultOf = ({ view }: CaseFacts): SectionResult => {
  const { exit } = view.values
  if (!exit) return { text: t('followUp.exitResultOpen'), left: null }
  return {
    text: t('followUp.exitResult', { why: t(`followUp.exit ${exit.why}`), date: currentSpeech().date(exit.on) }),
    left: null,
  }
}

export const exitSection: CaseSection = {
  key: 'exit',
  title: 'frame.exit',
  result: resultOf,
  load: () => Promise.all([import('./spoke-exit.ts'), import('../../crew/spoke-ask-erasure.ts')]),
  render: ({ view, outcome }) => html`<spoke-exit .view=${view} .outcome=${outcome}></spoke-exit>
    <spoke-ask-erasure .caseId=${view.caseId}></spoke-ask-erasure>`,
}
