import type { ReadFailure, Result } from '../../src/result.ts'
import { success } from '../../src/result.ts'
import { equalBytes } from '../bytes.ts'
import type { DocumentKey, Replica } from '../exchange/replica.ts'
import type { Progress } from '../exchange/session.ts'
import { type Refused, Tally } from '../exchange/tally.ts'
import type { CasebookSecret } from '../trust/casebook-secret.ts'
import { type BundledDocument, type BundleFailure, type OpenBundle, readBundle } from './bundle.ts'

/** What taking in one or more bundles did, counted from what the store committed. */
export interface BundleAccount {
  readonly entriesNew: number
  /** Documents that gained entries. */
  readonly changed: readonly DocumentKey[]
  /** How many documents held nothing new. */
  readonly unchangedCount: number
  /** Documents of which the bundle's copy was altered. Ours stand. */
  readonly altered: readonly DocumentKey[]
  /** What admission did not take: the first hundred, and how many in all. */
  readonly refused: readonly Refused[]
  readonly refusedCount: number
  /** The store took no more; what was taken before is kept, and taking the same bundles again goes on from there. */
  readonly stopped: ReadFailure | null
}

const ENTRIES_AT_ONCE = 500
const PHASES: readonly ((key: DocumentKey) => boolean)[] = [
  key => key === 'team',
  key => key === 'catalogue',
  key => key !== 'team' && key !== 'catalogue',
]

/**
 * Takes in bundles that were opened. The team documents of all of them come first, then the catalogues, then the cases:
 * who counts and what was erased is known before the first case is looked at, whatever the order of the files.
 */
export const takeBundles = async (
  replica: Replica,
  bundles: readonly OpenBundle[],
  onProgress: (progress: Progress) => void = () => undefined,
): Promise<BundleAccount> => {
  const tally = new Tally()
  const touched = new Set<DocumentKey>()
  const of = bundles.reduce((sum, { documents }) => sum + documents.length, 0)
  let done = 0
  for (const isInPhase of PHASES)
    for (const { documents } of bundles)
      for (const document of documents) {
        if (tally.storeFailure || !isInPhase(document.key)) continue
        touched.add(document.key)
        await takeDocument(replica, document, tally)
        done += 1
        onProgress({ done, of })
      }
  return {
    entriesNew: tally.entriesReceived,
    changed: [...tally.changed],
    unchangedCount: touched.size - tally.changed.size,
    altered: [...tally.altered],
    refused: tally.refused,
    refusedCount: tally.refusedCount,
    stopped: tally.storeFailure,
  }
}

const takeDocument = async (replica: Replica, { key, hash, content }: BundledDocument, tally: Tally): Promise<void> => {
  const here = replica.hashes().get(key)
  if (here && equalBytes(here, hash)) return
  if (content.type === 'update') {
    tally.note(key, await replica.admitUpdate(key, content.update))
    return
  }
  for (let at = 0; at < content.entries.length && !tally.storeFailure; at += ENTRIES_AT_ONCE)
    tally.note(key, await replica.admitEntries(key, content.entries.slice(at, at + ENTRIES_AT_ONCE)))
}

/** Opens one bundle file and takes it in. A file that cannot be opened whole changes nothing. */
export const takeBundle = async (
  replica: Replica,
  secrets: readonly CasebookSecret[],
  file: Uint8Array,
  onProgress?: (progress: Progress) => void,
): Promise<Result<BundleAccount, BundleFailure>> => {
  const opened = await readBundle(replica.casebookId, secrets, file)
  return opened.ok ? success(await takeBundles(replica, [opened.value], onProgress)) : opened
}
