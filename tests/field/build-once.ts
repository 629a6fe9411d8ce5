import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { buildApp } from './built-app.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** The folder of the app as built for this run: `inject('builtApp')`. */
    builtApp: string
  }
}

// biome-ignore lint/style/noDefaultExport: vitest calls the default export before the first test
export default async function buildOnce(project: TestProject): Promise<() => Promise<void>> {
  const outDir = await mkdtemp(join(tmpdir(), 'outspoke-built-'))
  await buildApp({ outDir })
  project.provide('builtApp', outDir)
  return () => rm(outDir, { recursive: true })
}
