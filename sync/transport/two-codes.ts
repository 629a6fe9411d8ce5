import type { CasebookId, DeviceId } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { equalBytes } from '../bytes.ts'
import type { DeviceKey } from '../trust/device-key.ts'
import type { GateFailure, GateKeeper, Opened } from './gate.ts'
import { type LobbyConnection, type LobbyRoom, openLobbyRoom } from './lobby-room.ts'
import { type NoWayFailure, openPeer, type Surroundings } from './open-peer.ts'
import {
  type Description,
  descriptionOf,
  isMarkOf,
  NO_CASEBOOK_MARK,
  type PairingCode,
  type PairingFailure,
  pairingCodeOf,
  readPairingCode,
  writeForPasting,
  writeForQr,
} from './pairing-code.ts'
import type { Standing } from './standing.ts'

export { type Standing, standingIn } from './standing.ts'

/** From reading the answer to the open gate (project value; measured on one machine: under 1 s). */
export const PAIRING_LIMIT_MS = 30_000

/** From the answer on screen to the open gate: time enough to find the other phone's camera (project value). */
export const SHOWN_ANSWER_LIMIT_MS = 300_000

/** The room stays until the goodbyes are said, which may take 2 s (project value). */
const LEAVE_AFTER_MS = 5_000

export interface TwoCodesOptions extends Surroundings {
  readonly deviceKey: DeviceKey
  /** Undefined on a device that is to be invited. */
  readonly casebookId?: CasebookId
  /** Not asked on a device that is to be invited. */
  standing(device: DeviceId): Standing
}

/** A code to be shown as a QR code of at most version 8 at level M, or sent as text. */
export interface ShownCode {
  readonly forQr: string
  readonly forPasting: string
}

/** Two devices that found and proved each other. */
export interface Met extends Opened {
  /** `inviting`: the other one has no casebook yet; `invited`: this one has none. */
  readonly as: 'member' | 'inviting' | 'invited'
}

export interface CodeFailure {
  readonly type:
    | 'own-code'
    | 'answer-for-offer'
    | 'offer-for-answer'
    | 'no-casebook'
    | 'other-casebook'
    | 'not-in-time'
    | 'given-up'
  readonly message: string
}
export type TwoCodesFailure = CodeFailure | PairingFailure | GateFailure | NoWayFailure

const FAILURES: Readonly<Record<CodeFailure['type'], string>> = {
  'own-code': 'This is the code of this device itself. Nothing was changed. Scan the code on the other screen.',
  'answer-for-offer':
    'This is an answer, and the other device asks for none. Nothing was changed. One device shows the first code, the other one scans it and shows the second.',
  'offer-for-answer':
    'Both devices show a first code. Nothing was changed. Close the code on one of them and scan the other one’s there.',
  'no-casebook':
    'Neither device holds a casebook. Nothing was changed. Found one on one of them, or find one of the crew.',
  'other-casebook':
    'The other device holds another casebook. Nothing was exchanged. Open the same casebook on both and try again.',
  'not-in-time':
    'The two devices did not find each other in time. Nothing was exchanged. Join the same hotspot on both, go nearer to each other, and begin again with new codes.',
  'given-up': 'The meeting was given up here. Nothing was exchanged. Begin again with a new code.',
}
const failed = (type: CodeFailure['type']): Result<never, CodeFailure> => failure({ type, message: FAILURES[type] })

/**
 * One attempt of two devices to meet by two codes, without any service in between: one shows an offer, the other reads it
 * and shows an answer, the first reads that. The codes live as long as the page; for another attempt make another one.
 */
export class TwoCodes {
  readonly #options: TwoCodesOptions
  #expected: PairingCode | undefined
  #shown: Promise<Result<ShownCode, TwoCodesFailure>> | undefined
  #isAnswering = false
  #isOver = false
  #lobby: LobbyRoom | undefined
  #connection: LobbyConnection | undefined
  #settle: (result: Result<Met, TwoCodesFailure>) => void = () => undefined
  #stopLimit = (): void => undefined
  /** Comes once, when both have proven themselves or the attempt has failed; a code that is not taken does not end it. */
  readonly met: Promise<Result<Met, TwoCodesFailure>>

  constructor(options: TwoCodesOptions) {
    this.#options = options
    this.met = new Promise(resolve => {
      this.#settle = resolve
    })
  }

  /** The room behind it, once there is a code. */
  get lobby(): LobbyRoom | undefined {
    return this.#lobby
  }

