import type { CalendarDate } from '../../src/calendar-date.ts'
import { type CaseId, compareText } from '../../src/ids.ts'
import { toBase64Url } from '../../sync/bytes.ts'
import { Inventory } from '../../sync/exchange/inventory.ts'
import { sha256 } from '../../sync/trust/digest.ts'
import type { TripDevice } from './devices.ts'

/** What one device says at the end, worked out on that device alone. */
export interface DeviceStatement {
  readonly device: string
  readonly caseCount: number
  /** Team, catalogue and cases: equal exactly when the same entries are held. */
  readonly roots: string
  /** SHA-256 over the outcome of every case as JSON text, a line each, in order of the case ids. In hexadecimal. */
  readonly outcomes: string
}

export interface Proof {
  readonly statements: readonly DeviceStatement[]
  readonly holds: boolean
}

const isSame = (values: readonly string[]): boolean => new Set(values).size === 1

const rootsOf = async ({ casebook }: TripDevice): Promise<string> => {
  const hashes = casebook.hashes()
  const inventory = new Inventory()
  inventory.refresh(hashes)
  const parts = [hashes.get('team'), hashes.get('catalogue'), await inventory.root()]
  return parts.map(part => (part ? toBase64Url(part) : 'none')).join(' ')
}

export const rootsAgree = async (devices: readonly TripDevice[]): Promise<boolean> =>
  isSame(await Promise.all(devices.map(rootsOf)))

const casesOf = ({ casebook }: TripDevice): readonly CaseId[] =>
  casebook
    .summaries()
    .map(({ caseId }) => caseId)
    .toSorted(compareText)

const hexadecimal = (bytes: Uint8Array): string => [...bytes].map(byte => byte.toString(16).padStart(2, '0')).join('')

const statementOf = async (device: TripDevice, today: CalendarDate): Promise<DeviceStatement> => {
  const cases = casesOf(device)
  const lines: string[] = []
  for (const caseId of cases) lines.push(JSON.stringify(await device.casebook.outcome(caseId, today)))
  return {
    device: device.name,
    caseCount: cases.length,
    roots: await rootsOf(device),
    outcomes: hexadecimal(await sha256(new TextEncoder().encode(lines.join('\n')))),
  }
}

/** Whether these devices hold the same entries and come to the same outcome of every case, byte for byte. */
export const prove = async (devices: readonly TripDevice[], today: CalendarDate): Promise<Proof> => {
  const statements: DeviceStatement[] = []
  for (const device of devices) statements.push(await statementOf(device, today))
  return {
    statements,
    holds:
      isSame(statements.map(({ outcomes }) => outcomes)) &&
      isSame(statements.map(({ roots }) => roots)) &&
      isSame(statements.map(({ caseCount }) => String(caseCount))),
  }
}
