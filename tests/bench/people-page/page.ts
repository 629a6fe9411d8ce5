import { createCasebook, openDevice, outcomeRules } from '../../../components/app/engine.ts'
import { CrewHand, newCaseId } from '../../../demo/practice/crew-hand.ts'
import practiceCatalogue from '../../../demo/practice-catalogue.json' with { type: 'json' }
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { CASES_DATABASE } from '../../../sync/storage/database-names.ts'
import { expectOk } from '../../support/casebooks.ts'
import { seededRandom } from '../../support/seeded-random.ts'
import { fortyForms } from '../realistic-cases.ts'

const SEED = 20261125
const MOST_FORMS = 14

/**
 * Fills the store of the app at this address: so many people, each with the first 1 to 14 forms of a whole provision,
 * worked out to the end.
 */
const seedPeople = async (count: number, passphrase: string, day: string): Promise<number> => {
  const today = toCalendarDate(day)
  const device = expectOk(await expectOk(await openDevice({ indexedDB, name: CASES_DATABASE })).create(passphrase))
  const { storage, deviceKey } = device
  const casebook = expectOk(
    await createCasebook({
      storage,
      deviceKey,
      rules: outcomeRules(),
      clock: () => Date.parse(`${today}T09:00:00Z`),
      today: () => today,
      founderName: 'Wenna Dalmor',
      title: { crewName: 'Kesse crew', place: 'Lower Kesse valley' },
    }),
  )
  for (const model of catalogueSchema.parse(practiceCatalogue).models)
    expectOk(await casebook.setModel(model.key, model))
  expectOk(await casebook.setPolicy(DEFAULT_POLICY))
  const random = seededRandom(SEED)
  const hand = new CrewHand(casebook, deviceKey)
  for (let index = 0; index < count; index += 1) {
    const forms = fortyForms(random).slice(0, 1 + Math.floor(random() * MOST_FORMS))
    await hand.say(
      newCaseId(),
      forms.map(set => ({ on: today, set })),
    )
  }
  await casebook.settled()
  return casebook.summaries().filter(({ brief }) => brief !== null).length
}

declare global {
  interface Window {
    seedPeople: typeof seedPeople
  }
}
window.seedPeople = seedPeople
