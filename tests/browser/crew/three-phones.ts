import type { AppContext } from '../../../components/app/context.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { Role } from '../../../src/crew/team-fields.ts'
import type { DeviceId } from '../../../src/ids.ts'
import { createCasebook, joinCasebook } from '../../../sync/open-casebook.ts'
import { outcomeRules } from '../../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { carry, expectOk } from '../../support/casebooks.ts'
import type { Phone } from '../case/practice-case.ts'

export interface CrewPhone extends Phone {
  readonly device: DeviceId
}

const TODAY = toCalendarDate('2026-05-12')
const START = Date.UTC(2026, 4, 12, 9, 40)

const optionsAt = async (minute: number) => {
  const { deviceKey } = await createDeviceKey()
  return {
    deviceKey,
    storage: createMemoryStorage().open(),
    rules: outcomeRules(),
    clock: () => START + minute * 60_000,
    today: () => TODAY,
  }
}

const phoneOf = (casebook: Phone['casebook']): CrewPhone => ({
  casebook,
  device: casebook.device,
  app: { casebook, practice: false, today: () => TODAY } as AppContext,
})

/** The phone on which the casebook was founded. */
export const foundersPhone = async (founderName = 'Noor'): Promise<CrewPhone> =>
  phoneOf(expectOk(await createCasebook({ ...(await optionsAt(0)), founderName })))

/** A phone let in by another one: it holds the team document as it stands there. */
export const letIn = async (by: Phone, name: string, role: Role = 'technician', minute = 5): Promise<CrewPhone> => {
  const options = await optionsAt(minute)
  const { device, publicKey } = options.deviceKey
  expectOk(await by.casebook.addMember({ device, key: publicKey, name, role }))
  const phone = phoneOf(expectOk(await joinCasebook({ ...options, casebookId: by.casebook.casebookId })))
  await carry(by.casebook, phone.casebook)
  return phone
}

/** Both ways. */
export const meetBoth = async (one: Phone, other: Phone): Promise<void> => {
  await carry(one.casebook, other.casebook)
  await carry(other.casebook, one.casebook)
}
