import type { Channel, ChannelListener } from './channel.ts'
import type { Fingerprints } from './gate.ts'

/** What is used of the simple-peer inside a connection of y-webrtc; `tests/browser/transport` holds it against the real one. */
export interface Peer {
  send(bytes: Uint8Array): void
  emit(event: string, ...args: readonly unknown[]): boolean
  signal(description: { readonly type: string; readonly sdp: string }): void
  destroy(): void
  readonly destroyed: boolean
  /** It makes the offer. */
  readonly initiator: boolean
  readonly _pc: RTCPeerConnection | null
  readonly _channel: RTCDataChannel | null
}

/** Frames that may come before anybody listens: a greeting and a little more (project value). */
const EARLY_FRAMES = 90
/** The channel below y-webrtc, taken over before anything passed through it. */
export interface PeerChannel {
  readonly channel: Channel
  /** True once frames can pass, false when the connection ended before. */
  readonly connected: Promise<boolean>
  fingerprints(): Promise<Fingerprints>
}

const fingerprintIn = (description: RTCSessionDescription): string => {
  const found = /^a=fingerprint:sha-256 (\S+)/im.exec(description.sdp)?.[1]
  if (!found) throw new Error('a connection without a fingerprint of SHA-256')
  return found.toUpperCase()
}

/** A plain array over the same bytes: the library's own kind of array does not copy when it is sliced. */
const plain = ({ buffer, byteOffset, byteLength }: Uint8Array): Uint8Array =>
  new Uint8Array(buffer, byteOffset, byteLength)

/**
 * Takes the sending and the hearing of a peer over from y-webrtc, in the turn in which the peer is made: from then on
 * nothing goes out or comes in but by `channel`. The library never learns that it is connected: its document stays empty,
 * and its presence, in which each device speaks for others too, is not used.
 */
export const takeOverPeer = (peer: Peer): PeerChannel => {
  const [send, emit] = [peer.send.bind(peer), peer.emit.bind(peer)]
  // Still tells its two ends after the peer has let go of it.
  const connection = peer._pc
  if (!connection) throw new Error('a peer without a connection')
  const early: Uint8Array[] = []
  let hears: ChannelListener | undefined
  let isClosed = false
  let isTold = false
  const wakeAtEnd = new Set<() => void>()
  let tellConnected: (isConnected: boolean) => void = () => undefined
  const connected = new Promise<boolean>(resolve => {
    tellConnected = resolve
  })

  const tellClosed = (): void => {
    isClosed = true
    tellConnected(false)
    for (const wake of wakeAtEnd) wake()
    if (!hears || isTold) return
    isTold = true
    hears.closed()
  }
  const close = (): void => {
    if (!peer.destroyed) peer.destroy()
  }
  const hearFrame = (frame: Uint8Array): void => {
    if (hears) hears.frame(frame)
    else if (early.length < EARLY_FRAMES) early.push(frame)
    else close()
  }

  peer.send = () => undefined
  peer.emit = (event, ...args) => {
    if (event === 'data') {
      hearFrame(plain(args[0] as Uint8Array))
      return true
    }
    if (event === 'connect') {
      tellConnected(true)
      return true
    }
    if (event === 'close' || event === 'error') tellClosed()
    return emit(event, ...args)
  }

  const channel: Channel = {
    send(frame) {
      if (isClosed || peer.destroyed || peer._channel?.readyState !== 'open') return
      try {
        send(frame)
      } catch {
        // The browser takes no more, whatever it says: frames may not be lost one by one, so this is the end.
        close()
      }
    },
    waitingBytes: () => peer._channel?.bufferedAmount ?? 0,
    drained: bytes =>
      new Promise(resolve => {
        const line = peer._channel
        if (!line || isClosed || line.bufferedAmount <= bytes) return resolve()
        line.bufferedAmountLowThreshold = bytes
        const settle = (): void => {
          line.removeEventListener('bufferedamountlow', settle)
          wakeAtEnd.delete(settle)
          resolve()
        }
        line.addEventListener('bufferedamountlow', settle)
        wakeAtEnd.add(settle)
      }),
    listen(listener) {
      hears = listener
      for (const frame of early.splice(0)) listener.frame(frame)
      if (isClosed) tellClosed()
    },
    close,
  }
  return {
    channel,
    connected,
    fingerprints: async () => {
      const { localDescription, remoteDescription } = connection
      if (!localDescription || !remoteDescription) throw new Error('a connection without its two descriptions')
      return { here: fingerprintIn(localDescription), there: fingerprintIn(remoteDescription) }
    },
  }
}
