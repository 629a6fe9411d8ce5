import { createServer } from 'node:http'
import { parseArgs } from 'node:util'
import { appFiles, BUILT_APP } from './app-files.ts'
import type { Command } from './command.ts'
import { askedToEnd, DEFAULT_PORT, listen, portOf } from './listen.ts'

/** Only this machine reaches it, and browsers count it as secure: keys, camera and offline copy work. */
const HOST = '127.0.0.1'

export interface Served {
  /** Where a browser on this machine opens it. */
  readonly address: string
  close(): Promise<void>
}

/** Serves the built app in `folder` to browsers on this machine. Port 0 takes any that is free. */
export const serveApp = async (folder: string, port: number): Promise<Served> => {
  const server = createServer(await appFiles(folder))
  const bound = await listen(server, port, HOST)
  return {
    address: `http://localhost:${bound}/`,
    close: () =>
      new Promise(settle => {
        server.close(() => settle())
        server.closeAllConnections()
      }),
  }
}

/** `outspoke serve`: the app for a browser on this machine. */
export const serve: Command = {
  summary: 'serve the built app to a browser on this machine',
  usage: `outspoke serve [--port N] [--folder DIR]

  Serves the built app and prints its address; Control-C ends it. Cases are kept by the browser for that address: keep to
  one port. Once opened, the app works with this program stopped.

  --port N        the port (without it: ${DEFAULT_PORT})
  --folder DIR    the built app (without it: dist/ of this checkout)`,
  run: async args => {
    const { values } = parseArgs({ args: [...args], options: { port: { type: 'string' }, folder: { type: 'string' } } })
    const served = await serveApp(values.folder ?? BUILT_APP, portOf(values.port))
    process.stdout.write(`${served.address}\n`)
    process.stderr.write('Open this address in a browser on this machine. Control-C ends the program.\n')
    await askedToEnd()
    await served.close()
    return 0
  },
}
