import type { RawData, WebSocket } from 'ws'
import * as z from 'zod'
import type { ClockTimer } from '../timer.ts'
import { Allowance, type HubLimits, Shares } from './hub-limits.ts'

/** Why a hub ends a connection: a close code (RFC 6455, 7.4.1; 1012 and 1013 from its registry) and words of at most 123 bytes. */
interface Closing {
  readonly code: number
  readonly reason: string
}
const full: Closing = { code: 1013, reason: 'The hub is full. Try again later, or pair by two codes.' }
const crowded: Closing = { code: 1013, reason: 'Too many connections from this device. Close other tabs of the app.' }
const notText: Closing = { code: 1003, reason: 'The hub takes text only.' }
const notAMessage: Closing = { code: 1008, reason: 'That was not a signalling message.' }
const notSealed: Closing = { code: 1008, reason: 'Signalling must be encrypted: the hub passes on no plain message.' }
const tooManyTopics: Closing = { code: 1008, reason: 'Too many rooms at once.' }
const tooFast: Closing = { code: 1008, reason: 'Too much in too short a time.' }
const tooSlow: Closing = { code: 1008, reason: 'Too much was waiting unread.' }
const silent: Closing = { code: 1008, reason: 'No answer to the question whether you are still there.' }
const ending: Closing = { code: 1012, reason: 'The hub was ended by the person at the laptop.' }

/** Words for the closings that the WebSocket library decides on, by code. */
export const PROTOCOL_REASONS: Readonly<Record<number, string>> = {
  1002: 'That was not the WebSocket protocol.',
  1007: 'That was not UTF-8 text.',
  1009: 'The message was too long.',
}

/** What clients of y-webrtc 10 send. Other kinds are for later versions, and pass unheard as at its own server. */
const messageSchema = (topicCharacters: number) => {
  const topic = z.string().min(1).max(topicCharacters)
  const topics = z.array(topic).default([])
  return z.discriminatedUnion('type', [
    z.object({ type: z.literal('subscribe'), topics }),
    z.object({ type: z.literal('unsubscribe'), topics }),
    z.object({ type: z.literal('publish'), topic, data: z.unknown() }),
    z.object({ type: z.literal('ping') }),
  ])
}
const KINDS: readonly unknown[] = ['subscribe', 'unsubscribe', 'publish', 'ping']
const kindSchema = z.object({ type: z.string() })

type Message = z.infer<ReturnType<typeof messageSchema>>

interface Client {
  readonly socket: WebSocket
  readonly topics: Set<string>
  readonly messages: Allowance
  readonly bytes: Allowance
  isThere: boolean
}

const parse = (text: string): unknown => {
  try {
    return JSON.parse(text)
  } catch {
    // Not JSON is no message either: the schema says so.
    return undefined
  }
}

/** `ws` gives a message as one Buffer, unless it is told otherwise. */
const bufferOf = (data: RawData): Buffer => {
  if (!Buffer.isBuffer(data)) throw new Error('a message in pieces')
  return data
}

const close = (socket: WebSocket, { code, reason }: Closing): void => {
  socket.close(code, reason)
}

/**
 * Introduces clients to each other: what one publishes to a topic goes to all who subscribed to it. Topics and messages
 * are held for as long as that takes, in memory, and stand in no log and no error.
 */
export class Signalling {
  readonly #limits: HubLimits
  readonly #schema: ReturnType<typeof messageSchema>
  readonly #clients = new Set<Client>()
  readonly #clientsByTopic = new Map<string, Set<Client>>()
  readonly #shares: Shares
  readonly #timer: ClockTimer
  #stopAsking: () => void

  constructor(limits: HubLimits, timer: ClockTimer) {
    this.#limits = limits
    this.#timer = timer
    this.#schema = messageSchema(limits.topicCharacters)
    this.#shares = new Shares(limits.clientsPerAddress)
    this.#stopAsking = this.#askLater()
  }

