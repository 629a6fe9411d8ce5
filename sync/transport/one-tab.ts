/** What is asked of the browser: its locks, which all tabs of one address share. */
export type TabLocks = Pick<LockManager, 'request'>

/** Something that one tab at a time does for all of this browser. */
export interface OneTab {
  /** False while another tab does it. */
  readonly isHere: boolean
  /** Lets another tab do it, or stops waiting for it. */
  leave(): void
}

/**
 * Waits until no other tab holds `name`, and holds it then until `leave` or until this tab is gone. `changed` is called
 * whenever it is known anew who holds it.
 */
export const holdInOneTab = (locks: TabLocks, name: string, changed: (isHere: boolean) => void): OneTab => {
  let isHere = false
  let isLeft = false
  let letGo: () => void = () => undefined
  const held = new Promise<void>(resolve => {
    letGo = resolve
  })
  const hold = (): Promise<void> | undefined => {
    if (isLeft) return undefined
    isHere = true
    changed(true)
    return held
  }
  void locks.request(name, { ifAvailable: true }, lock => {
    if (lock) return hold()
    if (isLeft) return undefined
    changed(false)
    // Without waiting for it here: this request ends, and the next one stands in the queue.
    void locks.request(name, hold)
    return undefined
  })
  return {
    get isHere() {
      return isHere
    },
    leave() {
      isLeft = true
      isHere = false
      letGo()
    },
  }
}
