import type { CalendarDate } from '../../src/calendar-date.ts'
import type { CasebookId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'

/** What is typed of somebody new, field by field, as typed. */
export interface ReferralDraft {
  readonly name: string
  readonly otherNames: string
  readonly birth: 'date' | 'about' | 'unknown'
  readonly dateOfBirth: string
  readonly age: string
  readonly sex: 'female' | 'male' | ''
  readonly place: string
  readonly household: string
  readonly telephone: string
  readonly referredBy: string
  readonly referredOn: string
  readonly told: boolean
  readonly agreed: 'yes' | 'no' | 'later'
  readonly by: 'person' | 'guardian' | 'relative'
  readonly byName: string
}

/** Nothing is assumed but the day. */
export const emptyReferral = (today: CalendarDate): ReferralDraft => ({
  name: '',
  otherNames: '',
  birth: 'unknown',
  dateOfBirth: '',
  age: '',
  sex: '',
  place: '',
  household: '',
  telephone: '',
  referredBy: '',
  referredOn: today,
  told: false,
  agreed: 'later',
  by: 'person',
  byName: '',
})

/** By casebook: a form left for the list, or covered by the lock, is found again as it was. Gone with the page. */
const drafts = new Map<CasebookId, ReferralDraft>()

export const referralDraft = (casebook: AppCasebook): ReferralDraft | undefined => drafts.get(casebook.casebookId)
export const keepReferralDraft = (casebook: AppCasebook, draft: ReferralDraft): void => {
  drafts.set(casebook.casebookId, draft)
}
export const dropReferralDraft = (casebook: AppCasebook): void => {
  drafts.delete(casebook.casebookId)
}
export const hasReferralDraft = (casebook: AppCasebook): boolean => drafts.has(casebook.casebookId)