  showOffer(): Promise<Result<ShownCode, TwoCodesFailure>> {
    if (this.#isAnswering) throw new Error('an offer in an attempt that answers one')
    this.#shown ??= this.#connect(true).then(described => this.#show(described))
    return this.#shown
  }

  /**
   * Takes the other one's offer and gives the answer to show; from here on there is a limit. Reading it again, as a camera
   * does, gives the same answer.
   */
  async readOffer(text: string): Promise<Result<ShownCode, TwoCodesFailure>> {
    const offer = this.#read(text, 'offer')
    if (!offer.ok) return offer
    if (this.#shown && !this.#isAnswering) throw new Error('an answer in an attempt that offers')
    if (!this.#shown) {
      this.#isAnswering = true
      this.#expected = offer.value
      this.#limit(SHOWN_ANSWER_LIMIT_MS)
      this.#shown = this.#connect(false, descriptionOf(offer.value)).then(described => this.#show(described))
    }
    return this.#shown
  }

  /** Takes the answer to the offer that was shown: from here on there is a limit. Reading it again does nothing more. */
  readAnswer(text: string): Result<undefined, TwoCodesFailure> {
    const answer = this.#read(text, 'answer')
    if (!answer.ok) return answer
    if (!this.#connection) throw new Error('an answer without an offer')
    if (this.#expected) return success(undefined)
    this.#expected = answer.value
    this.#limit(PAIRING_LIMIT_MS)
    this.#connection.take(descriptionOf(answer.value))
    return success(undefined)
  }

  /** Ends the attempt, or the connection that came of it. */
  close(): void {
    this.#end('given-up')
  }

  #limit(limitMs: number): void {
    this.#stopLimit = this.#options.timer.later(() => this.#end('not-in-time'), limitMs)
  }

  #end(type: CodeFailure['type']): void {
    this.#isOver = true
    this.#stopLimit()
    this.#settle(failed(type))
    this.#connection?.close()
    this.#lobby?.close()
  }

  #read(text: string, role: PairingCode['role']): Result<PairingCode, TwoCodesFailure> {
    const read = readPairingCode(text)
    if (!read.ok) return read
    const code = read.value
    const { casebookId, deviceKey } = this.#options
    if (code.device === deviceKey.device) return failed('own-code')
    if (code.role !== role) return failed(role === 'offer' ? 'answer-for-offer' : 'offer-for-answer')
    const isNewcomer = equalBytes(code.casebookMark, NO_CASEBOOK_MARK)
    if (!casebookId) return isNewcomer ? failed('no-casebook') : read
    return isNewcomer || isMarkOf(code.casebookMark, casebookId) ? read : failed('other-casebook')
  }

  #as(): Met['as'] {
    if (!this.#options.casebookId) return 'invited'
    const mark = this.#expected?.casebookMark
    return mark && equalBytes(mark, NO_CASEBOOK_MARK) ? 'inviting' : 'member'
  }

  /** Lets in the device whose code was read, and nobody else. */
  #keeper(): GateKeeper {
    const { deviceKey, casebookId, standing } = this.#options
    return {
      deviceKey,
      ...(casebookId ? { casebookId } : {}),
      admitsCasebook: casebook => this.#expected !== undefined && isMarkOf(this.#expected.casebookMark, casebook),
      admits: device => {
        if (device !== this.#expected?.device) return false
        if (this.#as() === 'invited') return true
        return this.#as() === 'inviting' ? standing(device) !== 'struck' : standing(device) === 'member'
      },
    }
  }

  /** Undefined when the connection was gone before it was described. */
  async #connect(isOffering: boolean, theirs?: Description): Promise<Description | undefined> {
    const lobby = await openLobbyRoom()
    if (this.#isOver) {
      lobby.close()
      return undefined
    }
    const connection = lobby.connect(isOffering)
    this.#lobby = lobby
    this.#connection = connection
    const { timer } = this.#options
    void openPeer(connection.channel, this.#keeper(), this.#options).then(opened => {
      this.#stopLimit()
      if (!opened.ok) lobby.close()
      else void opened.value.transport.closed.then(() => timer.later(() => lobby.close(), LEAVE_AFTER_MS))
      this.#settle(opened.ok ? success({ ...opened.value, as: this.#as() }) : opened)
    })
    if (theirs) connection.take(theirs)
    return connection.description
  }

  async #show(described: Description | undefined): Promise<Result<ShownCode, TwoCodesFailure>> {
    if (!described) return this.met.then(met => (met.ok ? failed('given-up') : met))
    const { deviceKey, casebookId } = this.#options
    const code = pairingCodeOf(described, deviceKey.device, casebookId)
    if (code.ok) return success({ forQr: writeForQr(code.value), forPasting: writeForPasting(code.value) })
    this.#settle(code)
    this.close()
    return code
  }
}
