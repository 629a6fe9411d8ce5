import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { buildApp } from '../field/built-app.ts'
import { printTable, round } from './measure.ts'

/** Script of the first screen, compressed (project value): about 3 s at 400 kbit/s. */
export const FIRST_SCREEN_LIMIT_KB = 150
const KB = 1024
const GZIP_LEVEL = 9

/** One chunk as vite names it in .vite/manifest.json. */
interface Chunk {
  readonly file: string
  readonly isEntry?: boolean
  /** Chunks that come with it at once. */
  readonly imports?: readonly string[]
}
type Manifest = Readonly<Record<string, Chunk>>

const withImports = (manifest: Manifest, name: string, met: Set<string> = new Set()): ReadonlySet<string> => {
  if (met.has(name)) return met
  met.add(name)
  for (const imported of manifest[name]?.imports ?? []) withImports(manifest, imported, met)
  return met
}

export interface ScriptSize {
  readonly name: string
  readonly plainBytes: number
  readonly compressedBytes: number
}

/** What the first screen of `page` loads, and what the rest of the app loads later. */
export const scriptSizes = async (
  folder: string,
  page: string,
): Promise<{ readonly first: readonly ScriptSize[]; readonly later: readonly ScriptSize[] }> => {
  const manifest: Manifest = JSON.parse(await readFile(join(folder, '.vite', 'manifest.json'), 'utf8'))
  if (!manifest[page]?.isEntry) throw new Error(`${page} is no page of the built app`)
  const firstNames = withImports(manifest, page)
  const sizeOf = async (name: string): Promise<ScriptSize> => {
    const file = manifest[name]?.file
    if (file === undefined) throw new Error(`the manifest lacks ${name}`)
    const bytes = await readFile(join(folder, file))
    const compressedBytes = gzipSync(bytes, { level: GZIP_LEVEL }).length
    return { name: file, plainBytes: bytes.length, compressedBytes }
  }
  const scripts = Object.keys(manifest).filter(name => manifest[name]?.file.endsWith('.js'))
  const [first, later] = [true, false].map(isFirst =>
    Promise.all(scripts.filter(name => firstNames.has(name) === isFirst).map(sizeOf)),
  )
  return { first: (await first) ?? [], later: (await later) ?? [] }
}

export const total = (sizes: readonly ScriptSize[]): number =>
  sizes.reduce((sum, { compressedBytes }) => sum + compressedBytes, 0)

const kb = (bytes: number): number => round(bytes / KB)

/** How much script a phone fetches before it shows the first screen, and after it. */
export const run = async (): Promise<void> => {
  const outDir = await mkdtemp(join(tmpdir(), 'outspoke-size-'))
  try {
    await buildApp({ outDir })
    const { first, later } = await scriptSizes(outDir, 'index.html')
    const row = (when: string, sizes: readonly ScriptSize[]) => ({
      when,
      files: sizes.length,
      plainKb: kb(sizes.reduce((sum, { plainBytes }) => sum + plainBytes, 0)),
      compressedKb: kb(total(sizes)),
    })
    printTable(`Script of the app (gzip; limit for the first screen ${FIRST_SCREEN_LIMIT_KB} KB)`, [
      row('first screen', first),
      row('later', later),
    ])
  } finally {
    await rm(outDir, { recursive: true })
  }
}
