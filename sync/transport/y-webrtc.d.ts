/**
 * What is used of y-webrtc 10.3.0, its internals too: its package points TypeScript to no types.
 * `tests/browser/transport/y-webrtc-parts.test.ts` holds this against the real one.
 */
declare module 'y-webrtc' {
  /** What a connection hands its offers and answers to. */
  export interface Signalling {
    send(message: { readonly data: { readonly signal: { readonly type: string; readonly sdp?: string } } }): void
  }

  export class WebrtcConn {
    constructor(signalling: Signalling, initiator: boolean, remotePeerId: string, room: Room)
    readonly peer: import('./peer-channel.ts').Peer
    readonly connected: boolean
    readonly closed: boolean
    destroy(): void
  }

  export interface Room {
    readonly name: string
    /** This end's name in the room, another one each time. */
    readonly peerId: string
    readonly webrtcConns: Map<string, WebrtcConn>
    readonly bcConns: Set<string>
  }

  export interface PeersChange {
    readonly added: readonly string[]
    readonly removed: readonly string[]
  }

  export interface ProviderOptions {
    readonly signaling: string[]
    /** Seals what goes through the signalling server; the room's name is its salt. */
    readonly password?: string
    readonly maxConns?: number
    readonly peerOpts: { readonly trickle: boolean; readonly config: RTCConfiguration }
  }

  /** A line to a signalling server, shared by all rooms that are looked for there. */
  export interface SignallingLine {
    readonly connected: boolean
    send(message: { readonly topics?: readonly string[]; readonly topic?: string }): void
    on(event: 'connect' | 'disconnect', listener: () => void): void
  }

  export class WebrtcProvider {
    constructor(roomName: string, document: { readonly clientID: number }, options: ProviderOptions)
    /** Resolves when there is a room. */
    readonly key: PromiseLike<unknown>
    readonly room: Room | null
    /** The lines to the signalling servers. */
    readonly signalingConns: readonly SignallingLine[]
    on(event: 'peers', listener: (change: PeersChange) => void): void
    connect(): void
    disconnect(): void
    destroy(): void
  }
}
