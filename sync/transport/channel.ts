/**
 * What an adapter over a real data channel gives: frames in order, each whole and at most once. Nobody is trusted yet, and
 * nothing here is more than bytes.
 */
export interface Channel {
  /** Hands a frame over to be sent. After the end it does nothing. */
  send(frame: Uint8Array): void
  /** Bytes that were handed over and have not left yet. */
  waitingBytes(): number
  /** Resolves once at most `bytes` wait, or at the end. */
  drained(bytes: number): Promise<void>
  /** Called once. Frames that came before are handed on then, in order; `closed` comes once and last. */
  listen(hears: ChannelListener): void
  close(): void
}

export interface ChannelListener {
  frame(frame: Uint8Array): void
  closed(): void
}
