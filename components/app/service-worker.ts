import { failure, type Result, success } from '../../src/result.ts'

/**
 * The copy of the app on this device. `impossible`: this browser or address keeps none (plain http, a private window of
 * some browsers). `missing`: it could not be fetched yet; tried again when the network comes back.
 */
export type OfflineCopy = 'impossible' | 'arriving' | 'in-place' | 'missing'

/** Why a new version did not take over: a form may be half-filled in another window of the app. */
export type UpdateRefusal = { readonly type: 'open-elsewhere' }

/** What it stands on, given by the page; something else in tests. */
export interface WorkerSurroundings {
  /** Undefined where a browser has none. */
  readonly workers: ServiceWorkerContainer | undefined
  readonly locks: LockManager | undefined
  /** Tells `online` and `visibilitychange`: times to look for a new version. */
  readonly page: Window
  reload(): void
}

/** Each open window of the app holds this lock, shared: so they can be counted. */
const OPEN_WINDOW = 'outspoke-window'
const SCRIPT = './sw.js'

const forEver = (): Promise<never> => new Promise(() => undefined)

/**
 * Keeps the offline copy and looks for new versions. A new version is fetched in the background and then waits: it takes
 * over only by `takeUpdate`, and only when no other window of the app is open.
 */
export class AppWorker {
  readonly #surroundings: WorkerSurroundings
  readonly #listeners = new Set<() => void>()
  #registration: ServiceWorkerRegistration | undefined
  /** Another window took the new version while this one shows the old one. */
  #isOvertaken = false
  #isTaking = false
  offlineCopy: OfflineCopy = 'arriving'

  constructor(surroundings: WorkerSurroundings) {
    this.#surroundings = surroundings
  }

  /** True when a new version is here in full and waits to be taken. */
  get updateReady(): boolean {
    const { waiting, active } = this.#registration ?? {}
    return this.#isOvertaken || (Boolean(waiting) && Boolean(active))
  }

  /** Called once by the composition root. */
  async start(): Promise<void> {
    const { workers, locks, page } = this.#surroundings
    if (!workers || !locks) {
      this.offlineCopy = 'impossible'
      this.#tell()
      return
    }
    void locks.request(OPEN_WINDOW, { mode: 'shared' }, forEver)
    let hadWorker = workers.controller !== null
    workers.addEventListener('controllerchange', () => {
      if (this.#isTaking) this.#surroundings.reload()
      else if (hadWorker) this.#isOvertaken = true
      hadWorker = true
      this.#tell()
    })
    page.addEventListener('online', () => void this.#look(workers))
    page.document.addEventListener('visibilitychange', () => {
      if (page.document.visibilityState === 'visible') void this.#look(workers)
    })
    await this.#look(workers)
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** Puts the new version in the place of this one by loading the page anew: what is typed and not saved is gone then. */
  async takeUpdate(): Promise<Result<undefined, UpdateRefusal>> {
    const { locks, reload } = this.#surroundings
    const held = (await locks?.query())?.held ?? []
    if (held.filter(({ name }) => name === OPEN_WINDOW).length > 1) return failure({ type: 'open-elsewhere' })
    const waiting = this.#registration?.waiting
    if (waiting) {
      this.#isTaking = true
      // What the worker made by workbox listens for; the page is loaded anew once it took over.
      waiting.postMessage({ type: 'SKIP_WAITING' })
    } else if (this.#isOvertaken) reload()
    return success(undefined)
  }

  async #look(workers: ServiceWorkerContainer): Promise<void> {
    try {
      if (this.#registration) await this.#registration.update()
      else this.#follow(await workers.register(SCRIPT, { updateViaCache: 'none' }))
    } catch {
      // No network, most often: without a copy that is said, with one nothing is missing.
    }
    this.#tell()
  }

  #follow(registration: ServiceWorkerRegistration): void {
    this.#registration = registration
    const watch = (worker: ServiceWorker | null): void => worker?.addEventListener('statechange', () => this.#tell())
    for (const worker of [registration.installing, registration.waiting, registration.active]) watch(worker)
    registration.addEventListener('updatefound', () => watch(registration.installing))
  }

  #tell(): void {
    if (this.offlineCopy !== 'impossible') this.offlineCopy = this.#copyNow()
    for (const listener of this.#listeners) listener()
  }

  #copyNow(): OfflineCopy {
    const { active, installing, waiting } = this.#registration ?? {}
    if (active?.state === 'activated') return 'in-place'
    return active || installing || waiting ? 'arriving' : 'missing'
  }
}

/** The one of this page. */
export const appWorker = new AppWorker({
  workers: navigator.serviceWorker,
  locks: navigator.locks,
  page: window,
  reload: () => location.reload(),
})
