import type { CasebookId, DeviceId } from '../../src/ids.ts'
import { type CasebookSecret, secretsOfEpoch, wordFromSecret } from '../trust/casebook-secret.ts'
import type { DeviceKey } from '../trust/device-key.ts'
import type { GateFailure, Opened } from './gate.ts'
import { type HubRoom, openHubRoom } from './hub-room.ts'
import { type NoWayFailure, openPeer, type Surroundings } from './open-peer.ts'
import type { PeerChannel } from './peer-channel.ts'
import { DOUBLED } from './transport.ts'

/** From the first word through the hub to the open gate (project value; measured on one machine: under 1 s). */
export const CONNECTING_LIMIT_MS = 30_000
/** A hub that has not answered by then is told as missing; the library goes on trying (project value). */
export const HUB_LIMIT_MS = 10_000
/** After so many failures one after the other, the same one is left alone for a while (project values). */
const MOST_TRIES = 3
const LEFT_ALONE_MS = 60_000

export interface HubFailure {
  readonly type: 'hub-unreachable'
  readonly message: string
}
export type NearbyFailure = HubFailure | GateFailure | NoWayFailure

const HUB_UNREACHABLE: HubFailure = {
  type: 'hub-unreachable',
  message:
    'The hub does not answer. Nothing was exchanged, and nothing is lost. Join its hotspot and see that the hub runs; this device goes on trying. Two codes and bundles need no hub.',
}

export interface NearbyOptions extends Surroundings {
  readonly hub: string
  readonly deviceKey: DeviceKey
  readonly casebookId: CasebookId
  /** Those of this moment: the rooms are made from them. Begin anew when they change. */
  readonly secrets: readonly CasebookSecret[]
  /** Only members in good standing: a hub never invites. */
  admits(device: DeviceId): boolean
  readonly onMet: (opened: Opened) => void
  /** Told once for each other end until it succeeds. */
  readonly onFailure: (failure: NearbyFailure) => void
  /** The hub answers, or answers no more. */
  readonly onReach?: () => void
}

export interface Nearby {
  /** The newest room first. */
  readonly rooms: readonly HubRoom[]
  /** Whether the hub answers. */
  isReached(): boolean
  leave(): void
}

/**
 * One secret of each of the last two epochs: whoever has not heard of the last strike-off yet is found in the older room,
 * and hears of it there.
 */
const secretsOfRooms = (secrets: readonly CasebookSecret[]): readonly CasebookSecret[] => {
  const epochs = [...new Set(secrets.map(({ epoch }) => epoch))].sort((a, b) => b - a).slice(0, 2)
  return epochs.flatMap(epoch => secretsOfEpoch(secrets, epoch).slice(0, 1))
}

interface Met {
  readonly rank: number
  readonly close: () => void
}

class NearbyRooms implements Nearby {
  readonly rooms: HubRoom[] = []
  readonly #options: NearbyOptions
  /** Failures one after the other, by the other end's name in its room. */
  readonly #tries = new Map<string, number>()
  /** The connection in use with each device; the lower rank stands in the newer room. */
  readonly #met = new Map<DeviceId, Met>()
  readonly #waits = new Set<() => void>()
  #isLeft = false

  constructor(options: NearbyOptions) {
    this.#options = options
  }

  async begin(): Promise<void> {
    const { hub, secrets, timer, onReach } = this.#options
    for (const [rank, secret] of secretsOfRooms(secrets).entries())
      this.rooms.push(
        await openHubRoom({
          hub,
          name: await wordFromSecret(secret, 'outspoke hub room 1'),
          password: await wordFromSecret(secret, 'outspoke hub password 1'),
          onPeer: (id, peer) => void this.#take(rank, id, peer),
          ...(onReach ? { onReach } : {}),
        }),
      )
    this.#waits.add(
      timer.later(() => {
        if (!this.isReached()) this.#options.onFailure(HUB_UNREACHABLE)
      }, HUB_LIMIT_MS),
    )
  }

  isReached(): boolean {
    return this.rooms.some(room => room.isReached())
  }

  leave(): void {
    this.#isLeft = true
    for (const callOff of this.#waits) callOff()
    for (const room of this.rooms) room.leave()
  }

  async #take(rank: number, id: string, peer: PeerChannel): Promise<void> {
    // Closing it would only bring it back at once, through the hub: it is held, mute, and tried again later.
    if ((this.#tries.get(id) ?? 0) >= MOST_TRIES) {
      this.#wait(() => {
        this.#tries.delete(id)
        peer.channel.close()
      }, LEFT_ALONE_MS)
      return
    }
    const callOff = this.#wait(() => peer.channel.close(), CONNECTING_LIMIT_MS)
    const opened = await openPeer(peer, this.#keeper(), this.#options)
    callOff()
    if (this.#isLeft) return
    if (!opened.ok) {
      const tries = (this.#tries.get(id) ?? 0) + 1
      this.#tries.set(id, tries)
      if (tries === 1) this.#options.onFailure(opened.failure)
      return
    }
    this.#tries.delete(id)
    this.#keep(rank, id, opened.value)
  }

  /** Members of both rooms find each other twice: the connection in the newer room stays. */
  #keep(rank: number, id: string, opened: Opened): void {
    const { device, transport } = opened
    const mine: Met = {
      rank,
      close: () => {
        this.#tries.set(id, MOST_TRIES)
        transport.close(DOUBLED)
      },
    }
    const other = this.#met.get(device)
    if (other && other.rank < rank) {
      mine.close()
      return
    }
    this.#met.set(device, mine)
    if (other && other.rank > rank) other.close()
    void transport.closed.then(() => {
      if (this.#met.get(device) === mine) this.#met.delete(device)
    })
    this.#options.onMet(opened)
  }

  #keeper() {
    const { deviceKey, casebookId } = this.#options
    return {
      deviceKey,
      casebookId,
      admitsCasebook: (casebook: CasebookId) => casebook === casebookId,
      admits: (device: DeviceId) => this.#options.admits(device),
    }
  }

  #wait(work: () => void, delayMs: number): () => void {
    const callOff = this.#options.timer.later(() => {
      this.#waits.delete(callOff)
      work()
    }, delayMs)
    this.#waits.add(callOff)
    return () => {
      this.#waits.delete(callOff)
      callOff()
    }
  }
}

/**
 * Meets everybody of the crew who is at the same hub, each behind the gate, and goes on trying until it is left. The hub
 * only introduces: it sees neither names nor keys nor anything of the casebook.
 */
export const meetNearby = async (options: NearbyOptions): Promise<Nearby> => {
  const nearby = new NearbyRooms(options)
  await nearby.begin()
  return nearby
}
