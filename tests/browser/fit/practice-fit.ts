import type { TrialFacts } from '../../../components/fit/trial.ts'
import practiceCatalogue from '../../../demo/practice-catalogue.json'
import { PRACTICE_PEOPLE } from '../../../demo/practice-people.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { readEntry } from '../../../src/case/entry.ts'
import { personOf } from '../../../src/case/person-of.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { recommend } from '../../../src/fitting/recommend.ts'
import { caseIdSchema, entryIdSchema } from '../../../src/ids.ts'

export const practice = catalogueSchema.parse(practiceCatalogue)
export const TODAY = toCalendarDate('2026-05-12')
const CASE = caseIdSchema.parse('AAAAAAAAAAAAAAAAAAAAAA')

/** A practice person as their case says, through the same reading as in the app. */
export const practicePerson = (key: string) => {
  const found = PRACTICE_PEOPLE.find(one => one.key === key)
  if (!found) throw new Error(`no practice person ${key}`)
  const text = JSON.stringify({ v: 1, case: CASE, by: CASE, at: 1, kind: 'save', set: found.facts, over: [] })
  const read = readEntry(text)
  if (!read.ok) throw new Error(read.failure.message)
  return personOf(viewOfCase(CASE, [{ id: entryIdSchema.parse(CASE), ...read.value }]), TODAY)
}

/** With the chair recommended first, or the first of a model. Undefined: no chair serves this person. */
export const practiceFacts = (key: string, chair?: string): TrialFacts | undefined => {
  const person = practicePerson(key)
  const { options } = recommend(person, practice, DEFAULT_POLICY, TODAY, { top: 400 })
  const option = options.find(one => chair === undefined || one.chair === chair)
  if (!option) return undefined
  const { setUp } = option
  return {
    person,
    catalogue: practice,
    policy: DEFAULT_POLICY,
    today: TODAY,
    chosen: {
      chair: setUp.chair,
      seatWidthMm: setUp.seatWidthMm,
      seatDepth: setUp.seatDepth,
      cushion: setUp.cushion,
    },
  }
}
