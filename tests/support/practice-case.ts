import type { PracticePerson } from '../../demo/people/practice-person.ts'
import { CrewHand, newCaseId, type PracticeCasebook } from '../../demo/practice/crew-hand.ts'
import practiceCatalogue from '../../demo/practice-catalogue.json' with { type: 'json' }
import { PRACTICE_PEOPLE } from '../../demo/practice-people.ts'
import { type CalendarDate, toCalendarDate } from '../../src/calendar-date.ts'
import { catalogueSchema } from '../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import type { CaseId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { createCasebook } from '../../sync/open-casebook.ts'
import { type OutcomeBrief, outcomeRules } from '../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'

export const CASE_DAY: CalendarDate = toCalendarDate('2026-05-15')
const AT = Date.parse('2026-05-15T09:30:00Z')

/** One practice person in a casebook of its own, on a device of Wenna's; Sira and Joss write on phones of their own. */
export interface PracticeCase {
  readonly casebook: PracticeCasebook
  readonly app: { readonly casebook: PracticeCasebook; readonly practice: boolean; today(): CalendarDate }
  readonly caseId: CaseId
  readonly therapist: CrewHand
  readonly technician: CrewHand
}

const handOf = async (
  casebook: PracticeCasebook,
  name: string,
  role: 'therapist' | 'technician',
): Promise<CrewHand> => {
  const { deviceKey } = await createDeviceKey()
  const added = await casebook.addMember({ device: deviceKey.device, key: deviceKey.publicKey, name, role })
  if (!added.ok) throw new Error(added.failure.message)
  return new CrewHand(casebook, deviceKey)
}

/** What is known of a practice person, by the key it has in the practice trip. */
export const factsOf = (key: string): PracticePerson['facts'] => {
  const person = PRACTICE_PEOPLE.find(one => one.key === key)
  if (!person) throw new Error(`no practice person "${key}"`)
  return person.facts
}

/** `key`: a person of the practice trip, written down by the therapist with all that is known of them. */
export const practiceCase = async (key: string): Promise<PracticeCase> => {
  const { deviceKey } = await createDeviceKey()
  const created = await createCasebook<Outcome, OutcomeBrief>({
    storage: createMemoryStorage().open(),
    deviceKey,
    rules: outcomeRules(),
    clock: () => AT,
    today: () => CASE_DAY,
    founderName: 'Wenna Dalmor',
    title: { crewName: 'Kesse crew', place: 'Lower Kesse valley' },
  })
  if (!created.ok) throw new Error(created.failure.message)
  const casebook = created.value
  for (const model of catalogueSchema.parse(practiceCatalogue).models) await casebook.setModel(model.key, model)
  await casebook.setPolicy(DEFAULT_POLICY)
  const therapist = await handOf(casebook, 'Sira Vellanke', 'therapist')
  const technician = await handOf(casebook, 'Joss Karrovin', 'technician')
  const caseId = newCaseId()
  await therapist.say(caseId, [{ on: toCalendarDate('2026-05-12'), set: factsOf(key) }])
  return { casebook, app: { casebook, practice: true, today: () => CASE_DAY }, caseId, therapist, technician }
}
