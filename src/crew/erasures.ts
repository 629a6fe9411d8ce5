import type { Counted } from '../case/entry.ts'
import type { CaseId, DeviceId } from '../ids.ts'
import { type Crew, countingEntries } from './crew.ts'
import type { EraseReason } from './team-fields.ts'
import { statementsIn } from './team-statements.ts'

/** `hidden`: one device asked for it; no longer shown or shared. `erased`: a second device agreed; removed for ever. */
export interface Erasure {
  readonly state: 'hidden' | 'erased'
  readonly askedBy: readonly DeviceId[]
  readonly reasons: readonly EraseReason[]
}

/** B8. Two devices of the crew must say it, so that one stolen phone cannot wipe a casebook. */
export const erasuresOf = (crew: Crew, entries: readonly Counted[]): ReadonlyMap<CaseId, Erasure> => {
  const asked = new Map<CaseId, { readonly devices: Set<DeviceId>; readonly reasons: Set<EraseReason> }>()
  for (const { by, value } of statementsIn(countingEntries(crew, entries), 'erase')) {
    const { devices, reasons } = asked.get(value.case) ?? { devices: new Set(), reasons: new Set() }
    devices.add(by)
    if (value.why) reasons.add(value.why)
    asked.set(value.case, { devices, reasons })
  }
  return new Map(
    [...asked].map(([caseId, { devices, reasons }]): [CaseId, Erasure] => [
      caseId,
      { state: devices.size > 1 ? 'erased' : 'hidden', askedBy: [...devices].sort(), reasons: [...reasons].sort() },
    ]),
  )
}
