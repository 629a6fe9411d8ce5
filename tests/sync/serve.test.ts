import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { type IncomingMessage, request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { text } from 'node:stream/consumers'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Served, serveApp } from '../../sync/desk/serve.ts'
import { call } from '../support/command-line.ts'

const SECRET = 'not for anyone'

let folder: string
let app: string
let served: Served
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
  app = join(folder, 'app')
  for (const name of ['assets', '.vite']) await mkdir(join(app, name), { recursive: true })
  await writeFile(join(folder, 'secret.js'), SECRET)
  await writeFile(join(app, '.vite', 'manifest.json'), SECRET)
  await writeFile(join(app, 'notes.private'), SECRET)
  await writeFile(join(app, 'index.html'), '<h1>The app</h1>')
  await writeFile(join(app, 'sw.js'), 'self')
  await writeFile(join(app, 'manifest.webmanifest'), '{}')
  await writeFile(join(app, 'assets', 'index-Ab1_.js'), '1')
  served = await serveApp(app, 0)
})
afterAll(async () => {
  await served.close()
  await rm(folder, { recursive: true })
})

interface Answer {
  readonly status: number | undefined
  readonly headers: IncomingMessage['headers']
  readonly body: string
}

/** Sends the path as it is written: `fetch` would tidy it up first. */
const ask = (path: string, method = 'GET'): Promise<Answer> =>
  new Promise((settle, refuse) => {
    const { port } = new URL(served.address)
    request({ host: '127.0.0.1', port, path, method }, async response => {
      settle({ status: response.statusCode, headers: response.headers, body: await text(response) })
    })
      .on('error', refuse)
      .end()
  })

/** Directives of a policy by name, as W3C, Content Security Policy Level 3, section 2.2 writes them. */
const directives = (policy: string | string[] | undefined): ReadonlyMap<string, string> =>
  new Map(
    String(policy)
      .split(';')
      .map(one => one.trim())
      .map(one => [one.slice(0, one.indexOf(' ')), one.slice(one.indexOf(' ') + 1)]),
  )

describe('the server of the app', () => {
  it.each([
    // RFC 9239 (JavaScript), WHATWG HTML (text/html), W3C Web Application Manifest (application/manifest+json).
    ['/', 'text/html', '<h1>The app</h1>'],
    ['/index.html', 'text/html', '<h1>The app</h1>'],
    ['/?from=home', 'text/html', '<h1>The app</h1>'],
    ['/sw.js', 'text/javascript', 'self'],
    ['/assets/index-Ab1_.js', 'text/javascript', '1'],
    ['/manifest.webmanifest', 'application/manifest+json', '{}'],
  ])('gives %s as %s', async (path, type, body) => {
    const answer = await ask(path)
    expect([answer.status, answer.headers['content-type']?.split(';')[0], answer.body]).toEqual([200, type, body])
  })

  it.each([
    '/../secret.js',
    '/assets/../../secret.js',
    '/%2e%2e/secret.js',
    '/..%2fsecret.js',
    '/assets/..%5c..%5csecret.js',
    '/..\\secret.js',
    '//secret.js',
    'http://localhost/../secret.js',
    '/.vite/manifest.json',
    '/notes.private',
    '/assets',
    '/assets/',
    '/nothing.js',
    '/sw.js%00.html',
  ])('gives nothing at %s', async path => {
    const answer = await ask(path)
    expect(answer.status).toBe(404)
    expect(answer.body).not.toContain(SECRET)
  })

  it('only reads: RFC 9110, section 15.5.6 asks for 405 with what is allowed', async () => {
    const answer = await ask('/', 'POST')
    expect([answer.status, answer.headers.allow]).toEqual([405, 'GET, HEAD'])
    expect(await ask('/', 'HEAD')).toMatchObject({ status: 200, body: '' })
  })

  it.each(['/', '/sw.js', '/nothing'])('lets no page run or fetch what is not its own: %s', async path => {
    const { headers } = await ask(path)
    const rules = directives(headers['content-security-policy'])
    expect(rules.get('default-src')).toBe("'none'")
    expect(rules.get('script-src')).toBe("'self'")
    expect(rules.get('style-src')).toBe("'self'")
    expect(rules.get('connect-src')).toBe("'self'")
    // Photos are opened from the sealed store under addresses of the page alone (W3C File API, blob URLs); nothing else is shown.
    expect(rules.get('img-src')).toBe("'self' blob:")
    expect(['media-src', 'object-src', 'frame-src', 'child-src', 'font-src'].filter(rule => rules.has(rule))).toEqual(
      [],
    )
    expect(rules.get('frame-ancestors')).toBe("'none'")
    expect([...rules.values()].join(' ')).not.toMatch(/unsafe|https?:|\*/)
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['referrer-policy']).toBe('no-referrer')
  })

  it('lets a browser keep only what carries its hash in its name', async () => {
    expect((await ask('/assets/index-Ab1_.js')).headers['cache-control']).toContain('immutable')
    for (const path of ['/', '/sw.js']) expect((await ask(path)).headers['cache-control']).toBe('no-cache')
  })
})

describe('outspoke serve', () => {
  it('says that a port is in use, and that another port is another store', async () => {
    const { port } = new URL(served.address)
    const { status, stdout, stderr } = await call('serve', '--folder', app, '--port', port)
    expect([status, stdout]).toEqual([2, ''])
    expect(stderr).toContain(`Port ${port} is in use, so nothing was started.`)
    expect(stderr).toContain('another, empty store')
  })

  it.each([
    ['a folder without a built app', ['--folder', '/nowhere'], 'npm run build'],
    ['a port that is none', ['--port', '80x'], 'a whole number up to 65535'],
    ['a port too high', ['--port', '65536'], 'a whole number up to 65535'],
  ])('refuses %s in words', async (_what, args, words) => {
    const { status, stdout, stderr } = await call('serve', ...args)
    expect([status, stdout]).toEqual([2, ''])
    expect(stderr).toContain(words)
  })
})
