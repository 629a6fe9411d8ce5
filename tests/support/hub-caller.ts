import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type RawData, WebSocket, type ClientOptions as WebSocketOptions } from 'ws'
import { HUB_LIMITS, type HubLimits } from '../../sync/desk/hub-limits.ts'
import { type Hub, type HubOptions, startHub } from '../../sync/desk/hub-server.ts'
import { handClock } from './hand-clock.ts'

/** `servername` goes on to the TLS below; its types do not name it. */
export type ClientOptions = WebSocketOptions & { readonly servername?: string }

export interface Closed {
  readonly code: number
  readonly reason: string
}

const PING = '{"type":"ping"}'
const PONG = '{"type":"pong"}'

/** One end of a WebSocket: what comes in is kept in order until it is asked for. */
export class Caller {
  readonly socket: WebSocket
  readonly opened: Promise<void>
  readonly closed: Promise<Closed>
  readonly #heard: string[] = []
  #wake: () => void = () => undefined
  #isOver = false
  #answersDue = 0

  constructor(url: string, options: ClientOptions = {}) {
    this.socket = new WebSocket(url, options)
    this.opened = new Promise((settle, refuse) => {
      this.socket.once('open', settle)
      this.socket.once('error', refuse)
    })
    this.closed = new Promise(settle => {
      this.socket.once('close', (code, reason) => {
        this.#isOver = true
        this.#wake()
        settle({ code, reason: reason.toString() })
      })
    })
    // Told by `opened` and `closed`.
    this.socket.on('error', () => undefined)
    this.socket.on('message', (data: RawData) => {
      this.#heard.push(String(data))
      this.#wake()
    })
  }

  static async open(url: string, options?: ClientOptions): Promise<Caller> {
    const caller = new Caller(url, options)
    await caller.opened
    return caller
  }

  send(message: unknown): void {
    const text = JSON.stringify(message)
    if (text === PING) this.#answersDue += 1
    this.socket.send(text)
  }

  /** The next message as it came; throws when the connection ends first. */
  async next(): Promise<string> {
    for (;;) {
      const text = this.#heard.shift()
      if (text !== undefined) return text
      if (this.#isOver) throw new Error('the connection ended before a message came')
      await new Promise<void>(settle => {
        this.#wake = settle
      })
    }
  }

  /** What has come by the time the server has dealt with all that was sent to it before: it answers each ping in turn. */
  async heard(): Promise<readonly unknown[]> {
    this.send(JSON.parse(PING))
    const messages: unknown[] = []
    for (;;) {
      const text = await this.next()
      if (text === PONG) this.#answersDue -= 1
      if (this.#answersDue === 0) return messages
      messages.push(JSON.parse(text))
    }
  }

  async end(): Promise<void> {
    this.socket.terminate()
    await this.closed
  }
}

export interface RunningHub {
  readonly port: number
  readonly url: string
  /** A caller that says it is a page of the hub itself. */
  call(options?: ClientOptions): Promise<Caller>
  close(): Promise<void>
}

/** A hub on this machine over a folder with one page in it. Its clock stands still unless the test moves one of its own. */
export const runHub = async (
  limits: Partial<HubLimits> = {},
  options: Partial<Omit<HubOptions, 'limits'>> = {},
): Promise<RunningHub> => {
  const folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
  await writeFile(join(folder, 'index.html'), '<!doctype html><title>A page</title>')
  const hub: Hub = await startHub({
    folder,
    port: 0,
    host: '127.0.0.1',
    name: 'localhost',
    origins: [],
    timer: handClock().timer,
    ...options,
    limits: { ...HUB_LIMITS, ...limits },
  })
  const { port } = hub
  const url = `ws://127.0.0.1:${port}/signal`
  return {
    port,
    url,
    call: more => Caller.open(url, { origin: `http://127.0.0.1:${port}`, ...more }),
    close: async () => {
      await hub.close()
      await rm(folder, { recursive: true })
    },
  }
}

/** The request that a page of the hub makes for a WebSocket, for tests that write their own bytes after it. */
export const handshake = (port: number): string =>
  [
    'GET /signal HTTP/1.1',
    `Host: 127.0.0.1:${port}`,
    `Origin: http://127.0.0.1:${port}`,
    'Connection: Upgrade',
    'Upgrade: websocket',
    'Sec-WebSocket-Version: 13',
    // The example of RFC 6455, 1.3.
    'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==',
    '\r\n',
  ].join('\r\n')
