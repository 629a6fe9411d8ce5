import type { CalendarDate } from '../../src/calendar-date.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import type { Role } from '../../src/crew/team-fields.ts'
import type { Result } from '../../src/result.ts'
import type { Casebook, CasebookOptions } from '../../sync/casebook.ts'
import type { AdmitReport, DocumentKey, Replica } from '../../sync/exchange/replica.ts'
import { createCasebook, joinCasebook, openCasebook } from '../../sync/open-casebook.ts'
import type { Rules } from '../../sync/rules.ts'
import { createMemoryStorage, type MemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey, type DeviceKey } from '../../sync/trust/device-key.ts'

/** The value of a result that must be there. */
export const expectOk = <Value>(result: Result<Value, { readonly type: string; readonly message: string }>): Value => {
  if (!result.ok) throw new Error(`${result.failure.type}: ${result.failure.message}`)
  return result.value
}

export interface SmallOutcome {
  readonly hipWidthMm: number | null
  readonly open: readonly string[]
  readonly models: number
  readonly changesOn: CalendarDate | null
}

/** Rules small enough to be told by heart: the hip width, what differs, how many models the catalogue has. */
export const smallRules: Rules<SmallOutcome, { readonly hip: number | null }> = {
  version: 'small 1',
  outcomeOf: (view, context) => ({
    hipWidthMm: view.values.hipWidthMm ?? null,
    open: view.differences.map(difference => difference.field),
    models: context.catalogue.models.length,
    changesOn: null,
  }),
  briefOf: outcome => ({ hip: outcome.hipWidthMm }),
}

export type SmallCasebook = Casebook<SmallOutcome, { readonly hip: number | null }>
type SmallOptions = CasebookOptions<SmallOutcome, { readonly hip: number | null }>

export interface TestDevice {
  readonly name: string
  readonly key: DeviceKey
  readonly memory: MemoryStorage
  readonly casebook: SmallCasebook
  readonly options: SmallOptions
  /** The same device after a restart: only what was stored is left. */
  restart(): Promise<TestDevice>
}

export const TODAY = toCalendarDate('2026-11-25')

const optionsFor = (key: DeviceKey, memory: MemoryStorage, changed: Partial<SmallOptions>): SmallOptions => ({
  storage: memory.open(),
  deviceKey: key,
  rules: smallRules,
  clock: () => 1_790_000_000_000,
  today: () => TODAY,
  ...changed,
})

const deviceWith = (
  name: string,
  key: DeviceKey,
  memory: MemoryStorage,
  changed: Partial<SmallOptions>,
  casebook: SmallCasebook,
): TestDevice => ({
  name,
  key,
  memory,
  casebook,
  options: optionsFor(key, memory, changed),
  restart: async () => {
    const opened = expectOk(await openCasebook(optionsFor(key, memory, changed)))
    return deviceWith(name, key, memory, changed, opened)
  },
})

export const foundCasebook = async (name = 'Founder', changed: Partial<SmallOptions> = {}): Promise<TestDevice> => {
  const memory = createMemoryStorage()
  const { deviceKey } = await createDeviceKey()
  const options = { ...optionsFor(deviceKey, memory, changed), founderName: name }
  return deviceWith(name, deviceKey, memory, changed, expectOk(await createCasebook(options)))
}

/** A new device, added by `inviter`; it holds the team document as it stood then. */
export const invite = async (
  inviter: TestDevice,
  name: string,
  role: Role = 'technician',
  changed: Partial<SmallOptions> = {},
): Promise<TestDevice> => {
  const memory = createMemoryStorage()
  const { deviceKey } = await createDeviceKey()
  expectOk(await inviter.casebook.addMember({ device: deviceKey.device, key: deviceKey.publicKey, name, role }))
  const options = { ...optionsFor(deviceKey, memory, changed), casebookId: inviter.casebook.casebookId }
  const joined = deviceWith(name, deviceKey, memory, changed, expectOk(await joinCasebook(options)))
  await carry(inviter.casebook, joined.casebook)
  return joined
}

const documentsOf = (replica: Replica): readonly DocumentKey[] => [
  'team',
  'catalogue',
  ...[...replica.hashes().keys()].filter(key => key !== 'team' && key !== 'catalogue').sort(),
]

/** Everything of one copy to another, as updates, the team document first: the least that an exchange does. */
export const carry = async (from: Replica, to: Replica): Promise<readonly AdmitReport[]> => {
  const reports: AdmitReport[] = []
  for (const key of documentsOf(from))
    reports.push(await to.admitUpdate(key, await from.updateSince(key, await to.stateVector(key))))
  return reports
}

/** Both ways, each once; what was refused, if anything. */
export const meet = async (a: Replica, b: Replica): Promise<AdmitReport['refused']> =>
  [...(await carry(a, b)), ...(await carry(b, a))].flatMap(report => report.refused)

/** What a copy holds, as text to compare: every document with its sorted entry ids. */
export const heldBy = async (replica: Replica): Promise<Readonly<Record<string, readonly string[]>>> => {
  const held: Record<string, readonly string[]> = {}
  for (const key of documentsOf(replica)) {
    const ids = [...(await replica.entryIds(key))].sort()
    if (ids.length > 0) held[key] = ids
  }
  return held
}
