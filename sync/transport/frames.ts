import type { Timer } from '../timer.ts'
import type { Channel } from './channel.ts'
import { createInbox } from './inbox.ts'
import {
  type ClosedBecause,
  CONNECTION_CUT,
  MESSAGE_LIMIT_BYTES,
  OTHER_END_CLOSED,
  SILENT,
  type Transport,
} from './transport.ts'

/** First byte of a frame. `last` and `more`: a part of a message. `lobby`: a message of the presence, whole. */
export const FRAME = { last: 0, more: 1, gate: 2, end: 3, lobby: 4, alive: 5 } as const

/**
 * First byte of a lobby message. A number is never given a second meaning; what is below 128 is left to y-webrtc, which says
 * nothing here today.
 */
export const LOBBY = { secrets: 201, photoAsked: 202, photoPart: 203, presence: 204 } as const

/** Every browser takes messages of this size (RFC 8831, 6.6); longer ones block what goes the other way. */
export const FRAME_BYTES = 16 * 1024
/** No more is handed to the channel while this much waits; it goes on at a quarter of it (project values). */
const FULL_BYTES = 1024 * 1024
const ROOM_BYTES = FULL_BYTES / 4
/** A word now and then shows that the other end lives; mute for longer than the limit it is taken for gone (project values). */
export const ALIVE_EVERY_MS = 10_000
export const SILENT_AFTER_MS = 45_000
/** How long an end that said goodbye waits for the other to hang up. */
const GOODBYE_MS = 2_000

const UNKNOWN_FRAME: ClosedBecause = {
  type: 'refused',
  message:
    'The other device sent something that this app does not know, so the connection was closed. Nothing here was changed by it.',
}
const TOO_LONG: ClosedBecause = {
  type: 'refused',
  message:
    'The other device sent a message longer than any that is allowed, so the connection was closed. Nothing here was changed by it.',
}

export const framed = (kind: number, part: Uint8Array): Uint8Array => {
  const frame = new Uint8Array(part.length + 1)
  frame[0] = kind
  frame.set(part, 1)
  return frame
}

/** Small messages beside the exchange: who is here, and what they have open. */
export interface Lobby {
  /** At most one frame long. */
  send(message: Uint8Array): void
  /** Resolves once little waits to be sent, or at the end: for whatever is not small, so that it holds up nothing else. */
  drained(): Promise<void>
  /** Messages whose first byte is `kind`; set once for each kind. */
  listen(kind: number, hear: (message: Uint8Array) => void): void
}

export interface FramedTransport extends Transport {
  readonly lobby: Lobby
}

/** What a gate hands over when it opens: the channel, and how frames come in from now on. */
export interface OpenChannel {
  readonly channel: Channel
  readonly timer: Timer
  /** Set once: every later frame goes there. */
  takeOver(hears: { frame(frame: Uint8Array): void; closed(): void }): void
}

/** Presence is told again and again: what comes before anybody listens need not be kept for long. */
const EARLY_LOBBY = 16
const NOTHING = new Uint8Array()

/**
 * Whole messages over a channel of small frames. Sending waits while the channel is full, and a message that is put
 * together may never grow beyond what the port allows.
 */
export const transportOver = ({ channel, timer, takeOver }: OpenChannel): FramedTransport => {
  const inbox = createInbox()
  let parts: Uint8Array[] = []
  let partBytes = 0
  let sending: Promise<void> = Promise.resolve()
  const hearLobby = new Map<number, (message: Uint8Array) => void>()
  let earlyLobby: Uint8Array[] = []
  /** Nothing can be sent any more; an end that only says goodbye still sends what was given to it before. */
  let isOver = false
  let callOff = (): void => undefined

  const listenOn = (): void => {
    callOff()
    callOff = timer.later(() => end(SILENT), SILENT_AFTER_MS)
  }
  let stopAlive = (): void => undefined
  const sayAlive = (): void => {
    stopAlive = timer.later(() => {
      channel.send(framed(FRAME.alive, NOTHING))
      sayAlive()
    }, ALIVE_EVERY_MS)
  }
  const stopTimers = (): void => {
    callOff()
    stopAlive()
  }
  /** Over at once: nothing more goes out. */
  const end = (reason: ClosedBecause): void => {
    isOver = true
    stopTimers()
    inbox.close(reason)
    channel.close()
  }

  const take = (kind: number, part: Uint8Array): void => {
    partBytes += part.length
    if (partBytes > MESSAGE_LIMIT_BYTES) {
      end(TOO_LONG)
      return
    }
    parts.push(part)
    if (kind === FRAME.more) return
    const message = new Uint8Array(partBytes)
    let at = 0
    for (const each of parts) {
      message.set(each, at)
      at += each.length
    }
    parts = []
    partBytes = 0
    if (!inbox.put(message)) end(OTHER_END_CLOSED)
  }

  const takeLobby = (message: Uint8Array): void => {
    const hear = hearLobby.get(message[0] ?? -1)
    if (hear) hear(message)
    else if (earlyLobby.length < EARLY_LOBBY) earlyLobby.push(message)
  }

  takeOver({
    frame(frame) {
      if (inbox.isClosed()) return
      listenOn()
      const [kind, part] = [frame[0], frame.subarray(1)]
      if (frame.length > FRAME_BYTES + 1) end(TOO_LONG)
      else if (kind === FRAME.last || kind === FRAME.more) take(kind, part)
      else if (kind === FRAME.lobby) takeLobby(part)
      else if (kind === FRAME.end) end(OTHER_END_CLOSED)
      else if (kind !== FRAME.alive) end(UNKNOWN_FRAME)
    },
    closed() {
      isOver = true
      stopTimers()
      inbox.close(CONNECTION_CUT)
    },
  })
  listenOn()
  sayAlive()

  const sendWhole = async (message: Uint8Array): Promise<void> => {
    for (let from = 0; from === 0 || from < message.length; from += FRAME_BYTES) {
      if (channel.waitingBytes() > FULL_BYTES) await channel.drained(ROOM_BYTES)
      if (isOver) return
      const part = message.subarray(from, from + FRAME_BYTES)
      channel.send(framed(from + FRAME_BYTES < message.length ? FRAME.more : FRAME.last, part))
    }
  }
  return {
    send(message) {
      if (message.length > MESSAGE_LIMIT_BYTES)
        throw new RangeError(`a message of ${message.length} bytes; at most ${MESSAGE_LIMIT_BYTES} may be sent`)
      if (inbox.isClosed()) return Promise.resolve()
      const copy = message.slice()
      sending = sending.then(() => sendWhole(copy))
      return sending
    },
    receive: () => inbox.take(),
    close(reason) {
      if (inbox.isClosed()) return
      stopTimers()
      // What was sent before still goes out, and the other end hangs up when it has it all.
      void sending.then(() => channel.send(framed(FRAME.end, NOTHING)))
      callOff = timer.later(() => channel.close(), GOODBYE_MS)
      inbox.close(reason)
    },
    closed: inbox.closed,
    lobby: {
      send(message) {
        if (message.length > FRAME_BYTES) throw new RangeError(`a lobby message of ${message.length} bytes`)
        if (!inbox.isClosed()) channel.send(framed(FRAME.lobby, message))
      },
      drained: () => channel.drained(ROOM_BYTES),
      listen(kind, hear) {
        hearLobby.set(kind, hear)
        const early = earlyLobby.filter(message => message[0] === kind)
        earlyLobby = earlyLobby.filter(message => message[0] !== kind)
        for (const message of early) hear(message)
      },
    },
  }
}
