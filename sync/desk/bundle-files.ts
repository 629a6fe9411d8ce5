import type { CalendarDate } from '../../src/calendar-date.ts'
import type { Casebook } from '../casebook.ts'
import { joinCasebook } from '../open-casebook.ts'
import type { AnyOutcome, Rules } from '../rules.ts'
import { createMemoryStorage } from '../storage/memory.ts'
import { type OpenBundle, readBundle } from '../transport/bundle.ts'
import { type BundleAccount, takeBundles } from '../transport/take-bundle.ts'
import { createDeviceKey } from '../trust/device-key.ts'
import { InputError } from './command.ts'
import { readBytes } from './files.ts'
import type { Keys } from './key-file.ts'
import { showProgress } from './progress.ts'

export interface BundleFile {
  readonly path: string
  readonly bundle: OpenBundle
}

/** Opens every file before anything is done with one. All that do not open are named at once. */
export const readBundleFiles = async (paths: readonly string[], keys: Keys): Promise<readonly BundleFile[]> => {
  const files: BundleFile[] = []
  const faults: string[] = []
  for (const path of paths) {
    const read = await readBundle(keys.casebookId, keys.secrets, await readBytes(path))
    if (read.ok) files.push({ path, bundle: read.value })
    else faults.push(`${path}: ${read.failure.message} (${read.failure.type})`)
  }
  if (faults.length > 0) throw new InputError(faults.join('\n'))
  return files
}

/**
 * The casebook that some bundles make up, in memory. It looks at them as a device that was never invited: it can check
 * every signature and record nothing.
 */
export const casebookFromBundles = async <Outcome extends AnyOutcome, Brief>(
  keys: Keys,
  files: readonly BundleFile[],
  rules: Rules<Outcome, Brief>,
  today: CalendarDate,
): Promise<{ readonly casebook: Casebook<Outcome, Brief>; readonly account: BundleAccount }> => {
  const { deviceKey } = await createDeviceKey()
  const joined = await joinCasebook({
    storage: createMemoryStorage().open(),
    deviceKey,
    rules,
    clock: () => Date.now(),
    today: () => today,
    casebookId: keys.casebookId,
  })
  if (!joined.ok) throw new Error(`a new store in memory was refused: ${joined.failure.message}`)
  const account = await takeBundles(
    joined.value,
    files.map(({ bundle }) => bundle),
    showProgress('documents read'),
  )
  return { casebook: joined.value, account }
}

/** Says on stderr that some of the bundles does not count. Throws where the store took no more: what is there is not all. */
export const sayNotTaken = ({ stopped, refusedCount, refused }: BundleAccount): void => {
  if (stopped) throw new InputError(`${stopped.message} Nothing was written.`)
  if (refusedCount > 0)
    process.stderr.write(
      `${refusedCount} things in the bundles were not taken and do not count, the first: ${refused[0]?.message}\n`,
    )
}
