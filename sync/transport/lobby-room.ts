import { type Room, type Signalling, WebrtcConn, WebrtcProvider } from 'y-webrtc'
import { toBase64Url } from '../bytes.ts'
import { emptyDocument } from '../case-document.ts'
import { platformRandom } from '../secret-keeper.ts'
import type { Description } from './pairing-code.ts'
import { type PeerChannel, takeOverPeer } from './peer-channel.ts'

const ROOM_NAME_BYTES = 16

/** A connection that is being made, and its channel. */
export interface LobbyConnection {
  readonly channel: PeerChannel
  /** What the browser says of this end once it knows where it can be reached; undefined when the connection ended before. */
  readonly description: Promise<Description | undefined>
  /** Gives the browser what the other end says of itself. */
  take(description: Description): void
  close(): void
}

/**
 * A room of y-webrtc that nobody can enter by its name: without any signalling, under a random name, with an empty document
 * that is never exchanged. It holds the connections that were made by two codes.
 */
export interface LobbyRoom {
  /** The connections that stand or are being made. */
  connections(): Room
  connect(isOffering: boolean): LobbyConnection
  close(): void
}

export const openLobbyRoom = async (): Promise<LobbyRoom> => {
  const document = emptyDocument()
  const provider = new WebrtcProvider(toBase64Url(platformRandom(ROOM_NAME_BYTES)), document, {
    // Neither a signalling server nor one that tells addresses: whatever is asked for stays between the two devices.
    signaling: [],
    peerOpts: { trickle: false, config: { iceServers: [] } },
  })
  await provider.key
  const { room } = provider
  if (!room) throw new Error('a provider of y-webrtc without a room')
  let made = 0

  return {
    connections: () => room,
    connect(isOffering) {
      let describe: (description: Description | undefined) => void = () => undefined
      const description = new Promise<Description | undefined>(resolve => {
        describe = resolve
      })
      const signalling: Signalling = {
        send({ data: { signal } }) {
          const { type, sdp } = signal
          if (sdp !== undefined && (type === 'offer' || type === 'answer')) describe({ type, sdp })
        },
      }
      made += 1
      const name = `connection ${made}`
      const connection = new WebrtcConn(signalling, isOffering, name, room)
      const channel = takeOverPeer(connection.peer)
      room.webrtcConns.set(name, connection)
      void channel.connected.then(isConnected => {
        if (!isConnected) describe(undefined)
      })
      return {
        channel,
        description,
        take({ type, sdp }) {
          if (!connection.peer.destroyed) connection.peer.signal({ type, sdp })
        },
        close: () => connection.destroy(),
      }
    },
    close() {
      provider.destroy()
      document.destroy()
    },
  }
}
