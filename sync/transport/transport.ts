/**
 * Longest message an end sends or takes, in bytes: one update at its own limit of 1 MiB and what stands around it
 * (project value). Longer is a fault of the sender; a real adapter splits messages into frames below this port.
 */
export const MESSAGE_LIMIT_BYTES = 1280 * 1024

/**
 * Messages that may wait unread at one end. The exchange asks and answers in turn, so that two or three wait at most;
 * more is a flood, and the end that is flooded closes (project value).
 */
export const INBOX_LIMIT_MESSAGES = 8

/** Why a connection is over. `type` is a stable key; `message` says it in words for a person. */
export interface ClosedBecause {
  readonly type: 'ended' | 'cut' | 'silent' | 'flooded' | 'refused'
  readonly message: string
}

/**
 * One end of a connection to one other device: whole messages, in order, each at most once. It knows nothing of what
 * they say. An adapter over a real channel also closes itself, as `silent`, when the other end stays mute beyond its
 * limit: there is no clock above this port.
 */
export interface Transport {
  /** Resolves when there is room for more; says nothing about arrival. After the end it does nothing. Too long throws. */
  send(message: Uint8Array): Promise<void>
  /** The next message; what arrived before the end is still handed out, then `undefined` for ever. One reader at a time. */
  receive(): Promise<Uint8Array | undefined>
  /** Ends the connection for both. The first reason stays. */
  close(reason: ClosedBecause): void
  /** Resolves at the end, and never before. */
  readonly closed: Promise<ClosedBecause>
}

/** What an end is told when the other one closed: a real channel carries no reason across. */
export const OTHER_END_CLOSED: ClosedBecause = {
  type: 'ended',
  message: 'The other device ended the connection. What had been taken over by then is kept; meet again for the rest.',
}
export const CONNECTION_CUT: ClosedBecause = {
  type: 'cut',
  message: 'The connection broke off. What had been taken over by then is kept; meet again for the rest.',
}
export const SILENT: ClosedBecause = {
  type: 'silent',
  message: 'The other device fell silent. What had been taken over by then is kept; meet again for the rest.',
}
export const FLOODED: ClosedBecause = {
  type: 'flooded',
  message:
    'The other device sent more messages than were asked for, so the connection was closed. Nothing here was changed by them.',
}
export const DOUBLED: ClosedBecause = {
  type: 'ended',
  message: 'The two devices were connected twice; one connection is enough. What had been taken over by then is kept.',
}
