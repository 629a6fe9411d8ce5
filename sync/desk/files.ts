import { randomUUID } from 'node:crypto'
import { readFile, rename, rm, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import * as z from 'zod'
import { InputError } from './command.ts'

const reasonOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && error.code === 'ENOENT' ? 'there is no such file' : String(error)

/** The bytes of a file, or an error that names the file. */
export const readBytes = async (path: string): Promise<Uint8Array> => {
  try {
    return await readFile(path)
  } catch (error) {
    throw new InputError(`${path}: cannot be read: ${reasonOf(error)}`)
  }
}

export const readText = async (path: string): Promise<string> => new TextDecoder().decode(await readBytes(path))

/** A schema would drop such a key in silence: nothing typed in is dropped in silence. */
const refuseForeignPrototype = (key: string, value: unknown): unknown => {
  if (key === '__proto__') throw new Error('a key __proto__ is not taken')
  return value
}

/** A JSON file read by a schema; every problem with its place in words. */
export const readJsonFile = async <Schema extends z.ZodType>(
  path: string,
  schema: Schema,
): Promise<z.output<Schema>> => {
  const text = await readText(path)
  let value: unknown
  try {
    value = JSON.parse(text, refuseForeignPrototype)
  } catch (error) {
    throw new InputError(
      `${path}: is not JSON that can be taken: ${error instanceof Error ? error.message : String(error)}`,
    )
  }
  const read = schema.safeParse(value)
  if (!read.success)
    throw new InputError(`${path}: ${z.prettifyError(read.error)}\nNothing was computed. Mend the file and try again.`)
  return read.data
}

/** Writes a file whole or not at all: beside it first, then renamed over it. */
export const writeWhole = async (path: string, content: Uint8Array | string): Promise<void> => {
  const beside = join(dirname(path), `.${basename(path)}.${randomUUID()}.part`)
  try {
    await writeFile(beside, content)
    await rename(beside, path)
  } catch (error) {
    await rm(beside, { force: true })
    throw new InputError(`${path}: cannot be written: ${String(error)}`)
  }
}
