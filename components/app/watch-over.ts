import { platformTimer } from '../../sync/timer.ts'
import { startIdleLock } from '../../sync/trust/idle-lock.ts'
import type { AppContext } from './context.ts'

/**
 * What counts as use. A long scroll under one finger sends touches and no new pointer; a screen reader may send nothing but
 * scrolling, focus and what it typed.
 */
const TOUCHES = [
  'pointerdown',
  'pointermove',
  'touchstart',
  'touchmove',
  'wheel',
  'scroll',
  'keydown',
  'input',
  'focusin',
] as const
const MS_PER_MINUTE = 60_000

/** Locks after so many minutes without a touch. Gives what ends the watch. */
export const watchIdle = (minutes: number, lock: () => void, timer = platformTimer): (() => void) => {
  const idle = startIdleLock(minutes * MS_PER_MINUTE, timer, lock)
  const touched = (): void => idle.touched()
  const shown = (): void => {
    if (document.visibilityState === 'visible') idle.shown()
  }
  for (const touch of TOUCHES) addEventListener(touch, touched, { capture: true, passive: true })
  document.addEventListener('visibilitychange', shown)
  return () => {
    idle.stop()
    for (const touch of TOUCHES) removeEventListener(touch, touched, { capture: true })
    document.removeEventListener('visibilitychange', shown)
  }
}

/** Tells when the day has changed: a phone that slept over midnight must not show yesterday's dues. */
export const watchDay = ({ today }: AppContext, changed: () => void): (() => void) => {
  let day = today()
  const look = (): void => {
    if (today() === day) return
    day = today()
    changed()
  }
  const id = setInterval(look, MS_PER_MINUTE)
  document.addEventListener('visibilitychange', look)
  return () => {
    clearInterval(id)
    document.removeEventListener('visibilitychange', look)
  }
}
