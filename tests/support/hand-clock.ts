import type { ClockTimer } from '../../sync/timer.ts'

export const MINUTE_MS = 60_000

/** A clock that a test moves. Asleep, the clock goes on and timers do not, as on a phone in a pocket. */
export const handClock = () => {
  let now = 1_000_000
  let waiting: { readonly at: number; readonly work: () => void } | null = null
  const timer: ClockTimer = {
    now: () => now,
    later: (work, delayMs) => {
      const mine = { at: now + delayMs, work }
      waiting = mine
      return () => {
        if (waiting === mine) waiting = null
      }
    },
  }
  const pass = (ms: number): void => {
    const end = now + ms
    while (waiting && waiting.at <= end) {
      const due: { readonly at: number; readonly work: () => void } = waiting
      waiting = null
      now = due.at
      due.work()
    }
    now = end
  }
  const sleep = (ms: number): void => {
    now += ms
  }
  return { timer, pass, sleep, isWaiting: () => waiting !== null }
}
