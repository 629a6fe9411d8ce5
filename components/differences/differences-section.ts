import { html } from 'lit'
import type { CaseFacts, CaseSection } from '../case/case-section.ts'
import { sayOptions } from '../case/say-hold.ts'
import { fieldLabel } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { fieldsBeingSettled } from './settling.ts'

const sentenceOf = ({ outcome }: CaseFacts): string => {
  const matter = outcome.differences.filter(one => one.effect !== 'none')
  const [first] = matter
  const fields = (matter.length > 0 ? matter : outcome.differences).map(one => fieldLabel(one.field))
  if (first && matter.length === 1)
    return t('difference.resultOne', { field: fieldLabel(first.field), options: sayOptions(first) })
  const list = currentSpeech().list(fields)
  return matter.length > 1
    ? t('difference.resultMany', { count: matter.length, fields: list })
    : t('difference.resultNone', { fields: list })
}

/** Shown only where answers differ, or where somebody is in the middle of settling one that another device has ended. */
export const differencesSection: CaseSection = {
  key: 'differences',
  title: 'frame.differences',
  isShown: ({ view, outcome, casebook }) =>
    outcome.differences.length > 0 || (casebook !== undefined && fieldsBeingSettled(casebook, view.caseId).length > 0),
  result: facts => ({
    text: sentenceOf(facts),
    left: null,
    ...(facts.outcome.differences.some(one => one.effect !== 'none') ? { calls: 'warn' as const } : {}),
  }),
  load: () => import('./spoke-differences.ts'),
  render: ({ view, outcome }) => html`<spoke-differences .view=${view} .outcome=${outcome}></spoke-differences>`,
}
