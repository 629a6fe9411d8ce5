import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

let phone: Phone
let site: Site
beforeEach(async () => {
  phone = await Phone.open()
  site = await Site.open(inject('builtApp'))
})
afterEach(async () => {
  await phone.close()
  await site.stop()
})

/** Comes when a worker runs this page and holds the whole app. */
const offlineCopyIn = (page: Awaited<ReturnType<Phone['openTab']>>) =>
  page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated')

describe('the first visit', () => {
  it('breaks no content rule, asks for nothing beyond its origin, and is all that a later visit needs', async () => {
    const page = await phone.openTab(site.address)
    await page.getByRole('heading', { level: 1 }).waitFor()
    const heading = await page.getByRole('heading', { level: 1 }).textContent()
    await offlineCopyIn(page)

    await site.stop()
    await phone.setOffline(true)
    await page.reload()
    await page.getByRole('heading', { level: 1 }).waitFor()
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(heading)
    expect(await page.evaluate(() => navigator.onLine)).toBe(false)

    await phone.kill()
    await phone.start()
    const later = await phone.openTab(site.address)
    await later.getByRole('heading', { level: 1 }).waitFor()
    expect(phone.trouble).toEqual([])
  })
})
