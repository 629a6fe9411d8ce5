import { fileURLToPath } from 'node:url'
import { esbuildPlugin } from '@web/dev-server-esbuild'
import { defaultReporter } from '@web/test-runner'
import { chromeLauncher } from '@web/test-runner-chrome'
import { tsImport } from 'tsx/esm/api'

const { CHROMIUM_FLAGS, findChromium } = await tsImport('./support/chromium.ts', import.meta.url)
const { ForeignRequests } = await tsImport('./support/foreign-requests.ts', import.meta.url)

/** The data channels inside y-webrtc come as one script for a page (UMD); served file by file it has to be a module. */
const umdDefault = {
  name: 'umd default',
  transform: ({ path, body }) =>
    path.endsWith('/simplepeer.min.js')
      ? { body: `const module={exports:{}},exports=module.exports;${body}\nexport default module.exports` }
      : undefined,
}

const foreign = new ForeignRequests()

/** A request beyond the page's own origin fails the whole run, whatever the tests themselves said. */
process.on('exit', () => {
  if (foreign.seen.length > 0) process.exitCode = 1
})

// biome-ignore lint/style/noDefaultExport: the runner reads its configuration from the default export
export default {
  files: 'tests/browser/**/*.test.ts',
  // `development` makes Lit refuse class fields that shadow reactive properties.
  nodeResolve: { browser: true, exportConditions: ['browser', 'development'], dedupe: ['yjs', 'lit'] },
  plugins: [
    {
      name: 'vitest in the browser',
      resolveImport: ({ source }) => (source === 'vitest' ? '/tests/support/vitest-in-browser.ts' : undefined),
    },
    umdDefault,
    esbuildPlugin({
      ts: true,
      json: true,
      target: 'es2022',
      tsconfig: fileURLToPath(new URL('../tsconfig.json', import.meta.url)),
    }),
  ],
  concurrency: 1,
  // As in Node: a limit for what hangs, not a measure of speed.
  testFramework: { config: { timeout: '60000' } },
  browsers: [
    chromeLauncher({
      launchOptions: { executablePath: findChromium(), args: [...CHROMIUM_FLAGS] },
      createPage: async ({ context }) => {
        const page = await context.newPage()
        // With the camera allowed a browser tells its own address to the other end; without, a name that nothing resolves here.
        const devtools = await page.createCDPSession()
        await devtools.send('Browser.grantPermissions', { permissions: ['videoCapture'] })
        page.on('request', request => foreign.note(page.url(), request.url()))
        return page
      },
    }),
  ],
  filterBrowserLogs: ({ args }) => !String(args[0]).startsWith('Lit is in dev mode'),
  reporters: [
    defaultReporter({ reportTestProgress: process.stdout.isTTY }),
    {
      onTestRunFinished: () => {
        for (const one of foreign.seen) console.error(`Request beyond its own origin: ${one}`)
      },
    },
  ],
}
