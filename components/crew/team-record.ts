import type { Entry } from '../../src/case/entry.ts'
import type { EntryId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'

/** Entries of the team document by id: who struck off whom, when, and what was said with it. */
export type TeamRecord = ReadonlyMap<EntryId, Entry>

export const teamRecordOf = async (casebook: AppCasebook): Promise<TeamRecord> =>
  new Map(
    (await casebook.record('team')).flatMap(({ counted }) =>
      counted.readable ? [[counted.id, counted.entry] as const] : [],
    ),
  )
