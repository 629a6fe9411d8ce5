import * as z from 'zod'
import { type CasebookId, casebookIdSchema, type DeviceId, deviceIdSchema } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { ByteWriter, fromBase64Url, toBase64Url, UnreadableBytes } from '../bytes.ts'
import type { RandomBytes } from '../secret-keeper.ts'
import type { Timer } from '../timer.ts'
import { type DeviceKey, importVerifier, isKeyOf } from '../trust/device-key.ts'
import type { Channel, ChannelListener } from './channel.ts'
import { FRAME, type FramedTransport, framed, transportOver } from './frames.ts'

const GATE_VERSION = 1
const NONCE_BYTES = 32
/** A greeting is under 400 bytes; nothing longer is looked at before both are proven (project value). */
const GATE_FRAME_BYTES = 2048
/** Frames that may wait while a proof is looked at: one message of the exchange and a little more (project value). */
const WAITING_FRAMES = 90
/** From the first word to the proof (project value; measured on one machine: 6 ms, at most 33). */
export const GATE_LIMIT_MS = 5_000

const base64Url = z.string().max(200)
const helloSchema = z.strictObject({
  gate: z.literal('hello'),
  v: z.number().int(),
  casebook: casebookIdSchema,
  device: deviceIdSchema,
  key: base64Url,
  nonce: base64Url,
})
const gateMessageSchema = z.discriminatedUnion('gate', [
  helloSchema,
  z.strictObject({ gate: z.literal('proof'), signature: base64Url }),
  z.strictObject({ gate: z.literal('open') }),
])
type Hello = z.infer<typeof helloSchema>

/** Who stands at this side, and whom it lets in. */
export interface GateKeeper {
  readonly deviceKey: DeviceKey
  /** Undefined on a device that is being invited: it takes the casebook that the code told it to expect. */
  readonly casebookId?: CasebookId
  admitsCasebook(casebook: CasebookId): boolean
  /** True for a device in good standing, or for the one whose code was read. */
  admits(device: DeviceId): boolean
}

/** What the two ends of this very connection are, so that a proof is worth nothing on another one. */
export interface Fingerprints {
  readonly here: string
  readonly there: string
}

export interface GateSurroundings {
  readonly channel: Channel
  /** Those of the certificates of this connection (DTLS); both are known once it stands. */
  fingerprints(): Promise<Fingerprints>
  readonly timer: Timer
  readonly randomBytes: RandomBytes
}

export interface GateFailure {
  readonly type:
    | 'closed-early'
    | 'no-proof-in-time'
    | 'other-gate-version'
    | 'met-itself'
    | 'other-casebook'
    | 'not-in-crew'
    | 'false-proof'
    | 'unexpected'
  readonly message: string
}

const NOTHING_LEFT = 'Nothing was exchanged.'
const FAILURES: Readonly<Record<GateFailure['type'], string>> = {
  'closed-early': `The other device hung up before it had shown who it is. ${NOTHING_LEFT} Try again; if it goes on, ask whether this device was struck off.`,
  'no-proof-in-time': `The other device did not show in time who it is. ${NOTHING_LEFT} Go nearer to each other and try again.`,
  'other-gate-version': `The two apps are too far apart to recognise each other. ${NOTHING_LEFT} Update the older one, or carry a bundle.`,
  'met-itself': `This device met itself. ${NOTHING_LEFT}`,
  'other-casebook': `The other device holds another casebook. ${NOTHING_LEFT} Open the same casebook on both and try again.`,
  'not-in-crew': `The other device is not in the crew, or was struck off. ${NOTHING_LEFT} One of the crew can invite it by two codes.`,
  'false-proof': `The other device could not prove who it is on this connection: somebody may stand between the two. ${NOTHING_LEFT} Meet by two codes, where both can see each other.`,
  unexpected: `The other device broke off the greeting with something that does not belong there. ${NOTHING_LEFT} Try again; if it goes on, update both apps.`,
}

