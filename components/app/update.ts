import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { Result } from '../../src/result.ts'
import { type AppWorker, appWorker, type OfflineCopy, type UpdateRefusal } from './service-worker.ts'

/**
 * Keeps an element abreast of the offline copy and of a new version that waits. It never takes the new version by itself:
 * the element offers it where no form is half-filled, and calls `takeUpdate` when a person says so.
 */
export class UpdateController implements ReactiveController {
  readonly #host: ReactiveControllerHost
  readonly #worker: AppWorker
  #stop: (() => void) | undefined

  constructor(host: ReactiveControllerHost, worker: AppWorker = appWorker) {
    this.#host = host
    this.#worker = worker
    host.addController(this)
  }

  /** A new version is here in full and waits. */
  get updateReady(): boolean {
    return this.#worker.updateReady
  }

  get offlineCopy(): OfflineCopy {
    return this.#worker.offlineCopy
  }

  /** Loads the page anew with the new version; refused while the app is open in another window. */
  takeUpdate(): Promise<Result<undefined, UpdateRefusal>> {
    return this.#worker.takeUpdate()
  }

  hostConnected(): void {
    this.#stop = this.#worker.subscribe(() => this.#host.requestUpdate())
  }

  hostDisconnected(): void {
    this.#stop?.()
  }
}
