import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium, type Page } from 'playwright-core'
import { buildApp } from '../field/built-app.ts'
import { Site } from '../field/site.ts'
import { CHROMIUM_FLAGS, findChromium } from '../support/chromium.ts'
import { loadWords, printTable, spread } from './measure.ts'
import type {} from './people-page/page.ts'

const PEOPLE = 5_000
const OPENINGS = 7
const SLOWDOWN = 4
const PASSPHRASE = 'seven slow carts cross the wet bridge'
const SEARCHES = ['b', 'ba', 'bam', 'bamo', 'bamoru', 'kalimo', 'sant', 'zo', 'perital', 'duvek'] as const

/** Waits by frames inside the page, so that nothing but the page is measured. */
const inPage = {
  /** From the tap on Unlock to the first rows of the list. */
  unlock: async (passphrase: string): Promise<number> => {
    const below = function* (root: ParentNode): Generator<Element> {
      for (const element of root.querySelectorAll('*')) {
        yield element
        if (element.shadowRoot) yield* below(element.shadowRoot)
      }
    }
    const find = (selector: string): HTMLElement | undefined =>
      [...below(document)].find(element => element.matches(selector)) as HTMLElement | undefined
    const until = async (selector: string): Promise<HTMLElement> => {
      for (;;) {
        const found = find(selector)
        if (found) return found
        await new Promise(requestAnimationFrame)
      }
    }
    const input = (await until('#passphrase')) as HTMLInputElement
    input.value = passphrase
    const start = performance.now()
    input.form?.requestSubmit()
    await until('li.person')
    await new Promise(requestAnimationFrame)
    return performance.now() - start
  },
  /** The same work that the lock does to the passphrase, alone. */
  passphrase: async (passphrase: string): Promise<number> => {
    const start = performance.now()
    const material = await crypto.subtle.importKey('raw', new TextEncoder().encode(passphrase), 'PBKDF2', false, [
      'deriveKey',
    ])
    const salt = new Uint8Array(16)
    const aes = { name: 'AES-GCM', length: 256 }
    await crypto.subtle.deriveKey(
      { name: 'PBKDF2', hash: 'SHA-256', salt, iterations: 600_000 },
      material,
      aes,
      false,
      ['encrypt'],
    )
    return performance.now() - start
  },
  /** From what was typed into the search to the frame that shows who is meant. */
  search: async (text: string): Promise<number> => {
    const app = document.querySelector('spoke-app')
    const list = app?.shadowRoot?.querySelector('spoke-people')
    const input = list?.shadowRoot?.querySelector('input')
    if (!list || !input) throw new Error('no list on screen')
    input.value = text
    const start = performance.now()
    input.dispatchEvent(new InputEvent('input', { bubbles: true }))
    await list.updateComplete
    await new Promise(requestAnimationFrame)
    return performance.now() - start
  },
}

const row = (what: string, times: readonly number[]) => ({
  what,
  times: times.length,
  ...spread('ms,', times),
})

const measureOn = async (page: Page, address: string, slowdown: number) => {
  const openings: number[] = []
  const doors: number[] = []
  const passphrases: number[] = []
  const searches: number[] = []
  const session = await page.context().newCDPSession(page)
  for (let opening = 0; opening < OPENINGS; opening += 1) {
    await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown })
    const start = performance.now()
    await page.goto(address)
    await page.locator('#passphrase').waitFor()
    doors.push(performance.now() - start)
    openings.push(await page.evaluate(inPage.unlock, PASSPHRASE))
    passphrases.push(await page.evaluate(inPage.passphrase, PASSPHRASE))
    // The first search makes the index; it is measured with the others.
    for (const text of SEARCHES) searches.push(await page.evaluate(inPage.search, text))
    await page.goto('about:blank')
  }
  await session.detach()
  return [
    row('page asked for to the lock', doors),
    row('passphrase given to a usable list', openings),
    row('  of which the passphrase alone', passphrases),
    row('one letter typed in the search to those who are meant', searches),
  ]
}

/** How long 5,000 people take from the passphrase to a list that can be used, on this browser's own sealed store. */
export const run = async (): Promise<void> => {
  const folder = await mkdtemp(join(tmpdir(), 'outspoke-people-'))
  const [seedFolder, appFolder, profile] = ['seed', 'app', 'profile'].map(name => join(folder, name)) as [
    string,
    string,
    string,
  ]
  await buildApp({ outDir: seedFolder, root: fileURLToPath(new URL('./people-page', import.meta.url)) })
  await buildApp({ outDir: appFolder })
  const site = await Site.open(seedFolder)
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: findChromium(),
    args: [...CHROMIUM_FLAGS],
    viewport: { width: 360, height: 740 },
  })
  try {
    const page = await context.newPage()
    // What is evaluated in the page was compiled with a helper that names inner functions; the page has none.
    await page.addInitScript('globalThis.__name = named => named')
    await page.goto(site.address)
    const day = new Date().toISOString().slice(0, 10)
    const seeded = await page.evaluate(([count, passphrase, today]) => window.seedPeople(count, passphrase, today), [
      PEOPLE,
      PASSPHRASE,
      day,
    ] as const)
    if (seeded !== PEOPLE) throw new Error(`${seeded} of ${PEOPLE} people were worked out`)
    await page.goto('about:blank')
    await site.start(appFolder)
    for (const slowdown of [1, SLOWDOWN])
      printTable(
        `Opening a casebook of ${PEOPLE.toLocaleString('en')} people (Chromium, 360 x 740, CPU slowed ${slowdown} x, ${loadWords()})`,
        await measureOn(page, site.address, slowdown),
      )
  } finally {
    await context.close()
    await site.stop()
    await rm(folder, { recursive: true, force: true })
  }
}