/** An open gate: who the other one is, proven, and the way to it. */
export interface Opened {
  readonly device: DeviceId
  readonly publicKey: string
  readonly casebookId: CasebookId
  readonly transport: FramedTransport
}

/** Carries why the gate stays shut through the steps below. */
class Refusal extends Error {
  readonly type: GateFailure['type']
  constructor(type: GateFailure['type']) {
    super(type)
    this.type = type
  }
}

/** Everything a proof says; the length of each part stands before it, so that none can run into the next. */
const provenWords = (
  casebook: CasebookId,
  signer: { readonly device: DeviceId; readonly nonce: string; readonly fingerprint: string },
  other: { readonly device: DeviceId; readonly nonce: string; readonly fingerprint: string },
): Uint8Array =>
  new ByteWriter()
    .text('outspoke gate 1')
    .text(casebook)
    .text(signer.device)
    .text(other.device)
    .text(signer.nonce)
    .text(other.nonce)
    .text(signer.fingerprint)
    .text(other.fingerprint)
    .done()

const read = (part: Uint8Array): z.infer<typeof gateMessageSchema> => {
  try {
    return gateMessageSchema.parse(JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(part)))
  } catch {
    // Not a word of this gate, whatever it is.
    throw new Refusal('unexpected')
  }
}

const bytesOf = (text: string): Uint8Array => {
  try {
    return fromBase64Url(text)
  } catch (error) {
    if (error instanceof UnreadableBytes) throw new Refusal('unexpected')
    throw error
  }
}

/**
 * Lets nothing through, either way, before both ends have proven with their device keys that they belong together and
 * that nobody stands between them: each signs the casebook, both devices, both nonces and the fingerprints of both
 * certificates of this connection. Only frames of the gate pass until then, none longer than 2 KiB. Fails in words, and
 * then the channel is closed.
 */
export const passGate = (keeper: GateKeeper, surroundings: GateSurroundings): Promise<Result<Opened, GateFailure>> =>
  new Promise(resolve => new Gate(keeper, surroundings, resolve).stand())

class Gate implements ChannelListener {
  readonly #keeper: GateKeeper
  readonly #surroundings: GateSurroundings
  readonly #settle: (result: Result<Opened, GateFailure>) => void
  readonly #nonce: string
  #hello: Hello | undefined
  #hasTheirProof = false
  #hasTheirOpen = false
  #isSettled = false
  #stopLimit = (): void => undefined
  /** One frame at a time, since proving waits; what comes meanwhile waits behind it. */
  #turn: Promise<void> = Promise.resolve()
  #waiting = 0
  #later: ChannelListener | undefined

  constructor(
    keeper: GateKeeper,
    surroundings: GateSurroundings,
    settle: (result: Result<Opened, GateFailure>) => void,
  ) {
    this.#keeper = keeper
    this.#surroundings = surroundings
    this.#settle = settle
    this.#nonce = toBase64Url(surroundings.randomBytes(NONCE_BYTES))
  }

  stand(): void {
    const { channel, timer } = this.#surroundings
    this.#stopLimit = timer.later(() => this.#refuse('no-proof-in-time'), GATE_LIMIT_MS)
    channel.listen(this)
    // Whoever is being invited learns the casebook from the other one's greeting, and greets then.
    if (this.#keeper.casebookId) this.#greet(this.#keeper.casebookId)
  }

  frame(frame: Uint8Array): void {
    if (this.#isSettled && !this.#later) return
    if (this.#later && this.#waiting === 0) this.#later.frame(frame)
    else if (this.#waiting === WAITING_FRAMES) this.#refuse('unexpected')
    else this.#queue(frame.slice())
  }

  /** Behind what came before. */
  closed(): void {
    this.#turn = this.#turn.then(() => {
      if (this.#later) this.#later.closed()
      else this.#refuse('closed-early')
    })
  }

  #queue(frame: Uint8Array): void {
    this.#waiting += 1
    this.#turn = this.#turn.then(async () => {
      this.#waiting -= 1
      if (this.#later) this.#later.frame(frame)
      else if (frame[0] === FRAME.gate && frame.length <= GATE_FRAME_BYTES) await this.#take(frame.subarray(1))
      else this.#refuse('unexpected')
    })
  }

  async #take(part: Uint8Array): Promise<void> {
    if (this.#isSettled) return
    try {
      const message = read(part)
      if (message.gate === 'hello') await this.#takeHello(message)
      else if (message.gate === 'proof') await this.#takeProof(message.signature)
      else this.#takeOpen()
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      this.#refuse(error.type)
    }
  }

  #greet(casebook: CasebookId): void {
    const { device, publicKey } = this.#keeper.deviceKey
    this.#say({ gate: 'hello', v: GATE_VERSION, casebook, device, key: publicKey, nonce: this.#nonce })
  }

