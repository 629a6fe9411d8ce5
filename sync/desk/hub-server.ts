import {
  createServer as createPlainServer,
  type IncomingMessage,
  type RequestListener,
  type ServerResponse,
} from 'node:http'
import { createServer as createSecureServer } from 'node:https'
import { isIPv4, type Socket } from 'node:net'
import type { Duplex } from 'node:stream'
import { WebSocket, WebSocketServer } from 'ws'
import { type ClockTimer, platformTimer } from '../timer.ts'
import { HUB_PATH } from '../transport/hub-path.ts'
import { appFiles } from './app-files.ts'
import type { Certificate } from './hub-certificate.ts'
import { Arrivals, type HubLimits, Shares } from './hub-limits.ts'
import { PROTOCOL_REASONS, Signalling } from './hub-signalling.ts'
import { listen } from './listen.ts'

/** Rates are counted on a clock that nobody sets. */
const HUB_TIMER: ClockTimer = { ...platformTimer, now: () => performance.now() }

export interface HubOptions {
  /** The built app. */
  readonly folder: string
  /** 0 takes any that is free. */
  readonly port: number
  /** The network address to listen at: 127.0.0.1 for this machine only, 0.0.0.0 for every network it is on. */
  readonly host: string
  /** By what name others reach it. */
  readonly name: string
  /** Without it the hub speaks plain http. */
  readonly certificate?: Certificate
  /** Pages from elsewhere that may look for others here. */
  readonly origins: readonly string[]
  readonly limits: HubLimits
  /** Answers what it is asked before the files are looked for; false for what is not its own. */
  readonly answers?: (request: IncomingMessage, response: ServerResponse) => boolean
  /** What rates are measured by, and when clients are asked whether they are there; without it the platform's. */
  readonly timer?: ClockTimer
}

export interface Hub {
  readonly port: number
  close(): Promise<void>
}

/** Gives words to the closings that the library decides on: it sends a bare code. */
class SpeakingSocket extends WebSocket {
  override close(code?: number, reason?: string | Buffer): void {
    super.close(code, reason ?? (code === undefined ? undefined : PROTOCOL_REASONS[code]))
  }
}

const STATUS_WORDS: Readonly<Record<number, string>> = { 403: 'Forbidden', 404: 'Not Found' }

const refuse = (socket: Duplex, status: number, words: string): void => {
  const head = [
    `HTTP/1.1 ${status} ${STATUS_WORDS[status]}`,
    'Connection: close',
    'Content-Type: text/plain; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(words)}`,
  ]
  socket.end(`${head.join('\r\n')}\r\n\r\n${words}`)
}

const originOf = (text: string): string | undefined => (URL.canParse(text) ? new URL(text).origin : undefined)

/**
 * A page may look for others here when it came from here: its origin is the host that it calls. That host has to be the
 * hub's name, `localhost` or an address in numbers: any other name could have been pointed at this machine by a stranger.
 */
const isOwnPage = (request: IncomingMessage, scheme: string, name: string): boolean => {
  const own = originOf(`${scheme}://${request.headers.host}`)
  if (own === undefined || own !== request.headers.origin) return false
  const { hostname } = new URL(own)
  return hostname === name || hostname === 'localhost' || isIPv4(hostname)
}

/** Starts to serve the app and to introduce its pages to each other. Nothing that passes through is written anywhere. */
export const startHub = async (options: HubOptions): Promise<Hub> => {
  const { limits, certificate, name, timer = HUB_TIMER } = options
  const files = await appFiles(options.folder)
  const pages: RequestListener = (request, response) => {
    if (!options.answers?.(request, response)) files(request, response)
  }
  const timing = {
    headersTimeout: limits.patienceMs,
    requestTimeout: limits.patienceMs,
    connectionsCheckingInterval: 1000,
  }
  const server = certificate
    ? createSecureServer({ ...timing, ...certificate.pem, handshakeTimeout: limits.patienceMs }, pages)
    : createPlainServer(timing, pages)
  const scheme = certificate ? 'https' : 'http'
  server.maxConnections = limits.connections
  // A page that stops reading its file holds a place for this long; signalling has its own questions and times.
  server.timeout = limits.patienceMs

  const signalling = new Signalling(limits, timer)
  const settings = {
    noServer: true,
    clientTracking: false,
    perMessageDeflate: false,
    maxPayload: limits.messageBytes,
    WebSocket: SpeakingSocket,
    // Known to the library since 8.19; its types do not name it yet.
    closeTimeout: limits.patienceMs,
  }
  const upgrades = new WebSocketServer(settings)

  const shares = new Shares(limits.connectionsPerAddress)
  const arrivals = new Arrivals(limits.arrivalsPerSecond, limits.arrivalsAtOnce)
  const open = new Set<Socket>()
  server.on('connection', (socket: Socket) => {
    const address = socket.remoteAddress ?? ''
    if (!arrivals.take(address, timer.now()) || !shares.take(address)) {
      socket.destroy()
      return
    }
    open.add(socket)
    socket.on('close', () => {
      open.delete(socket)
      shares.giveBack(address)
    })
  })
  server.on('upgrade', (request, socket, head) => {
    // It may break before it is a WebSocket: then it is over, and there is nobody to tell.
    socket.on('error', () => socket.destroy())
    const { origin } = request.headers
    if (request.url !== HUB_PATH) refuse(socket, 404, 'There is nothing at this address.\n')
    else if (!isOwnPage(request, scheme, name) && !(origin && options.origins.includes(origin)))
      refuse(socket, 403, 'Only pages of this hub, and of origins named with --origin, may look for others here.\n')
    else {
      upgrades.handleUpgrade(request, socket, head, client => {
        signalling.join(client, request.socket.remoteAddress ?? '')
      })
    }
  })

  let port: number
  try {
    port = await listen(server, options.port, options.host)
  } catch (error) {
    signalling.end()
    throw error
  }
  // After the start these are single callers that could not be taken: they are gone, the others stay.
  server.on('error', () => undefined)
  return {
    port,
    close: () =>
      new Promise(settle => {
        signalling.end()
        server.close(() => settle())
        for (const socket of open) {
          socket.destroySoon()
          // One that takes nothing any more would be waited for without an end.
          setTimeout(() => socket.destroy(), limits.patienceMs).unref()
        }
      }),
  }
}
