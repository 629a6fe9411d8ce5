/** Waiting that a test can move: `later` calls `work` after so many milliseconds unless it is called off. */
export interface Timer {
  later(work: () => void, delayMs: number): () => void
}

/** With the clock beside it, in milliseconds: on a phone that sleeps the clock goes on and timers do not. */
export interface ClockTimer extends Timer {
  now(): number
}

export const platformTimer: ClockTimer = {
  now: () => Date.now(),
  later: (work, delayMs) => {
    const timer = setTimeout(work, delayMs)
    return () => clearTimeout(timer)
  },
}
