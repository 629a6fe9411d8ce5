import type { CalendarDate } from '../../src/calendar-date.ts'
import type { AppCasebook } from '../app/context.ts'
import { draftsOf } from '../controllers/drafts.ts'

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

/** The one draft that belongs to no case yet. */
const REFERRAL_KEY = 'referral'

/** What was typed of somebody new, found again after the list, the lock or a reload; else a form with nothing typed. */
export const referralDraft = (casebook: AppCasebook, today: CalendarDate): ReferralDraft => ({
  ...emptyReferral(today),
  ...(draftsOf(casebook).kept(REFERRAL_KEY) as Partial<ReferralDraft> | undefined),
})

/** A form in which everything was taken back is no draft. */
export const keepReferralDraft = (casebook: AppCasebook, draft: ReferralDraft): void => {
  const empty = emptyReferral(draft.referredOn as CalendarDate)
  const isTyped = Object.entries(draft).some(([name, value]) => value !== empty[name as keyof ReferralDraft])
  draftsOf(casebook).keep(REFERRAL_KEY, isTyped ? draft : undefined)
}

export const dropReferralDraft = (casebook: AppCasebook): void => draftsOf(casebook).keep(REFERRAL_KEY, undefined)
