import type { CalendarDate } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import type { FieldName } from '../case/fields.ts'
import type { CaseId } from '../ids.ts'
import { fold, soundOf, wordsOf } from '../name-folding.ts'
import { LEAST_SOUNDS } from './likelihoods.ts'

/** What may tell that two cases are of one person: every value that stands, so that no open difference hides one. */
export interface Registration {
  readonly caseId: CaseId
  readonly names: readonly string[]
  readonly sexes: readonly string[]
  readonly birthDates: readonly CalendarDate[]
  readonly birthYears: readonly number[]
  readonly places: readonly string[]
  readonly households: readonly string[]
  readonly telephones: readonly string[]
}

export const registrationOf = ({ caseId, heads }: CaseView): Registration => {
  const standing = <Value>(...fields: readonly FieldName[]): readonly Value[] =>
    fields.flatMap(field => (heads[field] ?? []).map(head => head.value as Value))
  return {
    caseId,
    names: standing<string>('personName', 'otherNames'),
    sexes: standing<string>('sex'),
    birthDates: standing<CalendarDate>('dateOfBirth'),
    birthYears: standing<number>('birthYear'),
    places: standing<string>('place'),
    households: standing<string>('household'),
    telephones: standing<string>('telephone'),
  }
}

/** Digits of a telephone that are compared: what stands before is a country's or a trunk's, typed or not. */
const LAST_DIGITS = 8
/** The zero of each script's digits that phones type: Latin, Arabic-Indic, Eastern Arabic-Indic, N'Ko, Devanagari, Bengali. */
const ZEROS = [0x30, 0x660, 0x6f0, 0x7c0, 0x966, 0x9e6] as const

/** The last digits of a telephone number as Latin digits. Undefined: too few to tell anybody by. */
export const telephoneKey = (text: string): string | undefined => {
  const digits = [...text.normalize('NFKC')].flatMap(letter => {
    const code = letter.codePointAt(0) ?? 0
    const zero = ZEROS.find(one => code >= one && code < one + 10)
    return zero === undefined ? [] : [code - zero]
  })
  return digits.length < 6 ? undefined : digits.slice(-LAST_DIGITS).join('')
}

/** A place or household as it sounds, so that it is one in every spelling and script that is folded. Undefined: no letters. */
export const soundKey = (text: string): string | undefined => {
  const sounds = wordsOf(text).map(word => {
    const sound = soundOf(word)
    return sound.length < LEAST_SOUNDS ? fold(word) : sound
  })
  return sounds.length === 0 ? undefined : sounds.join(' ')
}
