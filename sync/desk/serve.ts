import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import { extname, join, resolve } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { type Command, InputError } from './command.ts'
import { SECURITY_HEADERS } from './security-headers.ts'

const BUILT_APP = fileURLToPath(new URL('../../dist', import.meta.url))
const DEFAULT_PORT = 4690
const LAST_PORT = 65_535
/** Only this machine reaches it, and browsers count it as secure: keys, camera and offline copy work. */
const HOST = '127.0.0.1'

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.md': 'text/plain; charset=utf-8',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
}

/** A name that cannot lead out of its folder nor to a hidden file. */
const PLAIN_NAME = /^\w[\w.-]*$/

/** The file that an address names below `folder`; undefined when it is not made of plain names. */
const fileOf = (folder: string, address: string): string | undefined => {
  const path = address.replace(/[?#].*$/s, '')
  const names = (path.endsWith('/') ? `${path}index.html` : path).split('/').slice(1)
  return names.length > 0 && names.every(name => PLAIN_NAME.test(name)) ? join(folder, ...names) : undefined
}

const answer = (response: ServerResponse, status: number, words: string, headers = {}): void => {
  response.writeHead(status, { ...SECURITY_HEADERS, 'Content-Type': 'text/plain; charset=utf-8', ...headers })
  response.end(`${words}\n`)
}

/** Names under assets/ carry a hash of what is in the file; all else is asked for anew each time. */
const keepFor = (folder: string, file: string): string =>
  file.startsWith(join(folder, 'assets/')) ? 'public, max-age=31536000, immutable' : 'no-cache'

const serveFile = async (folder: string, request: IncomingMessage, response: ServerResponse): Promise<void> => {
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    answer(response, 405, 'Only reading is possible here.', { Allow: 'GET, HEAD' })
    return
  }
  const file = fileOf(folder, request.url ?? '/')
  const type = file && TYPES[extname(file)]
  const found = type ? await stat(file).catch(() => undefined) : undefined
  if (!file || !type || !found?.isFile()) {
    answer(response, 404, 'There is nothing at this address.')
    return
  }
  response.writeHead(200, {
    ...SECURITY_HEADERS,
    'Content-Type': type,
    'Content-Length': found.size,
    'Cache-Control': keepFor(folder, file),
  })
  if (request.method === 'HEAD') response.end()
  else await pipeline(createReadStream(file), response)
}

export interface Served {
  /** Where a browser on this machine opens it. */
  readonly address: string
  close(): Promise<void>
}

const listening = (server: Server, port: number): Promise<number> =>
  new Promise((settle, refuse) => {
    server.once('error', refuse)
    server.listen(port, HOST, () => {
      const bound = server.address()
      if (bound === null || typeof bound === 'string') throw new Error(`bound to ${bound}`)
      settle(bound.port)
    })
  })

/** Serves the built app in `folder` to browsers on this machine. Port 0 takes any that is free. */
export const serveApp = async (folder: string, port: number): Promise<Served> => {
  const root = resolve(folder)
  const built = await stat(join(root, 'index.html')).catch(() => undefined)
  if (!built) throw new InputError(`${folder}: there is no built app in it. Run: npm run build`)
  const server = createServer((request, response) => {
    // A reader that goes away in the middle of a file takes nothing with it but its own answer.
    serveFile(root, request, response).catch(() => response.destroy())
  })
  try {
    const bound = await listening(server, port)
    return {
      address: `http://localhost:${bound}/`,
      close: () =>
        new Promise(settle => {
          server.close(() => settle())
          server.closeAllConnections()
        }),
    }
  } catch (error) {
    throw new InputError(
      error instanceof Error && 'code' in error && error.code === 'EADDRINUSE'
        ? `Port ${port} is in use, so nothing was started. If Outspoke runs already, open http://localhost:${port}/ . Another port can be given with --port; cases are kept by address, so another port shows another, empty store.`
        : `Port ${port} cannot be used, so nothing was started: ${error}`,
    )
  }
}

const portOf = (text: string | undefined): number => {
  if (text === undefined) return DEFAULT_PORT
  const port = Number(text)
  if (!/^\d+$/.test(text) || port > LAST_PORT) throw new InputError(`--port ${text}: a whole number up to ${LAST_PORT}`)
  return port
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
    await new Promise<void>(settle => {
      for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => settle())
    })
    await served.close()
    return 0
  },
}