  /** Takes in a connection from `address`, or closes it with the reason why not. */
  join(socket: WebSocket, address: string): void {
    // What is wrong with a connection ends it, with its code: nothing is left to do with the error itself.
    socket.on('error', () => undefined)
    const refusal = this.#refusal(address)
    if (refusal) {
      close(socket, refusal)
      return
    }
    const { messagesPerSecond, messagesAtOnce, bytesPerSecond, bytesAtOnce } = this.#limits
    const now = this.#timer.now()
    const client: Client = {
      socket,
      topics: new Set(),
      messages: new Allowance(messagesPerSecond, messagesAtOnce, now),
      bytes: new Allowance(bytesPerSecond, bytesAtOnce, now),
      isThere: true,
    }
    this.#clients.add(client)
    socket.on('pong', () => {
      client.isThere = true
    })
    socket.on('message', (data, isBinary) => this.#hear(client, data, isBinary))
    socket.on('close', () => {
      this.#forget(client)
      this.#shares.giveBack(address)
    })
  }

  /** Says to every client that the hub ends. */
  end(): void {
    this.#stopAsking()
    for (const { socket } of this.#clients) close(socket, ending)
  }

  #refusal(address: string): Closing | undefined {
    if (this.#clients.size >= this.#limits.clients) return full
    return this.#shares.take(address) ? undefined : crowded
  }

  #hear(client: Client, data: RawData, isBinary: boolean): void {
    // A client that is being closed may still be sending.
    if (!this.#clients.has(client)) return
    const wrong = this.#isWithinRates(client, data) ? this.#answer(client, data, isBinary) : tooFast
    if (wrong) this.#drop(client, wrong)
  }

  #isWithinRates({ messages, bytes }: Client, data: RawData): boolean {
    const now = this.#timer.now()
    return messages.take(1, now) && bytes.take(bufferOf(data).length, now)
  }

  /** Does what a message asks for, or says what is wrong with it. */
  #answer(client: Client, data: RawData, isBinary: boolean): Closing | undefined {
    if (isBinary) return notText
    const value = parse(bufferOf(data).toString('utf8'))
    const kind = kindSchema.safeParse(value)
    if (!kind.success) return notAMessage
    if (!KINDS.includes(kind.data.type)) return undefined
    const message = this.#schema.safeParse(value)
    return message.success ? this.#act(client, message.data) : notAMessage
  }

  #act(client: Client, message: Message): Closing | undefined {
    switch (message.type) {
      case 'subscribe':
        return this.#subscribe(client, message.topics)
      case 'publish':
        return this.#publish(message.topic, message.data)
      case 'unsubscribe':
        for (const topic of message.topics) this.#leave(client, topic)
        return undefined
      case 'ping':
        this.#send(client, '{"type":"pong"}')
        return undefined
    }
  }

  #subscribe(client: Client, topics: readonly string[]): Closing | undefined {
    for (const topic of topics) {
      client.topics.add(topic)
      if (client.topics.size > this.#limits.topicsPerClient) return tooManyTopics
      const others = this.#clientsByTopic.get(topic)
      if (others) others.add(client)
      else this.#clientsByTopic.set(topic, new Set([client]))
    }
    return undefined
  }

  /** `clients` counts who gets it, the sender too if it subscribed: as at y-webrtc's own server. */
  #publish(topic: string, data: unknown): Closing | undefined {
    if (typeof data !== 'string') return notSealed
    const receivers = this.#clientsByTopic.get(topic)
    if (!receivers) return undefined
    const text = JSON.stringify({ type: 'publish', topic, data, clients: receivers.size })
    for (const receiver of [...receivers]) this.#send(receiver, text)
    return undefined
  }

  #send(client: Client, text: string): void {
    client.socket.send(text)
    if (client.socket.bufferedAmount > this.#limits.waitingBytes) this.#drop(client, tooSlow)
  }

  #askLater(): () => void {
    return this.#timer.later(() => {
      this.#askAll()
      this.#stopAsking = this.#askLater()
    }, this.#limits.pingEveryMs)
  }

  #askAll(): void {
    for (const client of this.#clients) {
      if (client.isThere) client.socket.ping()
      else this.#drop(client, silent)
      client.isThere = false
    }
  }

  #drop(client: Client, reason: Closing): void {
    this.#forget(client)
    close(client.socket, reason)
  }

  #leave(client: Client, topic: string): void {
    client.topics.delete(topic)
    const others = this.#clientsByTopic.get(topic)
    others?.delete(client)
    if (others?.size === 0) this.#clientsByTopic.delete(topic)
  }

  #forget(client: Client): void {
    this.#clients.delete(client)
    for (const topic of [...client.topics]) this.#leave(client, topic)
  }
}
