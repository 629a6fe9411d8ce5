import { type Served, serveApp } from '../../sync/desk/serve.ts'

/** The place the app comes from. Stopped, nothing answers at its address; started again, it is the same address. */
export class Site {
  readonly #port: number
  #folder: string
  #served: Served | undefined
  readonly address: string

  private constructor(folder: string, served: Served) {
    this.#folder = folder
    this.#served = served
    this.address = served.address
    this.#port = Number(new URL(served.address).port)
  }

  static async open(folder: string): Promise<Site> {
    return new Site(folder, await serveApp(folder, 0))
  }

  async stop(): Promise<void> {
    await this.#served?.close()
    this.#served = undefined
  }

  /** `folder`: what is served from now on, such as a later version. */
  async start(folder: string = this.#folder): Promise<void> {
    await this.stop()
    this.#folder = folder
    this.#served = await serveApp(folder, this.#port)
  }
}
