import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
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

  it('can be installed: Chromium finds no fault with its manifest, icons and offline copy', async () => {
    const page = await phone.openTab(site.address)
    await offlineCopyIn(page)
    const devtools = await phone.context.newCDPSession(page)
    const { errors } = await devtools.send('Page.getAppManifest')
    const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors')
    expect(errors).toEqual([])
    expect(installabilityErrors).toEqual([])
  })

  it('shows its first screen with at most 150 KB of compressed script', async () => {
    const page = await phone.context.newPage()
    const asked = new Set<string>()
    page.on('request', request => {
      if (request.resourceType() === 'script' && !request.serviceWorker()) asked.add(new URL(request.url()).pathname)
    })
    await page.goto(site.address)
    await page.getByRole('heading', { level: 1 }).waitFor()
    // Whatever the page fetches by itself after its first picture has been asked for long before the offline copy is whole.
    await offlineCopyIn(page)
    const sizes = await Promise.all(
      [...asked].map(async path => gzipSync(await readFile(join(inject('builtApp'), path)), { level: 9 }).length),
    )
    expect(sizes.length).toBeGreaterThan(0)
    expect(sizes.reduce((sum, bytes) => sum + bytes, 0)).toBeLessThanOrEqual(150 * 1024)
  })
})
