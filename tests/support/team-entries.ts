import { type Counted, readEntry } from '../../src/case/entry.ts'
import type { TeamStatement } from '../../src/crew/team-fields.ts'
import { type CaseId, caseIdSchema, type DeviceId, type EntryId, entryIdSchema } from '../../src/ids.ts'
import { hashedId, testDevice } from './case-entries.ts'

const casebook = caseIdSchema.parse(hashedId('a casebook'))
/** 65 bytes of nothing: whether a key belongs to its device is checked in sync, not in the rules of the crew. */
const anyKey = Buffer.alloc(65, 4).toString('base64url')
const random = Buffer.alloc(16, 1).toString('base64url')

let clock = 1_000

/** A team entry that passed admission, read the way every device reads it. */
export const teamSaid = (
  by: string,
  set: TeamStatement | Readonly<Record<string, unknown>>,
  over: readonly EntryId[] = [],
): Counted => {
  const text = JSON.stringify({ v: 1, case: casebook, by: testDevice(by), at: clock++, kind: 'save', set, over })
  const read = readEntry(text)
  if (!read.ok) throw new Error(`not an entry: ${read.failure.message}`)
  return { id: entryIdSchema.parse(hashedId(text)), ...read.value }
}

export const device = (name: string): DeviceId => testDevice(name)
export const aCase = (name: string): CaseId => caseIdSchema.parse(hashedId(`case ${name}`))

export const founded = (by: string): Counted => teamSaid(by, { found: { key: anyKey, name: by, random } })
export const added = (by: string, who: string, role = 'technician', over: readonly EntryId[] = []): Counted =>
  teamSaid(by, { add: { device: device(who), key: anyKey, name: who, role } }, over)
export const struck = (by: string, who: string): Counted => teamSaid(by, { strike: { device: device(who) } })
export const vouched = (by: string, who: string, ...entries: readonly Counted[]): Counted =>
  teamSaid(by, { vouch: { device: device(who), ids: entries.map(({ id }) => id) } })
