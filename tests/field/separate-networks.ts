import { spawnSync } from 'node:child_process'
import { chmod, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { CHROMIUM_FLAGS, findChromium } from '../support/chromium.ts'

const ip = (...words: readonly string[]): string => {
  const { status, stdout, stderr } = spawnSync('ip', words, { encoding: 'utf8' })
  if (status !== 0) throw new Error(`ip ${words.join(' ')}: ${stderr.trim()}`)
  return stdout
}

/** Why this machine cannot make networks of its own; undefined where it can. */
export const whyNoNetworks = (): string | undefined => {
  if (process.getuid?.() !== 0) return 'only root can make networks apart from the machine’s own'
  const name = `outspoke-try-${process.pid}`
  const tries = [
    ['netns', 'add', name],
    ['-n', name, 'link', 'add', 'line', 'type', 'veth', 'peer', 'name', 'other'],
  ].map(words => spawnSync('ip', words).status)
  spawnSync('ip', ['netns', 'delete', name])
  if (tries.some(status => status !== 0)) return 'the program ip is missing here, or may make no networks'
  return undefined
}

/** A browser in a network that holds one other device and nothing else. */
export interface LonelyPhone {
  readonly context: BrowserContext
  readonly address: string
  /** What leads out of its network: nothing, but for the line to the other one. */
  routes(): string
  /** The test fetches what is asked for from `site`, which the browser itself cannot reach. */
  openPage(site: string): Promise<Page>
}

/**
 * Two network namespaces joined by one line, without a default route, name server or anything else on it: what a hotspot
 * without internet is. In each a browser.
 */
export class SeparateNetworks {
  readonly phones: readonly [LonelyPhone, LonelyPhone]
  readonly #names: readonly string[]
  readonly #folder: string

  private constructor(phones: readonly [LonelyPhone, LonelyPhone], names: readonly string[], folder: string) {
    this.phones = phones
    this.#names = names
    this.#folder = folder
  }

  static async open(): Promise<SeparateNetworks> {
    const folder = await mkdtemp(join(tmpdir(), 'outspoke-networks-'))
    const names = ['a', 'b'].map(end => `outspoke-${process.pid}-${end}`)
    const [one = '', other = ''] = names
    for (const name of names) ip('netns', 'add', name)
    ip('-n', one, 'link', 'add', 'line', 'type', 'veth', 'peer', 'name', 'line', 'netns', other)
    const phoneIn = async (name: string, last: number): Promise<LonelyPhone> => {
      const address = `192.0.2.${last}`
      // Addresses for documentation (RFC 5737): they lead nowhere.
      ip('-n', name, 'address', 'add', `${address}/24`, 'dev', 'line')
      for (const link of ['lo', 'line']) ip('-n', name, 'link', 'set', link, 'up')
      const starter = join(folder, `${name}.sh`)
      await writeFile(starter, `#!/bin/sh\nexec ip netns exec ${name} "${findChromium()}" "$@"\n`)
      await chmod(starter, 0o700)
      const context = await chromium.launchPersistentContext(join(folder, name), {
        executablePath: starter,
        args: [...CHROMIUM_FLAGS],
      })
      return {
        context,
        address,
        routes: () => ip('-n', name, 'route', 'show').trim(),
        async openPage(site) {
          const page = await context.newPage()
          await page.route(`${site}**`, async route => route.fulfill({ response: await route.fetch() }))
          await page.goto(site)
          return page
        },
      }
    }
    return new SeparateNetworks([await phoneIn(one, 1), await phoneIn(other, 2)], names, folder)
  }

  async close(): Promise<void> {
    for (const { context } of this.phones) await context.close()
    for (const name of this.#names) ip('netns', 'delete', name)
    await rm(this.#folder, { recursive: true, force: true, maxRetries: 5 })
  }
}
