import { catalogueSchema } from '../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { CasebookOptions } from '../../sync/casebook.ts'
import { createCasebook } from '../../sync/open-casebook.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'
import { build, check, choose } from '../practice/chair-work.ts'
import { newCaseId, type PracticeCasebook } from '../practice/crew-hand.ts'
import practiceCatalogue from '../practice-catalogue.json' with { type: 'json' }
import { PRACTICE_PEOPLE } from '../practice-people.ts'
import { crewHand, PRACTICE_DAY, statementsOf } from '../practice-trip.ts'
import { FIRST, PERSON } from './people-here.ts'

/** The casebook of the first phone: one person, whose chair was chosen, built and checked by a third one of the crew. */
export const oneBuiltChair = async (options: CasebookOptions<Outcome, OutcomeBrief>): Promise<PracticeCasebook> => {
  const title = { crewName: 'Kesse crew', place: 'Lower Kesse valley' }
  const founded = await createCasebook({ ...options, founderName: FIRST.name, founderRole: FIRST.role, title })
  if (!founded.ok) throw new Error(founded.failure.message)
  const casebook = founded.value
  for (const model of catalogueSchema.parse(practiceCatalogue).models) await casebook.setModel(model.key, model)
  await casebook.setPolicy(DEFAULT_POLICY)
  const person = PRACTICE_PEOPLE.find(({ key }) => key === PERSON.key)
  if (!person) throw new Error(`no practice person "${PERSON.key}"`)
  const hand = await crewHand(casebook, 'Mirre Tolvane', 'technician')
  const work = { casebook, hand, caseId: newCaseId(), on: PRACTICE_DAY }
  await hand.say(work.caseId, statementsOf(person))
  await choose(work)
  await build(work, 'LK-0021')
  await check(work)
  return casebook
}
