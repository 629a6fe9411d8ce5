import { type CalendarDate, toCalendarDate } from '../../src/calendar-date.ts'
import type { Role } from '../../src/crew/team-fields.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { Result } from '../../src/result.ts'
import type { Casebook, CasebookOptions } from '../../sync/casebook.ts'
import { createCasebook, joinCasebook } from '../../sync/open-casebook.ts'
import { type OutcomeBrief, outcomeRules } from '../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey, type DeviceKey } from '../../sync/trust/device-key.ts'

export type TripCasebook = Casebook<Outcome, OutcomeBrief>

export interface TripDevice {
  /** As the story calls it: "the therapist's phone". */
  readonly name: string
  readonly casebook: TripCasebook
}

/** Whoever holds a device. */
export interface Holder {
  readonly device: string
  readonly person: string
  readonly role: Role
}

/** The days of the story. Nothing in it asks what day it really is. */
export interface TripCalendar {
  today(): CalendarDate
  /** Milliseconds since 1970: eight in the morning, and a minute later each time. */
  clock(): number
  turnTo(date: string): void
}

export const createCalendar = (first: string): TripCalendar => {
  let today = toCalendarDate(first)
  let minutes = 0
  return {
    today: () => today,
    clock() {
      minutes += 1
      return Date.parse(`${today}T08:00:00Z`) + minutes * 60_000
    },
    turnTo(date) {
      today = toCalendarDate(date)
      minutes = 0
    },
  }
}

/** What must go well in the story. A refusal here is a fault of the story or of the product, told in its own words. */
export const accepted = <Value>(result: Result<Value, { readonly type: string; readonly message: string }>): Value => {
  if (!result.ok) throw new Error(`the practice trip was refused something: ${result.failure.message}`)
  return result.value
}

/** Each device has its own store, key and memory of fits: nothing is shared but what they exchange. */
const optionsFor = (deviceKey: DeviceKey, calendar: TripCalendar): CasebookOptions<Outcome, OutcomeBrief> => ({
  storage: createMemoryStorage().open(),
  deviceKey,
  rules: outcomeRules(),
  clock: calendar.clock,
  today: calendar.today,
})

export const foundOn = async (holder: Holder, calendar: TripCalendar): Promise<TripDevice> => {
  const { deviceKey } = await createDeviceKey()
  const options = { ...optionsFor(deviceKey, calendar), founderName: holder.person }
  return { name: holder.device, casebook: accepted(await createCasebook(options)) }
}

/** Adds a device to the crew and hands it the casebook secret directly, as two people do who stand side by side. */
export const invite = async (inviter: TripDevice, holder: Holder, calendar: TripCalendar): Promise<TripDevice> => {
  const { deviceKey } = await createDeviceKey()
  const { casebook } = inviter
  const { device, publicKey } = deviceKey
  accepted(await casebook.addMember({ device, key: publicKey, name: holder.person, role: holder.role }))
  const joined = accepted(await joinCasebook({ ...optionsFor(deviceKey, calendar), casebookId: casebook.casebookId }))
  await handOverSecrets(inviter, { name: holder.device, casebook: joined })
  return { name: holder.device, casebook: joined }
}

/** Every secret that one device has, to another one of the crew. */
export const handOverSecrets = async (from: TripDevice, to: TripDevice): Promise<void> => {
  for (const secret of from.casebook.secrets()) accepted(await to.casebook.receiveSecret(secret))
}
