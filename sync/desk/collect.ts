import { access } from 'node:fs/promises'
import { parseArgs } from 'node:util'
import { makeBundle } from '../transport/bundle.ts'
import { currentSecret } from '../trust/casebook-secret.ts'
import { casebookFromBundles, readBundleFiles } from './bundle-files.ts'
import { type Command, InputError } from './command.ts'
import { writeWhole } from './files.ts'
import { KEY_FILE_USAGE, readKeyFile } from './key-file.ts'
import { noRules } from './no-rules.ts'
import { readDate } from './rules-files.ts'

const USAGE = `outspoke collect BUNDLE... --keys KEYFILE --out BUNDLE

Puts together what any number of bundles of one casebook hold, each entry once, and seals it into a new bundle
under the newest secret of the key file. Every signature is checked. When one file does not open, all that do not
are named and nothing is written.

${KEY_FILE_USAGE}
  --out F         the new bundle. A file that is there already is never written over.

Prints JSON: what each file held, how many entries there are in all, which cases they are of, and what was not
taken and why.`

const exists = async (path: string): Promise<boolean> => {
  try {
    await access(path)
    return true
  } catch {
    // No such file, or none that may be seen: writing it tells the rest.
    return false
  }
}

export const collect: Command = {
  summary: 'put bundles of one casebook together into a new one',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { keys: { type: 'string' }, out: { type: 'string' } },
    })
    if (positionals.length === 0) throw new InputError('takes at least one BUNDLE')
    if (values.out === undefined) throw new InputError('needs --out BUNDLE')
    if (await exists(values.out))
      throw new InputError(`${values.out}: is there already and was left as it is. Choose another name.`)
    const keys = await readKeyFile(values.keys)
    const secret = currentSecret(keys.secrets)
    if (!secret) throw new Error('a key file without a secret was let through')
    const files = await readBundleFiles(positionals, keys)
    const { casebook, account } = await casebookFromBundles(keys, files, noRules, readDate(undefined))
    if (account.stopped) throw new InputError(`${account.stopped.message} Nothing was written.`)
    await writeWhole(values.out, await makeBundle(casebook, secret))
    const cases = casebook.summaries()
    const report = {
      out: values.out,
      epoch: secret.epoch,
      bundles: files.map(({ path, bundle }) => ({
        file: path,
        epoch: bundle.epoch,
        cases: bundle.documents.filter(({ key }) => key !== 'team' && key !== 'catalogue').length,
      })),
      cases: cases.length,
      entries: cases.reduce((sum, { entryCount }) => sum + entryCount, 0),
      entriesNew: account.entriesNew,
      altered: account.altered,
      refusedCount: account.refusedCount,
      refused: account.refused,
    }
    process.stdout.write(`${JSON.stringify(report, null, 2)}\n`)
    if (account.refusedCount > 0)
      process.stderr.write(
        `${account.refusedCount} things in the bundles were not taken; why stands under "refused". The bundles were left as they are.\n`,
      )
    return 0
  },
}
