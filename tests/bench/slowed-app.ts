import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, type CDPSession, chromium, type Page } from 'playwright-core'
import { buildApp } from '../field/built-app.ts'
import { Site } from '../field/site.ts'
import { CHROMIUM_FLAGS, findChromium } from '../support/chromium.ts'
import { type Step, stepsIn } from './steps.ts'

/** The size of a cheap phone's screen in CSS pixels, and how many times slower than this machine it is taken to be. */
export const PHONE_SIZE = { width: 360, height: 740 } as const
export const SLOWDOWN = 4

const CATEGORIES = ['devtools.timeline', 'blink.user_timing', 'v8', 'toplevel'] as const

declare global {
  /** Put into every page that is measured. */
  var bench: {
    /** The first element that a selector meets, through shadow roots. */
    find(selector: string): HTMLElement | undefined
    all(selector: string): HTMLElement[]
    until(isThere: () => unknown): Promise<void>
    /** Nothing is left to do: frames pass by and the browser idles. */
    still(): Promise<void>
    /** Marks a step from the next event of this type to the frame that shows what `isDone` waits for. */
    begin(name: string, type: string, isDone: () => unknown): void
    /** Comes when that step has ended. */
    step: Promise<void> | undefined
  }
}

const inPage = (): void => {
  const below = function* (root: ParentNode): Generator<HTMLElement> {
    for (const element of root.querySelectorAll<HTMLElement>('*')) {
      yield element
      if (element.shadowRoot) yield* below(element.shadowRoot)
    }
  }
  const frame = (): Promise<number> => new Promise(requestAnimationFrame)
  const message = (): Promise<void> =>
    new Promise(settle => {
      const { port1, port2 } = new MessageChannel()
      port1.onmessage = () => {
        port1.close()
        settle()
      }
      port2.postMessage(null)
    })
  // A limit for what never comes, not a measure of speed.
  const limit = (isThere: () => unknown): (() => void) => {
    const start = performance.now()
    return () => {
      if (performance.now() - start > 30_000) throw new Error(`never came: ${isThere}`)
    }
  }
  /** Milliseconds of a fixed piece of arithmetic: how fast this page runs just now. */
  const yardstick = (): number => {
    const start = performance.now()
    let sum = 0
    for (let index = 1; index < 1_000_000; index += 1) sum += Math.sqrt(index) / index
    return sum > 0 ? performance.now() - start : 0
  }
  const run = async (name: string, isDone: () => unknown): Promise<void> => {
    performance.mark(`${name} begins`)
    const check = limit(isDone)
    // What handlers put off to microtasks is done before the next frame begins.
    do {
      check()
      await frame()
    } while (!isDone())
    // This frame shows it: its own style, layout and paint come before the next message.
    performance.mark(`${name} shown`)
    await message()
    performance.mark(`${name} over`)
  }
  const made: typeof bench = {
    find: selector => {
      for (const element of below(document)) if (element.matches(selector)) return element
      return undefined
    },
    all: selector => [...below(document)].filter(element => element.matches(selector)),
    until: async isThere => {
      const check = limit(isThere)
      while (!isThere()) {
        check()
        await frame()
      }
    },
    still: async () => {
      for (let round = 0; round < 2; round += 1) {
        await frame()
        await new Promise(settle => requestIdleCallback(settle, { timeout: 2000 }))
      }
    },
    begin: (name, type, isDone) => {
      performance.mark(`yardstick ${yardstick()}`)
      made.step = new Promise((settle, refuse) => {
        const begun = (): void => void run(name, isDone).then(settle, refuse)
        addEventListener(type, begun, { capture: true, once: true })
      })
    },
    step: undefined,
  }
  Object.assign(globalThis, { bench: made })
}

/** Puts `bench` into every page of a tab. */
export const prepare = async (page: Page): Promise<void> => {
  // What is evaluated in the page was compiled with a helper that names inner functions; the page has none.
  await page.addInitScript('globalThis.__name = named => named')
  await page.addInitScript(inPage)
}

/** The built app in a browser of its own, on a screen as small as a phone's and a processor as slow. */
export class SlowedApp {
  readonly page: Page
  readonly #folder: string
  readonly #site: Site
  readonly #browser: Browser
  readonly #session: CDPSession

  private constructor(folder: string, site: Site, browser: Browser, page: Page, session: CDPSession) {
    this.#folder = folder
    this.#site = site
    this.#browser = browser
    this.page = page
    this.#session = session
  }

  static async open(): Promise<SlowedApp> {
    const folder = await mkdtemp(join(tmpdir(), 'outspoke-bench-'))
    await buildApp({ outDir: folder })
    const site = await Site.open(folder)
    const browser = await chromium.launch({ executablePath: findChromium(), args: [...CHROMIUM_FLAGS] })
    const context = await browser.newContext({ viewport: PHONE_SIZE, locale: 'en' })
    const page = await context.newPage()
    await prepare(page)
    await page.goto(site.address)
    return new SlowedApp(folder, site, browser, page, await context.newCDPSession(page))
  }

  get address(): string {
    return this.#site.address
  }

  async slowDown(): Promise<void> {
    await this.#session.send('Emulation.setCPUThrottlingRate', { rate: SLOWDOWN })
  }

  /** Every step that was marked in the page while `work` ran. */
  async traced(work: () => Promise<void>): Promise<readonly Step[]> {
    await this.#browser.startTracing(this.page, { categories: [...CATEGORIES] })
    await work()
    return stepsIn(await this.#browser.stopTracing())
  }

  async close(): Promise<void> {
    await this.#browser.close()
    await this.#site.stop()
    await rm(this.#folder, { recursive: true, force: true })
  }
}
