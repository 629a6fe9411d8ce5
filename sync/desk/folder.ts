import { randomUUID } from 'node:crypto'
import { mkdir, readdir, rename, rm, rmdir, writeFile } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { InputError } from './command.ts'

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : String(error)

/** Whether `path` is an empty folder; false: nothing is there. Anything else is refused and left as it is. */
const isEmptyFolder = async (path: string): Promise<boolean> => {
  try {
    if ((await readdir(path)).length === 0) return true
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false
    throw new InputError(`${path}: cannot be used as a folder (${codeOf(error)}). Nothing was written.`)
  }
  throw new InputError(`${path}: is not empty and was left as it is. Choose another folder.`)
}

/** The folder that `--out` names, looked at before any work is done. */
export const newFolder = async (path: string | undefined): Promise<string> => {
  if (path === undefined) throw new InputError('needs --out DIR, a folder that is new or empty')
  await isEmptyFolder(path)
  return path
}

/** Writes a folder of files whole or not at all: beside it first, then renamed. */
export const writeFolder = async (path: string, files: ReadonlyMap<string, string>): Promise<void> => {
  const whole = resolve(path)
  const beside = join(dirname(whole), `.${basename(whole)}.${randomUUID()}.part`)
  try {
    await mkdir(beside, { recursive: true })
    for (const [name, content] of files) await writeFile(join(beside, name), content, { flag: 'wx' })
    if (await isEmptyFolder(whole)) await rmdir(whole)
    await rename(beside, whole)
  } catch (error) {
    await rm(beside, { recursive: true, force: true })
    if (error instanceof InputError) throw error
    throw new InputError(`${path}: cannot be written (${codeOf(error)}). Nothing was written.`)
  }
}
