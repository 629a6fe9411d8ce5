import { type ExchangeAccount, exchange } from '../../sync/exchange/exchange.ts'
import { makeBundle } from '../../sync/transport/bundle.ts'
import { memoryLink } from '../../sync/transport/memory.ts'
import { type BundleAccount, takeBundle } from '../../sync/transport/take-bundle.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { accepted, type TripDevice } from './devices.ts'

/** The larger of two leads: so it is always the first one named, and the story is told alike each time. */
const LEADS = new Uint8Array(16).fill(2)
const FOLLOWS = new Uint8Array(16).fill(1)

/** What both sides say of one meeting. */
export type Meeting = readonly [ExchangeAccount, ExchangeAccount]

/** Two devices meet over a line; with `cutAfterMessages` it breaks after so many messages have arrived. */
export const meet = (one: TripDevice, other: TripDevice, cutAfterMessages?: number): Promise<Meeting> => {
  const link = memoryLink(cutAfterMessages === undefined ? {} : { cutAfterMessages })
  const [here, there] = link.ends
  return Promise.all([
    exchange(one.casebook, here, { nonce: LEADS }),
    exchange(other.casebook, there, { nonce: FOLLOWS }),
  ])
}

/** Seals all that a device holds into one file, under the newest secret it has. */
export const sealBundle = async ({ name, casebook }: TripDevice): Promise<Uint8Array> => {
  const secret = currentSecret(casebook.secrets())
  if (!secret) throw new Error(`${name} was never given the casebook secret`)
  return makeBundle(casebook, secret)
}

export const takeIn = async (file: Uint8Array, { casebook }: TripDevice): Promise<BundleAccount> =>
  accepted(await takeBundle(casebook, casebook.secrets(), file))

/** Meets in pairs until a whole round moves nothing. Gives the number of entries that moved. */
export const meetUntilNothingMoves = async (devices: readonly TripDevice[]): Promise<number> => {
  let moved = 0
  for (;;) {
    let inThisRound = 0
    for (const [index, one] of devices.entries())
      for (const other of devices.slice(index + 1)) {
        const [account] = await meet(one, other)
        inThisRound += account.entriesReceived + account.entriesSent
      }
    moved += inThisRound
    if (inThisRound === 0) return moved
  }
}
