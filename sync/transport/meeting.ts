import { equalBytes } from '../bytes.ts'
import { type ExchangeAccount, type ExchangeOptions, exchange } from '../exchange/exchange.ts'
import type { DocumentKey, Replica } from '../exchange/replica.ts'
import type { Timer } from '../timer.ts'
import { type CasebookSecret, readSecrets, writeSecrets } from '../trust/casebook-secret.ts'
import { FRAME_BYTES, type FramedTransport, LOBBY } from './frames.ts'
import { type ClosedBecause, SILENT, type Transport } from './transport.ts'

/** More epochs than any crew lives through (project value); what comes beyond is not kept. */
const MOST_SECRETS = 200
/** How long an end may take for its next word of a round: its store may be slow, its frames say that it lives (project value). */
export const ANSWER_LIMIT_MS = 60_000
/** Rounds that the other end may ask for one after the other without anything to give or take (project value). */
export const MOST_IDLE_ROUNDS = 50

const STRUCK_OFF: ClosedBecause = {
  type: 'refused',
  message:
    'The other device was struck off meanwhile, so the connection was closed. What had been taken over by then is kept, and counts where one of the crew vouches for it.',
}
const ASKS_WITHOUT_END: ClosedBecause = {
  type: 'refused',
  message:
    'The other device asked again and again without anything new, so the connection was closed. What had been taken over by then is kept; meet again.',
}

/** What meets: one device's casebook. */
export interface MeetingCasebook extends Replica {
  secrets(): readonly CasebookSecret[]
  receiveSecret(secret: CasebookSecret): Promise<unknown>
}

/** Two devices that stay connected: what either learns is handed on at once. */
export interface Meeting {
  /** There is something new here. */
  handOn(): void
  /** Comes when the connection is over. Rejects only on a failing store or a bug. */
  readonly ended: Promise<ClosedBecause>
}

export interface MeetingOptions extends Omit<ExchangeOptions, 'nonce'> {
  readonly timer: Timer
  /** Whether the other device still stands in the crew; asked after every round. */
  admits(): boolean
  /** After every round of the exchange. */
  readonly onAccount: (account: ExchangeAccount) => void
}

/** The transport as one round sees it: the first message may be here already, and none is waited for without end. */
const roundOver = (transport: Transport, timer: Timer, first: Promise<Uint8Array | undefined>): Transport => {
  let waiting: Promise<Uint8Array | undefined> | undefined = first
  return {
    send: message => transport.send(message),
    close: reason => transport.close(reason),
    closed: transport.closed,
    async receive() {
      const message = waiting ?? transport.receive()
      waiting = undefined
      const callOff = timer.later(() => transport.close(SILENT), ANSWER_LIMIT_MS)
      try {
        return await message
      } finally {
        callOff()
      }
    },
  }
}

/** Hands the secrets on, once each time they differ: to somebody who was in the crew when the team documents were equal. */
const secretsOver = (casebook: MeetingCasebook, { lobby }: FramedTransport): (() => void) => {
  let handedOn = ''
  let keeping: Promise<unknown> = Promise.resolve()
  lobby.listen(LOBBY.secrets, message => {
    const read = readSecrets(message.subarray(1))
    if (!read.ok) return
    const held = casebook.secrets()
    const isHeld = (one: CasebookSecret) =>
      held.some(({ epoch, secret }) => epoch === one.epoch && secret === one.secret)
    const unknown = read.value.filter(one => !isHeld(one)).slice(0, Math.max(0, MOST_SECRETS - held.length))
    for (const secret of unknown) keeping = keeping.then(() => casebook.receiveSecret(secret))
  })
  return () => {
    const written = writeSecrets(casebook.secrets())
    const text = new TextDecoder().decode(written)
    if (text === handedOn || written.length >= FRAME_BYTES) return
    handedOn = text
    const message = new Uint8Array(written.length + 1)
    message[0] = LOBBY.secrets
    message.set(written, 1)
    lobby.send(message)
  }
}

/** Whether a casebook holds just what both held at the end of a round: what came by that round itself is no news. */
const isHeldByBoth = ({ heldByBoth }: ExchangeAccount, hashes: ReadonlyMap<DocumentKey, Uint8Array>): boolean =>
  heldByBoth?.size === hashes.size &&
  [...hashes].every(([key, hash]) => {
    const held = heldByBoth.get(key)
    return held !== undefined && equalBytes(held, hash)
  })

/**
 * Exchanges at once, and again whenever one of the two has something new, for as long as the connection stands. Whoever has
 * news begins a round by greeting; the other one, waiting for just that, joins in. Rounds never overlap: the lead's `done`
 * is the last word of one. The secrets follow a round that left both equal, so that whoever holds a new one knows the
 * strike it was made for.
 */
export const meet = (casebook: MeetingCasebook, transport: FramedTransport, options: MeetingOptions): Meeting => {
  let hasNews = true
  let wake: () => void = () => undefined
  const handOnSecrets = secretsOver(casebook, transport)

  const run = async (): Promise<ClosedBecause> => {
    for (let idleRounds = 0; ; ) {
      const first = transport.receive()
      if (!hasNews) {
        const news = new Promise<true>(resolve => {
          wake = () => resolve(true)
        })
        if (!(await Promise.race([first, news]))) return transport.closed
      }
      const isOurs = hasNews
      hasNews = false
      const account = await exchange(casebook, roundOver(transport, options.timer, first), options)
      options.onAccount(account)
      if (account.status === 'broken-off' || account.status === 'refused') return transport.closed
      idleRounds = isOurs || account.entriesReceived + account.entriesSent > 0 ? 0 : idleRounds + 1
      const reason = !options.admits() ? STRUCK_OFF : idleRounds > MOST_IDLE_ROUNDS ? ASKS_WITHOUT_END : undefined
      if (reason) {
        transport.close(reason)
        return reason
      }
      if (account.status === 'equal') handOnSecrets()
      if (hasNews && isHeldByBoth(account, casebook.hashes())) hasNews = false
    }
  }
  return {
    handOn() {
      hasNews = true
      wake()
    },
    ended: run(),
  }
}
