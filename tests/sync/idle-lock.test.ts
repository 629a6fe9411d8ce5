import { describe, expect, it } from 'vitest'
import { startIdleLock } from '../../sync/trust/idle-lock.ts'
import { handClock, MINUTE_MS } from '../support/hand-clock.ts'

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
