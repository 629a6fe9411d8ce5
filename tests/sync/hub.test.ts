import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { type IncomingMessage, request } from 'node:http'
import { get } from 'node:https'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { text } from 'node:stream/consumers'
import { fileURLToPath } from 'node:url'
import decodeQR from 'qr/decode.js'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { call } from '../support/command-line.ts'
import { Caller, type RunningHub, runHub } from '../support/hub-caller.ts'

const MAIN = fileURLToPath(new URL('../../sync/desk/main.ts', import.meta.url))
const HOST_NAME = 'hub.team.example'

let folder: string
let app: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
  app = join(folder, 'app')
  await mkdir(app)
  await writeFile(join(app, 'index.html'), '<h1>The app</h1>')
})
afterAll(() => rm(folder, { recursive: true }))

const [nodeMajor = 0, nodeMinor = 0] = process.versions.node.split('.').map(Number)
/**
 * Node's own permission model: such a process may read and listen, and not write any file. The flag lost a word in 22.13;
 * the network needs a right of its own from 25 on (documentation of Node.js, "Permissions").
 */
const READS_ONLY: readonly string[] = [
  nodeMajor * 100 + nodeMinor >= 2213 ? '--permission' : '--experimental-permission',
  '--allow-fs-read=*',
  // For the loader of TypeScript.
  '--allow-worker',
  '--allow-child-process',
  ...(nodeMajor >= 25 ? ['--allow-net'] : []),
]
/** Without the loader's own cache on the disk, and without Node's words about an experimental part. */
const QUIET = { ...process.env, TSX_DISABLE_CACHE: '1', NODE_NO_WARNINGS: '1' }

/** The command in a process of its own, as a person starts it; ended as a person ends it. */
class Program {
  stdout = ''
  stderr = ''
  readonly #child: ChildProcess
  readonly #ended: Promise<number | null>

