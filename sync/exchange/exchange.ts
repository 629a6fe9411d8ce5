import type { ReadFailure } from '../../src/result.ts'
import { equalBytes } from '../bytes.ts'
import type { Transport } from '../transport/transport.ts'
import { follow } from './follow.ts'
import { Inventory } from './inventory.ts'
import { lead } from './lead.ts'
import { HIGHEST_VERSION, LOWEST_VERSION } from './messages.ts'
import type { DocumentKey, Replica } from './replica.ts'
import { type Lacking, type RoundProgress, Session, Stopped } from './session.ts'
import type { Refused } from './tally.ts'

export type { Progress, RoundProgress } from './session.ts'
export type { Refused } from './tally.ts'

/** What one meeting did, as this device knows it. Counted from what the stores committed, never from what was sent. */
export interface ExchangeAccount {
  /**
   * `equal`: both hold the same entries. `unequal`: done, but something could not be handed over. `broken-off`: the
   * connection ended first. `refused`: one side ended it for a reason. In every case what was taken over is kept.
   */
  readonly status: 'equal' | 'unequal' | 'broken-off' | 'refused'
  readonly reason?: ReadFailure
  readonly weHaveEverything: boolean
  readonly peerHasEverything: boolean
  /** Where both are equal: what both held, by content hash, when they found that. What was written here since is not in it. */
  readonly heldByBoth: ReadonlyMap<DocumentKey, Uint8Array> | null
  readonly entriesReceived: number
  readonly entriesSent: number
  /** Documents that gained entries here. */
  readonly changed: readonly DocumentKey[]
  /** Documents of which the other device's copy was altered. Ours stand. */
  readonly altered: readonly DocumentKey[]
  /** What admission did not take: the first hundred, and how many in all. */
  readonly refused: readonly Refused[]
  readonly refusedCount: number
  readonly messagesSent: number
  readonly messagesReceived: number
  readonly bytesSent: number
  readonly bytesReceived: number
}

export interface ExchangeOptions {
  readonly onProgress?: (progress: RoundProgress) => void
  /**
   * Kept from one round to the next, so that only what changed is hashed again. One for each connection: it stands still
   * between comparing and listing, and another exchange would move it on.
   */
  readonly inventory?: Inventory
  /** 16 random bytes: the larger one of the two leads. Given by tests that repeat a run. */
  readonly nonce?: Uint8Array
}

/** Greets, agrees on a version and on who leads: true when it is this device. */
const greet = async (session: Session, nonce: Uint8Array): Promise<boolean> => {
  const { casebookId } = session.replica
  await session.send({ kind: 'hello', lowest: LOWEST_VERSION, highest: HIGHEST_VERSION, casebookId, nonce })
  const theirs = await session.receive()
  if (theirs.kind !== 'hello') return session.unexpected(theirs.kind)
  if (theirs.casebookId !== casebookId)
    return session.refuse(
      'other-casebook',
      'The two devices hold different casebooks. Nothing was exchanged. Open the same casebook on both and meet again.',
    )
  if (theirs.lowest > HIGHEST_VERSION || theirs.highest < LOWEST_VERSION)
    return session.refuse(
      'no-common-version',
      `The two apps are too far apart: one speaks versions ${LOWEST_VERSION} to ${HIGHEST_VERSION} of the exchange, the other ${theirs.lowest} to ${theirs.highest}. Nothing was exchanged. Update the older app, or carry a bundle.`,
    )
  if (equalBytes(theirs.nonce, nonce))
    return session.refuse('own-echo', 'This device met itself. Nothing was exchanged.')
  const first = nonce.findIndex((byte, index) => byte !== theirs.nonce[index])
  return (nonce[first] ?? 0) > (theirs.nonce[first] ?? 0)
}

/**
 * Exchanges everything two devices hold of one casebook over a connection that both trust already. Run at both ends. It
 * may break off anywhere: what a store committed stays, and the next meeting goes on from there. The connection is left
 * open after a good end and closed after a bad one. Only a failing store or a bug throws.
 */
export const exchange = async (
  replica: Replica,
  transport: Transport,
  options: ExchangeOptions = {},
): Promise<ExchangeAccount> => {
  const session = new Session(
    replica,
    transport,
    options.inventory ?? new Inventory(),
    options.onProgress ?? (() => undefined),
  )
  const nonce = options.nonce ?? globalThis.crypto.getRandomValues(new Uint8Array(16))
  try {
    const lacking = (await greet(session, nonce)) ? await lead(session) : await follow(session)
    return account(session, session.equal ? 'equal' : 'unequal', lacking)
  } catch (error) {
    if (error instanceof Stopped) {
      transport.close({ type: 'refused', message: error.message })
      // Equal when the hashes were last named, and nothing came since: the end of the line does not change that.
      if (error.status === 'broken-off' && session.equal)
        return account(session, 'equal', { here: false, there: false })
      return account(session, error.status, { here: true, there: true }, error.reason)
    }
    await session.send({
      kind: 'refuse',
      type: 'stopped-working',
      message: 'The other device met a fault of its own and stopped. What was acknowledged is kept on both.',
    })
    transport.close({ type: 'refused', message: 'This device met a fault of its own and stopped the exchange.' })
    throw error
  }
}

const account = (
  session: Session,
  status: ExchangeAccount['status'],
  lacking: Lacking,
  reason?: ReadFailure,
): ExchangeAccount => ({
  status,
  ...(reason ? { reason } : {}),
  weHaveEverything: !lacking.here,
  peerHasEverything: !lacking.there,
  heldByBoth: status === 'equal' ? session.compared : null,
  entriesReceived: session.tally.entriesReceived,
  entriesSent: session.entriesSent,
  changed: [...session.tally.changed],
  altered: [...session.tally.altered],
  refused: session.tally.refused,
  refusedCount: session.tally.refusedCount,
  ...session.traffic,
})
