import { failure, type Result, success } from '../../src/result.ts'
import type { RandomBytes } from '../secret-keeper.ts'
import type { Timer } from '../timer.ts'
import { FRAME_BYTES, type FramedTransport, type Lobby } from './frames.ts'
import { type GateFailure, type GateKeeper, type Opened, passGate } from './gate.ts'
import type { PeerChannel } from './peer-channel.ts'

/** First bytes of y-webrtc's messages: what is below belongs to it, whether it is let through or not. */
const FIRST_OF_OURS = 128
/** Messages that wait until somebody listens (project value). */
const MOST_WAITING = 16

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

/** Presence goes to the library, the rest to whoever listens. */
const lobbyBesidePresence = ({ lobby }: FramedTransport, peer: PeerChannel): Lobby => {
  const early: Uint8Array[] = []
  let hears: ((message: Uint8Array) => void) | undefined
  peer.letIn(message => {
    if (message.length <= FRAME_BYTES) lobby.send(message)
  })
  lobby.listen(message => {
    if ((message[0] ?? 0) < FIRST_OF_OURS) peer.hearPresence(message)
    else if (hears) hears(message)
    else if (early.length < MOST_WAITING) early.push(message)
  })
  return {
    send: message => lobby.send(message),
    listen(hear) {
      hears = hear
      for (const message of early.splice(0)) hear(message)
    },
  }
}

/** Waits until a peer stands, passes the gate, and lets presence through behind it. A peer that does not open is closed. */
export const openPeer = async (
  peer: PeerChannel,
  keeper: GateKeeper,
  { timer, randomBytes }: Surroundings,
): Promise<Result<Opened, GateFailure | NoWayFailure>> => {
  if (!(await peer.connected)) return failure(NO_WAY)
  const passed = await passGate(keeper, { timer, randomBytes, channel: peer.channel, fingerprints: peer.fingerprints })
  if (!passed.ok) return passed
  const { transport } = passed.value
  return success({ ...passed.value, transport: { ...transport, lobby: lobbyBesidePresence(transport, peer) } })
}
