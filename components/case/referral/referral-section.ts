import { html } from 'lit'
import { atStart, sayAgreement } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn } from '../case-section.ts'
import { REFERRAL_GROUPS } from './referral-groups.ts'

const sentenceOf = ({ view }: CaseFacts): string => {
  const { referredBy, referredOn, toldAndAgreed } = view.values
  const parts = [
    referredBy === undefined ? undefined : t('frame.referredBy', { who: referredBy }),
    referredOn === undefined ? undefined : t('frame.referredOn', { date: currentSpeech().date(referredOn) }),
    view.values.personName === undefined
      ? undefined
      : toldAndAgreed === undefined
        ? t('frame.notTold')
        : sayAgreement(toldAndAgreed),
  ].filter(part => part !== undefined)
  return parts.length === 0 ? t('frame.notReferred') : atStart(parts.join('; '))
}

export const referralSection: CaseSection = {
  key: 'referral',
  title: 'frame.referral',
  result: facts => ({ text: sentenceOf(facts), left: leftIn(facts, 'referral') }),
  load: () => import('../spoke-questions.ts'),
  render: ({ view, outcome }) =>
    html`<spoke-questions .section=${'referral'} .groups=${REFERRAL_GROUPS} .view=${view} .outcome=${outcome}></spoke-questions>`,
}
