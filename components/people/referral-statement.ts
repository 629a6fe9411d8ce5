import { type CalendarDate, calendarDateSchema } from '../../src/calendar-date.ts'
import type { FieldName, FieldValue } from '../../src/case/fields.ts'
import type { TextKey } from '../text/text.ts'
import type { ReferralDraft } from './referral-draft.ts'

export type ReferralSet = { readonly [Name in FieldName]?: FieldValue<Name> }
/** `field`: where the words belong. */
export interface ReferralFault {
  readonly field: keyof ReferralDraft
  readonly words: TextKey
}
export type ReferralRead =
  | { readonly ok: true; readonly set: ReferralSet }
  | { readonly ok: false; readonly faults: readonly ReferralFault[] }

const OLDEST_YEARS = 120

const birthOf = (draft: ReferralDraft, today: CalendarDate): ReferralSet | ReferralFault => {
  if (draft.birth === 'unknown') return {}
  if (draft.birth === 'date') {
    const date = calendarDateSchema.safeParse(draft.dateOfBirth)
    return date.success && date.data <= today
      ? { dateOfBirth: date.data }
      : { field: 'dateOfBirth', words: 'referral.birthWrong' }
  }
  const age = draft.age.trim() === '' ? Number.NaN : Number(draft.age)
  return Number.isInteger(age) && age >= 0 && age <= OLDEST_YEARS
    ? { birthYear: Number(today.slice(0, 4)) - age }
    : { field: 'age', words: 'referral.ageWrong' }
}

const agreementOf = (draft: ReferralDraft, today: CalendarDate): ReferralSet | ReferralFault => {
  if (draft.agreed === 'later') return {}
  if (draft.agreed === 'no') return { field: 'agreed', words: 'referral.refusedAsk' }
  if (!draft.told) return { field: 'told', words: 'referral.toldMissing' }
  const byName = draft.byName.trim()
  if (draft.by !== 'person' && byName === '') return { field: 'byName', words: 'referral.byNameMissing' }
  const named = byName === '' ? {} : { byName }
  return { toldAndAgreed: { told: true, agreed: true, by: draft.by, ...named, on: today } }
}

const isFault = (part: ReferralSet | ReferralFault): part is ReferralFault => 'words' in part

/** What a referral states, or everything that keeps it from being saved, field by field. Empty fields state nothing. */
export const readReferral = (draft: ReferralDraft, today: CalendarDate): ReferralRead => {
  const name = draft.name.trim()
  const parts = [birthOf(draft, today), agreementOf(draft, today)]
  const faults: readonly ReferralFault[] = [
    ...(name === '' ? [{ field: 'name', words: 'referral.nameMissing' } as const] : []),
    ...parts.filter(isFault),
  ]
  if (faults.length > 0) return { ok: false, faults }
  const referredOn = calendarDateSchema.safeParse(draft.referredOn)
  const texts = Object.entries({
    otherNames: draft.otherNames,
    place: draft.place,
    household: draft.household,
    telephone: draft.telephone,
    referredBy: draft.referredBy,
  }).filter(([, text]) => text.trim() !== '')
  return {
    ok: true,
    set: {
      personName: name,
      ...Object.fromEntries(texts.map(([field, text]) => [field, text.trim()])),
      ...(draft.sex === '' ? {} : { sex: draft.sex }),
      ...(referredOn.success ? { referredOn: referredOn.data } : {}),
      ...Object.assign({}, ...parts.filter(part => !isFault(part))),
    },
  }
}
