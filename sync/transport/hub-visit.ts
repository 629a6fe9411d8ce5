import type { Crew } from '../../src/crew/crew.ts'
import type { CasebookId } from '../../src/ids.ts'
import type { CasebookChange } from '../casebook.ts'
import { type CasebookSecret, writeSecrets } from '../trust/casebook-secret.ts'
import type { DeviceKey } from '../trust/device-key.ts'
import type { Meetings } from './meetings.ts'
import type { Nearby, NearbyFailure, NearbyOptions } from './nearby.ts'
import { holdInOneTab, type OneTab, type TabLocks } from './one-tab.ts'
import type { Surroundings } from './open-peer.ts'
import { standingIn } from './standing.ts'

/** New secrets come right behind the round that told of the strike-off (project value). */
const LOOK_AGAIN_MS = 2_000

export interface HubVisitOptions extends Surroundings {
  /** `wss://` and the hub's host, or `ws://` on this machine, with the path of a hub. */
  readonly hub: string
  readonly deviceKey: DeviceKey
  readonly casebook: {
    readonly casebookId: CasebookId
    crew(): Crew
    secrets(): readonly CasebookSecret[]
    subscribe(listener: (change: CasebookChange) => void): () => void
  }
  readonly meetings: Pick<Meetings, 'take' | 'subscribe'>
  /** Absent where the browser has none: then every tab is on its own. */
  readonly locks?: TabLocks
  readonly meetNearby: (options: NearbyOptions) => Promise<Nearby>
}

/** `elsewhere`: another tab of this browser is with the hub. `missing`: the hub does not answer; it is tried again and again. */
export type HubState = 'joining' | 'joined' | 'missing' | 'elsewhere' | 'left'

/**
 * Being with a hub: meets every member in good standing who is there too, until it is left. When the secrets change, the
 * rooms made from them change with them. One tab does it for all of the browser; the others hear of news by the store.
 */
export class HubVisit {
  readonly #options: HubVisitOptions
  readonly #listeners = new Set<() => void>()
  readonly #stops: (() => void)[] = []
  readonly #failures = new Map<NearbyFailure['type'], NearbyFailure>()
  #oneTab: OneTab | undefined
  #state: HubState = 'joining'
  #nearby: Nearby | undefined
  /** The secrets that the rooms were made from, as text to compare. */
  #secrets = ''
  #joining: Promise<void> = Promise.resolve()
  #callOff = (): void => undefined

  constructor(options: HubVisitOptions) {
    this.#options = options
    const look = (): void => this.#lookSoon()
    this.#stops.push(options.casebook.subscribe(look), options.meetings.subscribe(look))
    if (!options.locks) this.#begin()
    else
      this.#oneTab = holdInOneTab(options.locks, `outspoke hub ${options.casebook.casebookId}`, isHere => {
        if (isHere) this.#begin()
        else this.#show('elsewhere')
      })
  }

  get hub(): string {
    return this.#options.hub
  }

  get state(): HubState {
    return this.#state
  }

  /** What went wrong with others who are at the hub, each kind once, until somebody is met. */
  get failures(): readonly NearbyFailure[] {
    return [...this.#failures.values()].filter(({ type }) => type !== 'hub-unreachable')
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** Connections that were made go with it. */
  leave(): void {
    for (const stop of this.#stops.splice(0)) stop()
    this.#callOff()
    this.#show('left')
    this.#nearby?.leave()
    this.#nearby = undefined
    this.#oneTab?.leave()
    this.#listeners.clear()
  }

  #begin(): void {
    this.#show('joining')
    this.#join()
  }

  /** One room after the other, however often the secrets change. */
  #join(): void {
    this.#joining = this.#joining.then(async () => {
      if (this.#state === 'left') return
      const { hub, deviceKey, casebook, meetings, timer, randomBytes, meetNearby } = this.#options
      const standing = standingIn(() => casebook.crew())
      const secrets = casebook.secrets()
      this.#secrets = textOf(secrets)
      this.#nearby?.leave()
      const nearby = await meetNearby({
        hub,
        deviceKey,
        casebookId: casebook.casebookId,
        secrets,
        timer,
        randomBytes,
        admits: device => standing(device) === 'member',
        onMet: opened => {
          this.#failures.clear()
          meetings.take(opened)
          this.#tell()
        },
        onFailure: failure => {
          this.#failures.set(failure.type, failure)
          this.#showReach()
        },
        onReach: () => this.#showReach(),
      })
      if (this.#isLeft()) nearby.leave()
      else this.#nearby = nearby
      this.#showReach()
    })
  }

  #isLeft(): boolean {
    return this.#state === 'left'
  }

  #lookSoon(): void {
    this.#callOff()
    this.#callOff = this.#options.timer.later(() => {
      if (this.#nearby && textOf(this.#options.casebook.secrets()) !== this.#secrets) this.#join()
    }, LOOK_AGAIN_MS)
  }

  #showReach(): void {
    if (this.#isLeft()) return
    if (this.#nearby?.isReached()) {
      this.#failures.delete('hub-unreachable')
      this.#show('joined')
    } else this.#show(this.#state === 'joined' || this.#failures.has('hub-unreachable') ? 'missing' : 'joining')
  }

  #show(state: HubState): void {
    this.#state = state
    this.#tell()
  }

  #tell(): void {
    for (const listener of [...this.#listeners]) listener()
  }
}

const textOf = (secrets: readonly CasebookSecret[]): string => new TextDecoder().decode(writeSecrets(secrets))
