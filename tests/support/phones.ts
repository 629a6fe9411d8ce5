import type { CaseId } from '../../src/ids.ts'
import { Meetings, type MetDevice } from '../../sync/transport/meetings.ts'
import { expectOk, type TestDevice, TODAY } from './casebooks.ts'
import { handTimer, keeperOf, type MemoryChannel, meetAtGate, memoryChannels } from './channels.ts'

export const NOW_MS = Date.parse('2026-11-25T09:00:00Z')

/** A device of the crew with its meetings, in memory. */
export interface Phone {
  readonly device: TestDevice
  readonly meetings: Meetings
  /** Comes when what is told of the others is so. */
  until(isSo: (devices: readonly MetDevice[]) => boolean | Promise<boolean>): Promise<void>
}

export const timer = handTimer()

export const phoneOf = (device: TestDevice): Phone => {
  const { casebook, memory } = device
  const meetings = new Meetings({ casebook, storage: memory.open(), timer, clock: () => NOW_MS, today: () => TODAY })
  return {
    device,
    meetings,
    until: isSo =>
      new Promise((resolve, reject) => {
        const look = async (): Promise<void> => {
          if (!(await isSo(meetings.devices))) return
          stop()
          resolve()
        }
        const stop = meetings.subscribe(() => void look().catch(reject))
        void look().catch(reject)
      }),
  }
}

/** The same device after a restart. */
export const restarted = async ({ device, meetings }: Phone): Promise<Phone> => {
  await meetings.close()
  return phoneOf(await device.restart())
}

export const addCase = async ({ device }: Phone, personName: string): Promise<CaseId> =>
  expectOk(await device.casebook.addCase({ kind: 'save', set: { personName } })).caseId

/** Lays a line between two, through the gate, and lets both meet on it. */
export const join = async (one: Phone, other: Phone): Promise<readonly [MemoryChannel, MemoryChannel]> => {
  const known = () => [one.device.key.device, other.device.key.device]
  const channels = memoryChannels()
  const { casebookId } = one.device.casebook
  const keepers = [
    await keeperOf(casebookId, known, one.device.key),
    await keeperOf(casebookId, known, other.device.key),
  ] as const
  const [a, b] = await meetAtGate(channels, keepers, timer)
  one.meetings.take(expectOk(a))
  other.meetings.take(expectOk(b))
  return channels
}

export const allEqual = (devices: readonly MetDevice[]): boolean => devices.every(({ phase }) => phase === 'equal')
export const isOver = (devices: readonly MetDevice[]): boolean => devices.every(({ phase }) => phase === 'over')
