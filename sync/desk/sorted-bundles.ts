import type { CasebookId } from '../../src/ids.ts'
import { readBundle } from '../transport/bundle.ts'
import { InputError } from './command.ts'
import { readBytes } from './files.ts'
import { type Keys, readKeyFile } from './key-file.ts'

/** Bundle files of one casebook, and what opens them. */
export interface CasebookFiles {
  readonly keys: Keys
  readonly paths: readonly string[]
}

const readKeyFiles = async (paths: readonly string[]): Promise<ReadonlyMap<CasebookId, Keys>> => {
  if (paths.length === 0) throw new InputError('needs --keys KEYFILE: bundles are sealed')
  const byCasebook = new Map<CasebookId, Keys>()
  for (const path of paths) {
    const keys = await readKeyFile(path)
    if (byCasebook.has(keys.casebookId))
      throw new InputError(`${path}: is of a casebook that another key file is of already. Name one of the two.`)
    byCasebook.set(keys.casebookId, keys)
  }
  return byCasebook
}

/** Why no key file opens this one, or the casebook that it is of. What it holds is let go at once. */
const casebookOf = async (
  path: string,
  byCasebook: ReadonlyMap<CasebookId, Keys>,
): Promise<CasebookId | InputError> => {
  const bytes = await readBytes(path)
  let why = ''
  for (const { casebookId, secrets } of byCasebook.values()) {
    const read = await readBundle(casebookId, secrets, bytes)
    if (read.ok) return casebookId
    why = `${path}: ${read.failure.message} (${read.failure.type})`
    if (read.failure.type !== 'other-casebook') break
  }
  return new InputError(why)
}

/**
 * Bundle files by the casebook they are of, in the order of the casebooks' ids. Every file is opened once before anything
 * is worked out, one after the other; all that do not open are named at once.
 */
export const sortBundles = async (
  paths: readonly string[],
  keyFiles: readonly string[],
): Promise<readonly CasebookFiles[]> => {
  if (paths.length === 0) throw new InputError('takes at least one BUNDLE')
  const byCasebook = await readKeyFiles(keyFiles)
  const sorted = new Map<CasebookId, string[]>()
  const faults: string[] = []
  for (const path of paths) {
    const casebook = await casebookOf(path, byCasebook)
    if (casebook instanceof InputError) faults.push(casebook.message)
    else sorted.set(casebook, [...(sorted.get(casebook) ?? []), path])
  }
  if (faults.length > 0) throw new InputError(`${faults.join('\n')}\nNothing was written.`)
  return [...byCasebook.values()]
    .toSorted((a, b) => (a.casebookId < b.casebookId ? -1 : 1))
    .flatMap(keys => {
      const ofIt = sorted.get(keys.casebookId)
      return ofIt ? [{ keys, paths: ofIt }] : []
    })
}
