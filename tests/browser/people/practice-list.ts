import type { AppContext } from '../../../components/app/context.ts'
import type { PracticeCasebook } from '../../../demo/practice/crew-hand.ts'
import { PRACTICE_DAY, setOutOnPracticeTrip } from '../../../demo/practice-trip.ts'
import { createCasebook } from '../../../sync/open-casebook.ts'
import { outcomeRules } from '../../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { expectOk } from '../../support/casebooks.ts'

const options = async () => ({
  storage: createMemoryStorage().open(),
  deviceKey: (await createDeviceKey()).deviceKey,
  rules: outcomeRules(),
  clock: () => Date.parse(`${PRACTICE_DAY}T10:00:00Z`),
  today: () => PRACTICE_DAY,
})

const around = (casebook: PracticeCasebook): AppContext => ({ casebook, practice: true, today: () => PRACTICE_DAY })

/** The whole practice trip in memory. */
export const practiceList = async (): Promise<AppContext> => {
  const casebook = await setOutOnPracticeTrip(await options())
  await casebook.settled()
  return around(casebook)
}

/** A casebook in which nobody is written down yet. */
export const emptyList = async (): Promise<AppContext> => {
  const title = { crewName: 'Kesse crew', place: 'Upper Kesse valley' }
  return around(expectOk(await createCasebook({ ...(await options()), founderName: 'Wenna Dalmor', title })))
}
