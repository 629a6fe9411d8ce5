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

/** A clock that a test can move: `later` calls `work` after so many milliseconds unless it is called off. */
export interface Timer {
  later(work: () => void, delayMs: number): () => void
}

export const platformTimer: Timer = {
  later: (work, delayMs) => {
    const timer = setTimeout(work, delayMs)
    return () => clearTimeout(timer)
  },
}
