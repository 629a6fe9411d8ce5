import type { ReactiveController, ReactiveControllerHost } from 'lit'

/** The lock that keeps a screen on; missing in older browsers, and then the screen does as the system is set. */
type WakeLocks = Pick<WakeLock, 'request'>

/**
 * Keeps the screen on while its element is there and wants it. A system takes the lock away with the page and does not give
 * it back: it is asked for again whenever the page is in sight.
 */
export class StayAwakeController implements ReactiveController {
  readonly #isWanted: () => boolean
  readonly #locks: WakeLocks | undefined
  #lock: WakeLockSentinel | undefined
  #isConnected = false
  #isAsking = false

  constructor(
    host: ReactiveControllerHost,
    isWanted: () => boolean = () => true,
    locks: WakeLocks | undefined = navigator.wakeLock,
  ) {
    this.#isWanted = isWanted
    this.#locks = locks
    host.addController(this)
  }

  hostConnected(): void {
    this.#isConnected = true
    document.addEventListener('visibilitychange', this.#look)
    this.#look()
  }

  hostDisconnected(): void {
    this.#isConnected = false
    document.removeEventListener('visibilitychange', this.#look)
    this.#look()
  }

  hostUpdated(): void {
    this.#look()
  }

  readonly #look = (): void => {
    const isWanted = this.#isConnected && document.visibilityState === 'visible' && this.#isWanted()
    if (!isWanted) {
      void this.#lock?.release()
      this.#lock = undefined
    } else if (this.#lock === undefined || this.#lock.released) void this.#ask()
  }

  async #ask(): Promise<void> {
    if (this.#isAsking || !this.#locks) return
    this.#isAsking = true
    try {
      this.#lock = await this.#locks.request('screen')
    } catch {
      // Refused, as by a system that saves its battery: the screen does as it is set.
      return
    } finally {
      this.#isAsking = false
    }
    // Not wanted any more, perhaps, while it was asked for.
    if (!this.#isConnected || !this.#isWanted()) this.#look()
  }
}
