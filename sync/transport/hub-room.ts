import { type Room, type SignallingLine, WebrtcProvider } from 'y-webrtc'
import { emptyDocument } from '../case-document.ts'
import { type PeerChannel, takeOverPeer } from './peer-channel.ts'

/**
 * A room of y-webrtc at a hub, around an empty document. The hub learns its name and how many are in it, and passes on what
 * it cannot read: the offers and answers are sealed with the password.
 */
export interface HubRoom {
  connections(): Room
  /** Whether the hub answers. */
  isReached(): boolean
  /** Leaves the room and hangs up. */
  leave(): void
}

export interface HubRoomOptions {
  /** The hub's address for signalling: `wss://`, or `ws://` on this machine. */
  readonly hub: string
  readonly name: string
  readonly password: string
  /** Another one in the room, in the turn in which the connection to it is made. `id` is its name in this room. */
  readonly onPeer: (id: string, peer: PeerChannel) => void
  /** The hub answers, or answers no more. */
  readonly onReach?: () => void
}

/** Rooms that were entered at a hub, by name. */
const entered = new Set<string>()
const guarded = new WeakSet<SignallingLine>()

/**
 * The library tells every hub of every room in this page, those of two codes too, whose name is nobody's business, and in plain
 * words, for which a hub closes the line. What is not about a room that was entered at a hub stays here.
 */
const onlyOfEntered = (line: SignallingLine): void => {
  // All rooms at one hub share a line.
  if (guarded.has(line)) return
  guarded.add(line)
  const send = line.send.bind(line)
  line.send = message => {
    if (message.topic !== undefined && !entered.has(message.topic)) return
    const topics = message.topics?.filter(topic => entered.has(topic))
    if (topics?.length === 0) return
    send(topics ? { ...message, topics } : message)
  }
}

export const openHubRoom = async ({ hub, name, password, onPeer, onReach }: HubRoomOptions): Promise<HubRoom> => {
  entered.add(name)
  const provider = new WebrtcProvider(name, emptyDocument(), {
    signaling: [hub],
    password,
    peerOpts: { trickle: true, config: { iceServers: [] } },
  })
  for (const line of provider.signalingConns) onlyOfEntered(line)
  provider.on('peers', ({ added }) => {
    for (const id of added) {
      const made = provider.room?.webrtcConns.get(id)
      // Tabs of this browser find each other another way, and share one store.
      if (!made) continue
      // Of two that announce themselves at once both would offer; one would have to give way, and may then never be reached
      // (Chromium, in a gathering that is rolled back). So the lower name offers; the library announces the other one anew
      // when its own offer goes, and is offered to.
      if (made.peer.initiator && provider.room && provider.room.peerId > id) {
        made.destroy()
        continue
      }
      const peer = takeOverPeer(made.peer)
      onPeer(id, peer)
      // Once it stands, nobody can put another end in its place by a later offer.
      void peer.connected.then(() => {
        made.peer.signal = () => undefined
      })
    }
  })
  await provider.key
  const { room } = provider
  if (!room) throw new Error('a provider of y-webrtc without a room')
  if (onReach)
    for (const line of provider.signalingConns) {
      line.on('connect', onReach)
      line.on('disconnect', onReach)
    }
  return {
    connections: () => room,
    isReached: () => provider.signalingConns.some(({ connected }) => connected),
    leave() {
      // Destroyed alone, the library would stay on the line to the hub.
      provider.disconnect()
      provider.destroy()
      entered.delete(name)
    },
  }
}
