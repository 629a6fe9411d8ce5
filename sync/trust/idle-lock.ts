import type { ClockTimer } from '../timer.ts'

export interface IdleLock {
  /** A person touched or typed something. */
  touched(): void
  /** The page came back into view: timers do not run while a phone sleeps, the clock does. */
  shown(): void
  stop(): void
}

/** Calls `lock` once, when nobody has touched anything for so long. Locking never drops what was saved. */
export const startIdleLock = (idleMs: number, timer: ClockTimer, lock: () => void): IdleLock => {
  let lastTouch = timer.now()
  let cancel: (() => void) | null = null
  let stopped = false

  const stop = (): void => {
    stopped = true
    cancel?.()
    cancel = null
  }
  const look = (): void => {
    if (stopped) return
    cancel?.()
    // A clock that was set back must not keep the store open for longer than the limit from now.
    lastTouch = Math.min(lastTouch, timer.now())
    const leftMs = lastTouch + idleMs - timer.now()
    if (leftMs > 0) {
      cancel = timer.later(look, leftMs)
      return
    }
    stop()
    lock()
  }
  look()
  return {
    touched: () => {
      // First the look: a touch after the limit comes too late to keep it open.
      look()
      lastTouch = timer.now()
    },
    shown: look,
    stop,
  }
}