  constructor(args: readonly string[], flags: readonly string[]) {
    const program = ['--import', import.meta.resolve('tsx'), MAIN, 'hub', '--folder', app]
    this.#child = spawn(process.execPath, [...flags, ...program, ...args], {
      env: flags.length > 0 ? QUIET : process.env,
    })
    this.#child.stdout?.on('data', chunk => {
      this.stdout += String(chunk)
    })
    this.#child.stderr?.on('data', chunk => {
      this.stderr += String(chunk)
    })
    this.#ended = new Promise(settle => this.#child.once('close', settle))
  }

  /** Comes when the last words of the start are out. */
  async started(): Promise<void> {
    while (!this.stderr.includes('Control-C')) {
      const more = new Promise(settle => this.#child.stderr?.once('data', settle))
      const status = await Promise.race([more.then(() => undefined), this.#ended])
      if (status !== undefined) throw new Error(`ended with ${status}: ${this.stderr}`)
    }
  }

  end(): Promise<number | null> {
    this.#child.kill('SIGINT')
    return this.#ended
  }
}

const programs: Program[] = []
const start = async (args: readonly string[], flags: readonly string[] = []): Promise<Program> => {
  const program = new Program(args, flags)
  programs.push(program)
  await program.started()
  return program
}
afterEach(async () => {
  for (const program of programs.splice(0)) await program.end()
})

/** What a camera sees of a code drawn in a terminal: each cell is two spaces on a light or a dark ground. */
const readTerminalCode = (drawn: string): string => {
  const SCALE = 4
  const rows = drawn
    .split('\n')
    .map(line => line.split('\u001b[').flatMap(part => ({ '1;47m  ': 255, '40m  ': 0 })[part] ?? []))
    .filter(row => row.length > 0)
  const [width, height] = [(rows[0]?.length ?? 0) * SCALE, rows.length * SCALE]
  const data = new Uint8Array(width * height * 4)
  for (let at = 0; at < width * height; at++) {
    const [x, y] = [at % width, Math.floor(at / width)]
    const light = rows[Math.floor(y / SCALE)]?.[Math.floor(x / SCALE)] ?? 255
    data.set([light, light, light, 255], at * 4)
  }
  return decodeQR({ width, height, data })
}

describe('outspoke hub', () => {
  it('prints its address as text and as a code, serves the app there, introduces, and ends when told to', async () => {
    const program = await start(['--name', 'localhost', '--port', '0'])
    const address = program.stdout.trim()
    expect(address).toMatch(/^http:\/\/localhost:\d+\/$/)
    expect(readTerminalCode(program.stderr)).toBe(address)
    expect(program.stderr).toContain('practice trip only')

    expect(await (await fetch(address)).text()).toBe('<h1>The app</h1>')
    const { host, origin } = new URL(address)
    const caller = await Caller.open(`ws://${host}/signal`, { origin })
    expect(await caller.heard()).toEqual([])
    expect(await program.end()).toBe(0)
    // RFC 6455's registry of close codes: 1012, service restart.
    expect(await caller.closed).toMatchObject({ code: 1012 })
  })

  it('without a name is reached at every address of this machine that it prints, and introduces pages of each', async () => {
    const program = await start(['--port', '0'])
    const addresses = program.stdout.trim().split('\n')
    expect(addresses.at(-1)).toMatch(/^http:\/\/localhost:\d+\/$/)
    expect(readTerminalCode(program.stderr)).toBe(addresses[0])
    for (const address of addresses) {
      expect(await (await fetch(address)).text()).toBe('<h1>The app</h1>')
      const { host, origin } = new URL(address)
      const caller = await Caller.open(`ws://${host}/signal`, { origin })
      expect(await caller.heard()).toEqual([])
      await caller.end()
    }
  })

  it('logs nothing of rooms and messages, good or bad, and does it all without the right to write a file', async () => {
    // The control: where that right is missing nothing can be written.
    const written = join(folder, 'written')
    const write = ['-e', `require('node:fs').writeFileSync(${JSON.stringify(written)}, '')`]
    expect(() => execFileSync(process.execPath, [...READS_ONLY, ...write], { stdio: 'pipe' })).toThrow(
      'ERR_ACCESS_DENIED',
    )
    const program = await start(['--name', 'localhost', '--port', '0'], READS_ONLY)
    const before = [program.stdout, program.stderr]
    const { host, origin } = new URL(program.stdout.trim())
    const marks = ['room-mark', 'data-mark', 'plain-mark', 'broken-mark', 'path-mark', 'long-mark']
    const open = () => Caller.open(`ws://${host}/signal`, { origin })
    const caller = await open()
    caller.send({ type: 'subscribe', topics: ['room-mark'] })
    caller.send({ type: 'publish', topic: 'room-mark', data: 'data-mark' })
    expect(await caller.heard()).toHaveLength(1)
    for (const bad of [
      '{"type":"publish","topic":"room-mark","data":{"type":"plain-mark"}}',
      '{"broken-mark"',
      `"long-mark${'a'.repeat(70_000)}"`,
    ]) {
      const other = await open()
      other.socket.send(bad)
      expect([1008, 1009]).toContain((await other.closed).code)
    }
    expect((await fetch(`${origin}/path-mark`)).status).toBe(404)
    expect(await program.end()).toBe(0)
    expect([program.stdout, program.stderr]).toEqual(before)
    expect(marks.filter(mark => (program.stdout + program.stderr).includes(mark))).toEqual([])
  })

  it.each([
    ['a certificate without its key', ['--certificate', 'c.pem', '--name', HOST_NAME], 'belong together'],
    ['a key without its certificate', ['--key', 'k.pem', '--name', HOST_NAME], 'belong together'],
    ['a certificate without a name', ['--certificate', 'c.pem', '--key', 'k.pem'], 'belong together'],
    [
      'files that are not there',
      ['--certificate', '/nowhere.pem', '--key', '/nowhere.pem', '--name', HOST_NAME],
      '/nowhere.pem',
    ],
    ['a name that is an address of a page', ['--name', 'https://hub.team.example/'], 'a host name'],
    ['an origin that is more than one', ['--origin', 'https://app.team.example/path'], 'where pages come from'],
    ['an origin that is none', ['--origin', 'app.team.example'], 'where pages come from'],
    ['a port that is none', ['--port', '80x'], 'a whole number up to 65535'],
    ['a folder without a built app', ['--folder', '/nowhere'], 'npm run build'],
    ['an option that it does not know', ['--public'], '--public'],
    ['to keep nowhere', ['--keep'], '--keep'],
  ])('refuses %s in words', async (_what, args, words) => {
    const { status, stdout, stderr } = await call('hub', ...args)
    expect([status, stdout]).toEqual([2, ''])
    expect(stderr).toContain(words)
  })

  it('says that a port is in use', async () => {
    const hub = await runHub()
    const { status, stderr } = await call('hub', '--folder', app, '--name', 'localhost', '--port', String(hub.port))
    expect(status).toBe(2)
    expect(stderr).toContain(`Port ${hub.port} is in use, so nothing was started.`)
    await hub.close()
  })
})

describe('who may look for others', () => {
  let hub: RunningHub
  beforeAll(async () => {
    hub = await runHub(
      { clientsPerAddress: 64, arrivalsAtOnce: 1e6 },
      { name: HOST_NAME, origins: ['https://app.team.example'] },
    )
  })
  afterAll(() => hub.close())

  /** The answer to an upgrade: RFC 6455, 4.2.2 has 101 for yes, and an HTTP error such as 403 for a page from elsewhere. */
  const upgrade = (path: string, headers: Record<string, string>): Promise<number | undefined> =>
    new Promise((settle, refuse) => {
      request({
        host: '127.0.0.1',
        port: hub.port,
        path,
        headers: {
          Connection: 'Upgrade',
          Upgrade: 'websocket',
          'Sec-WebSocket-Version': '13',
          'Sec-WebSocket-Key': 'dGhlIHNhbXBsZSBub25jZQ==',
          ...headers,
        },
      })
        .on('upgrade', (answer, socket) => {
          socket.destroy()
          settle(answer.statusCode)
        })
        .on('response', answer => {
          answer.resume()
          settle(answer.statusCode)
        })
        .on('error', refuse)
        .end()
    })

  it.each([
    ['a page of the hub by its name', 101, HOST_NAME, (port: number) => `http://${HOST_NAME}:${port}`],
    ['a page of the hub at localhost', 101, 'localhost', (port: number) => `http://localhost:${port}`],
    ['a page of the hub by its address', 101, '192.168.43.1', (port: number) => `http://192.168.43.1:${port}`],
    ['a page of an origin that was named', 101, HOST_NAME, () => 'https://app.team.example'],
    ['a page from elsewhere', 403, HOST_NAME, () => 'https://elsewhere.example'],
    ['a page of another port', 403, 'localhost', () => 'http://localhost:1'],
    ['a page of another scheme', 403, HOST_NAME, (port: number) => `https://${HOST_NAME}:${port}`],
    [
      'a page whose name a stranger pointed here',
      403,
      'elsewhere.example',
      (port: number) => `http://elsewhere.example:${port}`,
    ],
    ['a page of no origin, such as a file', 403, HOST_NAME, () => 'null'],
    ['a program that says no origin', 403, HOST_NAME, () => undefined],
  ])('%s: %i', async (_who, status, host, originAt) => {
    const origin = originAt(hub.port)
    expect(await upgrade('/signal', { Host: `${host}:${hub.port}`, ...(origin && { Origin: origin }) })).toBe(status)
  })

  it('signals at one address only', async () => {
    const headers = { Host: `localhost:${hub.port}`, Origin: `http://localhost:${hub.port}` }
    for (const path of ['/', '/signal/', '/signal?a', '/other']) expect(await upgrade(path, headers)).toBe(404)
  })

  it('lets its pages connect to nothing but itself: W3C, Content Security Policy 3, 6.7.2.8 counts its own ws and wss in', async () => {
    const answer = await fetch(`http://127.0.0.1:${hub.port}/`)
    expect(answer.headers.get('content-security-policy')).toMatch(/(^|; )connect-src 'self'(;|$)/)
  })
})

const hasOpenssl = (): boolean => {
  try {
    execFileSync('openssl', ['version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}

describe.skipIf(!hasOpenssl())(
  'https with the team’s certificate (needs the program openssl; skipped without it)',
  () => {
    const pem = (name: string): string => join(folder, name)
    const make = (name: string, host: string, days: string): void => {
      execFileSync(
        'openssl',
        ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-days', days]
          .concat(['-subj', `/CN=${host}`, '-addext', `subjectAltName=DNS:${host}`])
          .concat(['-keyout', pem(`${name}.key`), '-out', pem(`${name}.pem`)]),
        { stdio: 'ignore' },
      )
    }
    beforeAll(() => {
      make('team', HOST_NAME, '30')
      make('other', 'other.example', '30')
    })
    const by = (certificate: string, key: string, name = HOST_NAME): readonly string[] => [
      ...['--certificate', pem(certificate), '--key', pem(key), '--name', name, '--port', '0'],
    ]

    it('serves and introduces at the name of the certificate, and prints it', async () => {
      const program = await start(by('team.pem', 'team.key'))
      const address = program.stdout.trim()
      expect(address).toMatch(new RegExp(`^https://${HOST_NAME}:\\d+/$`))
      expect(readTerminalCode(program.stderr)).toBe(address)
      expect(program.stderr).not.toContain('practice trip')

      const { port, host, origin } = new URL(address)
      // A phone that trusts the team's certificate and asks for the hub by its name, with no name service needed here.
      const trust = { ca: await readFile(pem('team.pem')), servername: HOST_NAME }
      const answer = await new Promise<IncomingMessage>((settle, refuse) => {
        get({ host: '127.0.0.1', port, headers: { Host: host }, ...trust }, settle).on('error', refuse)
      })
      expect(await text(answer)).toBe('<h1>The app</h1>')
      const pair = await Promise.all(
        [1, 2].map(() => Caller.open(`wss://127.0.0.1:${port}/signal`, { origin, headers: { Host: host }, ...trust })),
      )
      for (const each of pair) {
        each.send({ type: 'subscribe', topics: ['room'] })
        expect(await each.heard()).toEqual([])
      }
      const message = { type: 'publish', topic: 'room', data: 'b2ZmZXI=' }
      pair[0]?.send(message)
      for (const each of pair) expect(await each.heard()).toEqual([{ ...message, clients: 2 }])
      await expect(
        Caller.open(`wss://127.0.0.1:${port}/signal`, { origin: 'https://elsewhere.example', ...trust }),
      ).rejects.toThrow('403')
      // The control: who does not trust the certificate gets nothing.
      await expect(Caller.open(`wss://127.0.0.1:${port}/signal`, { origin, servername: HOST_NAME })).rejects.toThrow(
        'self-signed',
      )
      expect(await program.end()).toBe(0)
    })

    it('refuses a key of another certificate, a certificate of another name, and files that are neither', async () => {
      const secret = (await readFile(pem('team.key'), 'utf8')).split('\n')[1] ?? ''
      expect(secret.length).toBeGreaterThan(40)
      for (const [args, words] of [
        [by('team.pem', 'other.key'), 'is not the key of the certificate'],
        [by('other.pem', 'other.key'), `does not stand for the name ${HOST_NAME}`],
        [by('team.key', 'team.key'), 'is not a certificate in PEM form'],
        [by('team.pem', 'team.pem'), 'is not a private key in PEM form'],
      ] as const) {
        const { status, stdout, stderr } = await call('hub', '--folder', app, ...args)
        expect([status, stdout]).toEqual([2, ''])
        expect(stderr).toContain(words)
        expect(stderr).toContain('Nothing was started')
        expect(stderr).not.toContain(secret)
      }
    })
  },
)
