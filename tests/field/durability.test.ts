import { appendFile, mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { IS_LONG } from '../support/seed.ts'
import { buildApp } from './built-app.ts'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

const PAGE = fileURLToPath(new URL('./storage-page', import.meta.url))
const TAB_CLOSES = 100
const KILLS = IS_LONG ? 100 : 20
/** For what hangs; on a free machine both take about a minute, the long one five. */
const LIMIT_MS = 1_500_000

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-storage-'))
  await buildApp({ root: PAGE, outDir: folder })
})
afterAll(() => rm(folder, { recursive: true }))

let phone: Phone
let site: Site
beforeEach(async () => {
  phone = await Phone.open()
  site = await Site.open(folder)
})
afterEach(async () => {
  await phone.close()
  await site.stop()
})

const isOpen = (page: Page): Promise<void> => page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
const listed = async (page: Page): Promise<readonly string[]> => {
  await isOpen(page)
  return page.getByRole('listitem').allTextContents()
}
const missing = (from: readonly string[], wanted: readonly string[]): readonly string[] =>
  wanted.filter(place => !from.includes(place))

/** What was said to be saved, in the order of saying; `act` runs in the moment of each. */
const hearing = async (page: Page, address: string, act: (place: string) => void): Promise<void> => {
  await page.exposeFunction('savedShown', act)
  await page.goto(address)
}

const saveIn = async (page: Page, place: string): Promise<void> => {
  await isOpen(page)
  await page.getByLabel('Place').fill(place)
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByText(`Saved: ${place}`).waitFor()
}

/** Checksum, length and type of a record (LevelDB's log format) whose 288 bytes never came. */
const LONELY_HEADER = Buffer.from([1, 2, 3, 4, 0x20, 0x01, 1])
const tearLog = async (profile: string): Promise<void> => {
  const stores = join(profile, 'Default', 'IndexedDB')
  const [store] = (await readdir(stores)).filter(name => name.endsWith('.leveldb'))
  if (!store) throw new Error(`no store in ${stores}`)
  const logs = (await readdir(join(stores, store))).filter(name => name.endsWith('.log')).sort()
  const last = logs.at(-1)
  if (!last) throw new Error(`no log in ${store}`)
  await appendFile(join(stores, store, last), LONELY_HEADER)
}

