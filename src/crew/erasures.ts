import type { Counted } from '../case/entry.ts'
import type { CaseId, DeviceId } from '../ids.ts'
import { type Crew, countingEntries } from './crew.ts'
import { statementsIn } from './team-statements.ts'

/** `hidden`: one device asked for it; no longer shown or shared. `erased`: a second device agreed; removed for ever. */
export interface Erasure {
  readonly state: 'hidden' | 'erased'
  readonly askedBy: readonly DeviceId[]
}

/** B8. Two devices of the crew must say it, so that one stolen phone cannot wipe a casebook. */
export const erasuresOf = (crew: Crew, entries: readonly Counted[]): ReadonlyMap<CaseId, Erasure> => {
  const askedBy = new Map<CaseId, Set<DeviceId>>()
  for (const { by, value } of statementsIn(countingEntries(crew, entries), 'erase')) {
    const devices = askedBy.get(value.case)
    if (devices) devices.add(by)
    else askedBy.set(value.case, new Set([by]))
  }
  return new Map(
    [...askedBy].map(([caseId, devices]): [CaseId, Erasure] => [
      caseId,
      { state: devices.size > 1 ? 'erased' : 'hidden', askedBy: [...devices].sort() },
    ]),
  )
}
