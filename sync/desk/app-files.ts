import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import type { IncomingMessage, RequestListener, ServerResponse } from 'node:http'
import { extname, join, resolve } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileURLToPath } from 'node:url'
import { InputError } from './command.ts'
import { securityHeaders } from './security-headers.ts'

/** Where `npm run build` puts the app. */
export const BUILT_APP = fileURLToPath(new URL('../../dist', import.meta.url))

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
  response.writeHead(status, { ...securityHeaders('/'), 'Content-Type': 'text/plain; charset=utf-8', ...headers })
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
    ...securityHeaders(request.url ?? '/'),
    'Content-Type': type,
    'Content-Length': found.size,
    'Cache-Control': keepFor(folder, file),
  })
  if (request.method === 'HEAD') response.end()
  else await pipeline(createReadStream(file), response)
}

/** Answers requests with the built app in `folder`, and with nothing else. */
export const appFiles = async (folder: string): Promise<RequestListener> => {
  const root = resolve(folder)
  const built = await stat(join(root, 'index.html')).catch(() => undefined)
  if (!built) throw new InputError(`${folder}: there is no built app in it. Run: npm run build`)
  return (request, response) => {
    // A reader that goes away in the middle of a file takes nothing with it but its own answer.
    serveFile(root, request, response).catch(() => response.destroy())
  }
}
