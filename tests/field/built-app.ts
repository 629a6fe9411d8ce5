import { fileURLToPath } from 'node:url'
import { build } from 'vite'

const CONFIG = fileURLToPath(new URL('../../vite.config.ts', import.meta.url))

export interface BuildOptions {
  readonly outDir: string
  /** Another folder than the project's with an index.html of its own: a page made for a test, built like the app. */
  readonly root?: string
  /** Names that stand for text in the built page. */
  readonly texts?: Readonly<Record<string, string>>
}

/** Builds the app, or a page made for a test, as `npm run build` does. */
export const buildApp = async ({ outDir, root, texts = {} }: BuildOptions): Promise<void> => {
  await build({
    configFile: CONFIG,
    ...(root ? { root } : {}),
    mode: 'production',
    logLevel: 'warn',
    define: Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, JSON.stringify(text)])),
    build: { outDir, emptyOutDir: true },
  })
}
