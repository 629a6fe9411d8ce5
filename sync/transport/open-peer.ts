import { failure, type Result } from '../../src/result.ts'
import type { RandomBytes } from '../secret-keeper.ts'
import type { Timer } from '../timer.ts'
import { type GateFailure, type GateKeeper, type Opened, passGate } from './gate.ts'
import type { PeerChannel } from './peer-channel.ts'

export interface NoWayFailure {
  readonly type: 'no-way'
  readonly message: string
}

const NO_WAY: NoWayFailure = {
  type: 'no-way',
  message:
    'The two devices found no way to each other. Nothing was exchanged. Join the same hotspot on both, go nearer to each other and try again; if the hotspot keeps its guests apart, use another one or carry a bundle.',
}

/** What every meeting needs of the place where it runs. */
export interface Surroundings {
  readonly timer: Timer
  readonly randomBytes: RandomBytes
}

/** Waits until a peer stands, and passes the gate. A peer that does not open is closed. */
export const openPeer = async (
  peer: PeerChannel,
  keeper: GateKeeper,
  { timer, randomBytes }: Surroundings,
): Promise<Result<Opened, GateFailure | NoWayFailure>> => {
  if (!(await peer.connected)) return failure(NO_WAY)
  return passGate(keeper, { timer, randomBytes, channel: peer.channel, fingerprints: peer.fingerprints })
}
