import { HUB_PATH } from '../../sync/transport/hub-path.ts'
import type { HubVisit, HubVisitOptions } from '../../sync/transport/hub-visit.ts'
import type { TabLocks } from '../../sync/transport/one-tab.ts'

/** Where the app came from: there may be a hub, and no other place is ever asked. */
export interface HubPlace {
  readonly protocol: string
  readonly host: string
}

/** What the composition root hands in. */
export interface HubPorts {
  readonly place: HubPlace
  readonly locks?: TabLocks
  /** Its code comes when a hub is joined for the first time. */
  loadHub(): Promise<typeof import('./hub-engine.ts')>
}
type HubStayParts = HubPorts & Omit<HubVisitOptions, 'hub' | 'meetNearby'>

/** Being with the hub that the app came from, or not: by one tap, until it is left or the casebook is closed. */
export class HubStay {
  readonly #parts: HubStayParts
  readonly #listeners = new Set<() => void>()
  #visit: HubVisit | undefined
  #isWanted = false

  constructor(parts: HubStayParts) {
    this.#parts = parts
  }

  /** The hub by its name, as people read it. */
  get host(): string {
    return this.#parts.place.host
  }

  /** Undefined while no hub is joined. */
  get visit(): HubVisit | undefined {
    return this.#visit
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  async join(): Promise<void> {
    if (this.#isWanted) return
    this.#isWanted = true
    const { place, loadHub, ...parts } = this.#parts
    try {
      const { HubVisit, meetNearby } = await loadHub()
      if (!this.#isWanted) return
      const hub = `${place.protocol === 'https:' ? 'wss' : 'ws'}://${place.host}${HUB_PATH}`
      this.#visit = new HubVisit({ ...parts, hub, meetNearby })
      this.#visit.subscribe(() => this.#tell())
      this.#tell()
    } catch (error) {
      this.#isWanted = false
      throw error
    }
  }

  leave(): void {
    this.#isWanted = false
    this.#visit?.leave()
    this.#visit = undefined
    this.#tell()
  }

  #tell(): void {
    for (const listener of [...this.#listeners]) listener()
  }
}
