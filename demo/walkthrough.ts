import { access, chmod, mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { type Command, InputError } from '../sync/desk/command.ts'
import { writeWhole } from '../sync/desk/files.ts'
import { sealBundle } from './trip/meetings.ts'
import { createNotebook } from './trip/notebook.ts'
import { type PlayedTrip, playTrip } from './trip/story.ts'

const USAGE = `outspoke walkthrough [--out DIR]

Plays the practice trip to the invented Lower Kesse valley: invented people, three devices (and a fourth that is
lost), apart, partly connected, together. Every figure it tells is read from what the devices worked out. It ends by
proving that three devices come to the same outcome of every case, byte for byte. Takes a few seconds.

  --out DIR   also leaves each device's sealed bundle there and the key file that opens them, to try collect and show
              on. Files that are there already are never written over.

Exit status 0: all went as it must. 1: something in the story did not happen, or the devices differ; it says what.`

/** Roles, never names of persons. */
const BUNDLES = ['coordinator', 'therapist', 'technician'] as const
const bundleFile = (role: string): string => `${role}.trip.outspoke-bundle`
const KEY_FILE = 'trip-keys.json'

const exists = async (path: string): Promise<boolean> => {
  try {
    await access(path)
    return true
  } catch {
    // No such file, or none that may be seen: writing it tells the rest.
    return false
  }
}

/** Before the story begins: what would be written over, or a folder that cannot be made. */
const readyFolder = async (folder: string): Promise<void> => {
  for (const name of [...BUNDLES.map(bundleFile), KEY_FILE])
    if (await exists(join(folder, name)))
      throw new InputError(`${join(folder, name)}: is there already and was left as it is. Choose another folder.`)
  try {
    await mkdir(folder, { recursive: true })
  } catch (error) {
    throw new InputError(`${folder}: cannot be made a folder: ${String(error)}. Nothing was played.`)
  }
}

/** Every secret by epoch, as the desk's key file has it. */
const keyFileOf = ({ trip: { coordinator } }: PlayedTrip): string => {
  const secrets: Record<string, string[]> = {}
  for (const { epoch, secret } of coordinator.casebook.secrets()) secrets[epoch] = [...(secrets[epoch] ?? []), secret]
  return `${JSON.stringify({ casebook: coordinator.casebook.casebookId, secrets }, null, 2)}\n`
}

/** As a shell reads it back. */
const quoted = (path: string): string => `'${path.replaceAll("'", `'\\''`)}'`

const leaveFiles = async (folder: string, played: PlayedTrip): Promise<string> => {
  const paths = BUNDLES.map(role => join(folder, bundleFile(role)))
  for (const [index, role] of BUNDLES.entries())
    await writeWhole(paths[index] ?? role, await sealBundle(played.trip[role]))
  const keys = join(folder, KEY_FILE)
  await writeWhole(keys, keyFileOf(played))
  await chmod(keys, 0o600)
  const all = quoted(join(folder, 'all.trip.outspoke-bundle'))
  const withKeys = `--keys ${quoted(keys)}`
  const on = `--today ${played.trip.calendar.today()}`
  return [
    'Now try:',
    `  npm run -s outspoke -- collect ${paths.map(quoted).join(' ')} ${withKeys} --out ${all}`,
    `  npm run -s outspoke -- show ${all} ${withKeys} ${on}`,
    `  npm run -s outspoke -- show ${all} ${withKeys} ${on} --case=ID`,
  ].join('\n')
}

export const walkthrough: Command = {
  summary: 'play the practice trip: three devices apart and together, proven to agree',
  usage: USAGE,
  async run(args) {
    const { values } = parseArgs({ args: [...args], options: { out: { type: 'string' } } })
    if (values.out !== undefined) await readyFolder(values.out)
    const notebook = createNotebook(text => process.stdout.write(`${text}\n`))
    const played = await playTrip(notebook)
    const turns = notebook.turns()
    const missing = turns.filter(({ happened }) => !happened)
    notebook.lines(`\n${turns.length - missing.length} of ${turns.length} things happened as they must.`)
    if (missing.length > 0 || !played.proof.holds) {
      process.stderr.write(
        `The practice trip did not go as it must: ${missing.map(({ name }) => name).join('; ')}. No file was written.\n`,
      )
      return 1
    }
    if (values.out !== undefined) notebook.lines(`\n${await leaveFiles(values.out, played)}`)
    return 0
  },
}