  async #takeHello(hello: Hello): Promise<void> {
    const { deviceKey, casebookId } = this.#keeper
    if (this.#hello) throw new Refusal('unexpected')
    if (hello.v !== GATE_VERSION) throw new Refusal('other-gate-version')
    if (hello.device === deviceKey.device || hello.nonce === this.#nonce) throw new Refusal('met-itself')
    if (casebookId ? hello.casebook !== casebookId : !this.#keeper.admitsCasebook(hello.casebook))
      throw new Refusal('other-casebook')
    if (bytesOf(hello.nonce).length !== NONCE_BYTES) throw new Refusal('unexpected')
    if (!isKeyOf(hello.device, hello.key)) throw new Refusal('false-proof')
    if (!this.#keeper.admits(hello.device)) throw new Refusal('not-in-crew')
    this.#hello = hello
    if (!casebookId) this.#greet(hello.casebook)
    const { here, there } = await this.#surroundings.fingerprints()
    const words = provenWords(
      hello.casebook,
      { device: deviceKey.device, nonce: this.#nonce, fingerprint: here },
      { device: hello.device, nonce: hello.nonce, fingerprint: there },
    )
    this.#say({ gate: 'proof', signature: toBase64Url(await deviceKey.sign(words)) })
  }

  async #takeProof(signature: string): Promise<void> {
    const hello = this.#hello
    if (!hello || this.#hasTheirProof) throw new Refusal('unexpected')
    const { here, there } = await this.#surroundings.fingerprints()
    const verify = await importVerifier(hello.key)
    const words = provenWords(
      hello.casebook,
      { device: hello.device, nonce: hello.nonce, fingerprint: there },
      { device: this.#keeper.deviceKey.device, nonce: this.#nonce, fingerprint: here },
    )
    if (!verify || !(await verify(words, bytesOf(signature)))) throw new Refusal('false-proof')
    // Struck off while it was proving itself.
    if (!this.#keeper.admits(hello.device)) throw new Refusal('not-in-crew')
    this.#hasTheirProof = true
    this.#say({ gate: 'open' })
    this.#openIfProven(hello)
  }

  #takeOpen(): void {
    if (!this.#hello || this.#hasTheirOpen) throw new Refusal('unexpected')
    this.#hasTheirOpen = true
    this.#openIfProven(this.#hello)
  }

  #openIfProven({ device, key, casebook }: Hello): void {
    if (!this.#hasTheirProof || !this.#hasTheirOpen || this.#isSettled) return
    this.#isSettled = true
    this.#stopLimit()
    const { channel, timer } = this.#surroundings
    const transport = transportOver({
      channel,
      timer,
      takeOver: hears => {
        this.#later = hears
      },
    })
    this.#settle(success({ device, publicKey: key, casebookId: casebook, transport }))
  }

  #say(message: z.infer<typeof gateMessageSchema>): void {
    if (this.#isSettled) return
    this.#surroundings.channel.send(framed(FRAME.gate, new TextEncoder().encode(JSON.stringify(message))))
  }

  #refuse(type: GateFailure['type']): void {
    if (this.#isSettled) return
    this.#isSettled = true
    this.#stopLimit()
    this.#surroundings.channel.close()
    this.#settle(failure({ type, message: FAILURES[type] }))
  }
}
