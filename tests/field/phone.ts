import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { CHROMIUM_FLAGS, findChromium, onlyReaching } from '../support/chromium.ts'
import { ForeignRequests } from '../support/foreign-requests.ts'

const ANNOUNCED = /^DevTools listening on (ws:\S+)$/

/** The size of a cheap phone's screen in CSS pixels (project value). */
export const PHONE_SIZE = { width: 360, height: 740 } as const

interface Started {
  readonly program: ChildProcess
  readonly browser: Browser
  readonly context: BrowserContext
}

export interface PhoneOptions {
  /** A screen for fingers, as small pages and `tap` want it. What is stored then is gone with the browser, not with a tab. */
  readonly touch?: boolean
  /** One more host than this machine itself that an address may lead to. */
  readonly reaches?: string | undefined
  /** A film in YUV4MPEG2 that its camera sees over and over; without one it has no camera. */
  readonly film?: string
}

/** Started by us rather than by playwright, so that it can be killed as a system kills it and keeps its profile. */
const startBrowser = async (profile: string, { touch, reaches, film }: PhoneOptions): Promise<Started> => {
  const program = spawn(
    findChromium(),
    [
      ...CHROMIUM_FLAGS,
      ...(reaches ? [onlyReaching(reaches)] : []),
      ...(film ? ['--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${film}`] : []),
      '--headless=new',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      `--window-size=${PHONE_SIZE.width},${PHONE_SIZE.height}`,
      // Not the browser's own first page: it loads for a second, and whoever connects meanwhile may wait for ever.
      'about:blank',
    ],
    // A group of its own, ended as one.
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'] },
  )
  const said: string[] = []
  for await (const line of createInterface({ input: program.stderr })) {
    said.push(line)
    const endpoint = ANNOUNCED.exec(line)?.[1]
    if (!endpoint) continue
    program.stderr.resume()
    const browser = await chromium.connectOverCDP(endpoint)
    // Touch is given to a context when it is made, and the profile's own is there already.
    const context = touch
      ? await browser.newContext({ hasTouch: true, isMobile: true, viewport: PHONE_SIZE, locale: 'en' })
      : browser.contexts()[0]
    if (!context) throw new Error('the browser has no profile open')
    return { program, browser, context }
  }
  throw new Error(`the browser did not start:\n${said.join('\n')}`)
}

/**
 * A phone in the field: a real browser with a profile that outlives it. Whatever goes wrong in its pages (errors, breaches
 * of the content rules, requests beyond their own origin) is collected in `trouble`; tests expect it empty.
 */
export class Phone {
  readonly #profile: string
  readonly #foreign = new ForeignRequests()
  readonly #trouble: string[] = []
  readonly #options: PhoneOptions
  #started: Started

  private constructor(profile: string, options: PhoneOptions, started: Started) {
    this.#profile = profile
    this.#options = options
    this.#started = started
  }

  static async open(options: PhoneOptions = {}): Promise<Phone> {
    const profile = await mkdtemp(join(tmpdir(), 'outspoke-phone-'))
    const phone = new Phone(profile, options, await startBrowser(profile, options))
    await phone.#watch()
    return phone
  }

  /** The folder in which the browser keeps everything; to be looked into only while it is not running. */
  get profile(): string {
    return this.#profile
  }

  get trouble(): readonly string[] {
    return [...this.#trouble, ...this.#foreign.seen]
  }

  get context(): BrowserContext {
    return this.#started.context
  }

  /** A new tab at `address`. */
  async openTab(address: string): Promise<Page> {
    const page = await this.context.newPage()
    await page.setViewportSize(PHONE_SIZE)
    await page.goto(address)
    return page
  }

  /** The radio off, or on again: pages are told, and their requests fail. */
  async setOffline(isOffline: boolean): Promise<void> {
    await this.context.setOffline(isOffline)
  }

  /** Ends the process of one tab, as a system short of memory does: nothing is told to it. */
  async killTab(page: Page): Promise<void> {
    const devtools = await this.context.newCDPSession(page)
    const crashed = page.waitForEvent('crash')
    // The dead tab answers nothing more.
    void devtools.send('Page.crash').catch(() => undefined)
    await crashed
    await page.close()
  }

  /** Ends every process of the browser at once, as an empty battery does: nothing is told, nothing can be written. */
  async kill(): Promise<void> {
    const { program, browser } = this.#started
    if (program.exitCode !== null || program.signalCode !== null) return
    if (program.pid === undefined) throw new Error('the browser has no process')
    const ended = once(program, 'exit')
    const left = browser.isConnected() ? new Promise(settle => browser.once('disconnected', settle)) : undefined
    process.kill(-program.pid, 'SIGKILL')
    await Promise.all([ended, left])
  }

  /** Starts again with the same profile, after `kill`. */
  async start(): Promise<void> {
    this.#started = await startBrowser(this.#profile, this.#options)
    await this.#watch()
  }

  /** Ends it and forgets its profile. */
  async close(): Promise<void> {
    await this.kill()
    await rm(this.#profile, { recursive: true, force: true, maxRetries: 5 })
  }

  async #watch(): Promise<void> {
    const { context } = this
    await context.exposeBinding('outspokeBreach', (_, breach: string) => {
      this.#trouble.push(`content rules: ${breach}`)
    })
    await context.addInitScript(() => {
      document.addEventListener('securitypolicyviolation', event => {
        const report: unknown = Reflect.get(globalThis, 'outspokeBreach')
        if (typeof report === 'function')
          report(`${event.violatedDirective} ${event.blockedURI} in ${event.documentURI}`)
      })
    })
    context.on('weberror', error => this.#trouble.push(`page error: ${error.error().message}`))
    context.on('request', request => {
      const worker = request.serviceWorker()
      const from = worker ? worker.url() : request.frame().url()
      this.#foreign.note(from === '' ? 'about:blank' : from, request.url())
    })
  }
}