describe('what is said to be saved', () => {
  it(
    `is there after the tab is closed in that moment, ${TAB_CLOSES} times out of ${TAB_CLOSES}`,
    async () => {
      const saved: string[] = []
      let lost = 0
      for (let round = 1; round <= TAB_CLOSES; round += 1) {
        const page = await phone.context.newPage()
        const closed = new Promise<void>(resolve => page.once('close', () => resolve()))
        await hearing(page, `${site.address}?practice`, place => {
          saved.push(place)
          void page.close()
        })
        lost += missing(await listed(page), saved).length
        await page.getByLabel('Place').fill(`place ${round}`)
        // The tab goes before the click is told to be over.
        await page
          .getByRole('button', { name: 'Save' })
          .click()
          .catch(() => undefined)
        await closed
      }
      const found = await listed(await phone.openTab(`${site.address}?practice`))
      lost += missing(found, saved).length
      console.info(`tabs closed right after "saved": ${saved.length}, lost: ${lost}`)
      expect(saved).toEqual(Array.from({ length: TAB_CLOSES }, (_, index) => `place ${index + 1}`))
      expect(lost).toBe(0)
      expect(found).toHaveLength(TAB_CLOSES)
      expect(phone.trouble).toEqual([])
    },
    LIMIT_MS,
  )

  it(
    `is there after the browser is killed in the middle of saving and merging, ${KILLS} times out of ${KILLS}`,
    async () => {
      const saved: string[] = []
      let lost = 0
      for (let round = 1; round <= KILLS; round += 1) {
        const page = await phone.context.newPage()
        // Another moment each time: after 1 to 40 saves, so before, in and after a merging of rows at 32.
        const killAfter = ((round * 17) % 40) + 1
        let heard = 0
        let dead: Promise<void> | undefined
        await new Promise<void>(resolve => {
          void hearing(page, `${site.address}?burst=round-${round}`, place => {
            saved.push(place)
            heard += 1
            if (heard < killAfter || dead) return
            dead = phone.kill()
            resolve()
          }).catch(() => undefined)
        })
        await dead
        await phone.start()
        lost += missing(await listed(await phone.openTab(site.address)), saved).length
      }
      console.info(`browser killed: ${KILLS} times, saved before: ${saved.length}, lost: ${lost}`)
      expect(saved.length).toBeGreaterThan(KILLS * 15)
      expect(lost).toBe(0)
      expect(phone.trouble).toEqual([])
    },
    LIMIT_MS,
  )

  // A kill between the two writes of a record leaves its header alone at the end of the browser's log. The browser writes
  // on behind it, and at the start after that finds the log damaged and deletes all that the page had there. Chance does
  // this about once in a hundred kills; here it is done by hand.
  it('is there after a kill in the middle of a record, for which the browser deletes the whole store', async () => {
    const first = await phone.openTab(site.address)
    await saveIn(first, 'Low Ford')
    await phone.kill()
    await tearLog(phone.profile)
    await phone.start()
    await saveIn(await phone.openTab(site.address), 'Weir')
    await phone.kill()
    await phone.start()
    const found = await phone.openTab(site.address)
    expect([...(await listed(found))].sort()).toEqual(['Low Ford', 'Weir'])
    expect(await found.locator('#notices').textContent()).toBe('store-restored')
    await phone.kill()
    await phone.start()
    const later = await phone.openTab(site.address)
    expect(await listed(later)).toHaveLength(2)
    expect(await later.locator('#notices').textContent()).toBe('')
    expect(phone.trouble).toEqual([])
  })

  it('by two tabs at once on one case is all there, also when one of them is closed in the middle', async () => {
    const saved: string[] = []
    const [here, there] = [await phone.context.newPage(), await phone.context.newPage()]
    await hearing(here, `${site.address}?practice`, () => undefined)
    await isOpen(here)
    const counts = new Map<string, number>()
    const until = (page: Page, burst: string, count: number): Promise<void> =>
      new Promise(resolve => {
        void hearing(page, `${site.address}?practice&burst=${burst}`, place => {
          saved.push(place)
          counts.set(burst, (counts.get(burst) ?? 0) + 1)
          if (counts.get(burst) === count) resolve()
        }).catch(() => undefined)
      })
    const alone = await phone.context.newPage()
    await Promise.all([until(there, 'there', 40).then(() => there.close()), until(alone, 'alone', 120)])
    await alone.close()
    // The third tab only listened, and shows it all.
    await here.waitForFunction(count => document.querySelectorAll('li').length >= count, saved.length)
    const later = await listed(await phone.openTab(`${site.address}?practice`))
    console.info(`two tabs on one case: saved ${saved.length}, lost ${missing(later, saved).length}`)
    expect(missing(later, saved)).toEqual([])
    expect(missing(await listed(here), saved)).toEqual([])
    expect(phone.trouble).toEqual([])
  })
})

describe('a disk without room', () => {
  it('is told in words, what was saved stays, and saving goes on when there is room again', async () => {
    /** Chromium looks at the room left only now and then, and at once after a start. */
    const startWithRoom = async (quotaBytes: number | null): Promise<Page> => {
      await phone.kill()
      await phone.start()
      const page = await phone.context.newPage()
      const session = await phone.context.newCDPSession(page)
      const origin = new URL(site.address).origin
      if (quotaBytes !== null) await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: quotaBytes })
      await page.goto(site.address)
      return page
    }
    const first = await phone.openTab(site.address)
    await saveIn(first, 'Low Ford')

    const full = await startWithRoom(1)
    await isOpen(full)
    await full.getByLabel('Place').fill('Weir')
    await full.getByRole('button', { name: 'Save' }).click()
    await full.getByText('Not saved: this device has no room left. Everything saved before is safe.').waitFor()
    expect(await listed(full)).toEqual(['Low Ford'])

    const roomy = await startWithRoom(null)
    expect(await listed(roomy)).toEqual(['Low Ford'])
    await saveIn(roomy, 'Mill')
    await roomy.reload()
    expect([...(await listed(roomy))].sort()).toEqual(['Low Ford', 'Mill'])
    expect(phone.trouble).toEqual([])
  })
})
