import { readdirSync } from 'node:fs'
import { join, relative, resolve } from 'node:path'
import { expect, it } from 'vitest'

const SRC = resolve(import.meta.dirname, '../../src')
const FILES = readdirSync(SRC, { recursive: true, withFileTypes: true })
  .filter(entry => entry.isFile() && entry.name.endsWith('.ts'))
  .map(entry => join(entry.parentPath, entry.name))

/** Every list of keys that a file of src exports: what stands on screens, in entries and in the record comes from these. */
const listsOf = async (file: string): Promise<readonly (readonly [string, readonly string[]])[]> => {
  const exported: Readonly<Record<string, unknown>> = await import(file)
  return Object.entries(exported).flatMap(([name, value]) =>
    Array.isArray(value) && value.length > 0 && value.every(one => typeof one === 'string')
      ? [[`${relative(SRC, file)} ${name}`, value as readonly string[]] as const]
      : [],
  )
}

it('no list of keys names one twice', async () => {
  const lists = (await Promise.all(FILES.map(listsOf))).flat()
  // Holds, hard rules, setting rules, dues, sections, checks, levers, methods and the like.
  expect(lists.length).toBeGreaterThan(25)
  const twins = lists.flatMap(([name, keys]) =>
    keys.filter((key, index) => keys.indexOf(key) !== index).map(key => `${name}: ${key}`),
  )
  expect(twins).toEqual([])
})
