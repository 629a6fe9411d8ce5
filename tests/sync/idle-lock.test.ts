import { describe, expect, it } from 'vitest'
import { type IdleTimer, startIdleLock } from '../../sync/trust/idle-lock.ts'

const MINUTE_MS = 60_000

/** A clock that a test moves. Asleep, the clock goes on and timers do not, as on a phone in a pocket. */
const handClock = () => {
  let now = 1_000_000
  let waiting: { readonly at: number; readonly work: () => void } | null = null
  const timer: IdleTimer = {
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

const started = (idleMinutes: number) => {
  const clock = handClock()
  let locked = 0
  const lock = startIdleLock(idleMinutes * MINUTE_MS, clock.timer, () => {
    locked += 1
  })
  return { ...clock, lock, locked: () => locked }
}

describe('the idle lock', () => {
  it('locks once when nobody has touched anything for the limit, and not a moment before', () => {
    const { pass, locked } = started(5)
    pass(5 * MINUTE_MS - 1)
    expect(locked()).toBe(0)
    pass(1)
    expect(locked()).toBe(1)
    pass(60 * MINUTE_MS)
    expect(locked()).toBe(1)
  })

  it('counts from the last touch', () => {
    const { pass, lock, locked } = started(5)
    pass(4 * MINUTE_MS)
    lock.touched()
    pass(4 * MINUTE_MS)
    expect(locked()).toBe(0)
    pass(MINUTE_MS)
    expect(locked()).toBe(1)
  })

  it('locks as soon as the page is shown after a long sleep, in which no timer ran', () => {
    const { sleep, lock, locked } = started(5)
    sleep(20 * MINUTE_MS)
    expect(locked()).toBe(0)
    lock.shown()
    expect(locked()).toBe(1)
  })

  it('is not kept open by the touch that wakes the phone', () => {
    const { sleep, lock, locked } = started(5)
    sleep(20 * MINUTE_MS)
    lock.touched()
    expect(locked()).toBe(1)
  })

  it('waits no longer than the limit after the clock was set back', () => {
    const { pass, sleep, lock, locked } = started(5)
    sleep(-600 * MINUTE_MS)
    lock.shown()
    pass(5 * MINUTE_MS)
    expect(locked()).toBe(1)
  })

  it('does nothing more once stopped', () => {
    const { pass, sleep, lock, locked, isWaiting } = started(5)
    lock.stop()
    expect(isWaiting()).toBe(false)
    sleep(60 * MINUTE_MS)
    lock.touched()
    pass(60 * MINUTE_MS)
    expect(locked()).toBe(0)
  })
})
