import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { buildApp } from './built-app.ts'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

const PAGE = fileURLToPath(new URL('./update-page', import.meta.url))

let folder: string
const version = (name: string): string => join(folder, name)
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-versions-'))
  for (const name of ['one', 'two']) await buildApp({ root: PAGE, outDir: version(name), texts: { VERSION: name } })
})
afterAll(() => rm(folder, { recursive: true }))

let phone: Phone
let site: Site
beforeEach(async () => {
  phone = await Phone.open()
  site = await Site.open(version('one'))
})
afterEach(async () => {
  await phone.close()
  await site.stop()
})

const shows = (page: Page, text: string): Promise<void> => page.getByText(text, { exact: true }).waitFor()
const offer = (page: Page) => page.getByRole('button', { name: 'Take the new version' })

describe('a new version', () => {
  it('waits beside a half-filled form, is refused while another window is open, and comes when it is taken', async () => {
    const page = await phone.openTab(site.address)
    await shows(page, 'Version one')
    await shows(page, 'Offline copy in-place')
    expect(await offer(page).count()).toBe(0)
    await page.getByLabel('Hip width').fill('368')

    await site.start(version('two'))
    const other = await phone.openTab(site.address)
    await shows(other, 'Version one')
    await offer(page).waitFor()
    expect(await page.getByLabel('Hip width').inputValue()).toBe('368')

    await offer(page).click()
    await shows(page, 'open-elsewhere')
    await shows(page, 'Version one')
    expect(await page.getByLabel('Hip width').inputValue()).toBe('368')

    await other.close()
    await offer(page).click()
    await shows(page, 'Version two')
    await shows(page, 'Offline copy in-place')
    expect(await offer(page).count()).toBe(0)
    await site.stop()
    await page.reload()
    await shows(page, 'Version two')
    expect(phone.trouble).toEqual([])
  })
})

describe('the offline copy', () => {
  it('is said to be missing when the network goes before it is here, and comes by itself when it is back', async () => {
    await phone.context.route('**/sw.js', route => route.abort())
    const page = await phone.openTab(site.address)
    await shows(page, 'Offline copy missing')
    await phone.setOffline(true)
    await phone.context.unroute('**/sw.js')
    await phone.setOffline(false)
    await shows(page, 'Offline copy in-place')
    expect(phone.trouble).toEqual([])
  })
})
