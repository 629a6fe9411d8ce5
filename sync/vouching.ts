import type { Counted } from '../src/case/entry.ts'
import { type Crew, whyNotCounting } from '../src/crew/crew.ts'
import { type TeamStatement, VOUCH_LIMIT } from '../src/crew/team-fields.ts'
import { compareText, type DeviceId, type EntryId } from '../src/ids.ts'
import type { CaseDocument } from './case-document.ts'
import type { SignedEntry } from './signed-entry.ts'

/** Devices that are struck now: only their entries can lose their count by a strike. */
export const struckDevices = (crew: Crew): ReadonlySet<DeviceId> =>
  new Set([...crew.members.values()].filter(member => member.struckBy !== null).map(member => member.device))

/** Whether a strike took effect that had not before. */
export const hasNewStrike = (before: Crew, after: Crew): boolean =>
  [...struckDevices(after)].some(device => (before.members.get(device)?.struckBy ?? null) === null)

/**
 * Of entries held before a strike was heard of, by device: those that counted then and would not count any more, for
 * nobody in good standing vouches for them. Entries that came with or after the news are not among them.
 */
export const inNeedOfVouching = (
  before: Crew,
  after: Crew,
  held: readonly Counted[],
): readonly (readonly [DeviceId, readonly EntryId[]])[] => {
  const idsByDevice = new Map<DeviceId, EntryId[]>()
  for (const { id, entry } of held) {
    if (whyNotCounting(before, id, entry.by) !== undefined) continue
    if (whyNotCounting(after, id, entry.by) !== 'came-after-strike') continue
    const ids = idsByDevice.get(entry.by)
    if (ids) ids.push(id)
    else idsByDevice.set(entry.by, [id])
  }
  return [...idsByDevice].sort(([a], [b]) => compareText(a, b))
}

/** The vouches to be written for entries of one device: in a fixed order, at most 600 ids each. */
export const vouchesFor = (device: DeviceId, ids: readonly EntryId[]): readonly TeamStatement[] => {
  const sorted = [...new Set(ids)].sort(compareText)
  return Array.from({ length: Math.ceil(sorted.length / VOUCH_LIMIT) }, (_, index) => ({
    vouch: { device, ids: sorted.slice(index * VOUCH_LIMIT, (index + 1) * VOUCH_LIMIT) },
  }))
}

/**
 * Writes the vouches that news of a strike asks for into the team document: the news stands in it already and is not
 * stored yet, so that both are stored in one write. `held`: every entry that was here before the news.
 */
export const vouchFor = async (
  team: CaseDocument,
  before: Crew,
  after: Crew,
  held: readonly Counted[],
  sign: (statement: TeamStatement) => Promise<SignedEntry>,
): Promise<readonly Uint8Array[]> => {
  const changes: Uint8Array[] = []
  for (const [device, ids] of inNeedOfVouching(before, after, held))
    for (const statement of vouchesFor(device, ids)) {
      const change = team.put([await sign(statement)])
      if (change) changes.push(change)
    }
  return changes
}
