import type { QuestionGroup } from '../question-group.ts'

/** What is written down first. */
export const REFERRAL_GROUPS: readonly QuestionGroup[] = [
  { key: 'who', fields: ['personName', 'otherNames', 'sex', 'dateOfBirth', 'birthYear'] },
  { key: 'agreement', fields: ['toldAndAgreed', 'photoAgreed'] },
  { key: 'where', fields: ['place', 'household', 'telephone', 'spokenLanguage', 'interpreter'] },
  { key: 'how', fields: ['referredOn', 'referredBy', 'presentChair'] },
]
