import { readFile } from 'node:fs/promises'
import type { Page } from 'playwright-core'
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest'
import { found, goTo, press, sees, unlock } from './crew-steps.ts'
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

interface ShareTarget {
  readonly action: string
  readonly method: string
  readonly enctype: string
  readonly params: { readonly files: readonly { readonly name: string }[] }
}

const shareTarget = async (): Promise<ShareTarget> => {
  const manifest = await fetch(new URL('manifest.webmanifest', site.address))
  return ((await manifest.json()) as { readonly share_target: ShareTarget }).share_target
}

/** As a browser does it for the share sheet (W3C, Web Share Target): the form of the manifest, posted by navigating. */
const share = async (page: Page, target: ShareTarget, name: string, bytes: Buffer): Promise<void> => {
  const action = new URL(target.action, site.address).href
  const field = target.params.files[0]?.name ?? ''
  await page.setContent(`<form action="${action}" method="${target.method}" enctype="${target.enctype}">
    <input type="file" name="${field}"><button>Share</button></form>`)
  await page.locator('input').setInputFiles({ name, mimeType: 'application/octet-stream', buffer: bytes })
  await page.getByRole('button', { name: 'Share' }).click()
}

/** Everything that is kept of what was shared: where, and what the answer would say of it. */
const kept = (page: Page): Promise<readonly string[]> =>
  page.evaluate(async () => {
    const cache = await caches.open('outspoke-shared')
    const answers = await Promise.all((await cache.keys()).map(request => cache.match(request)))
    return [
      ...(await cache.keys()).map(({ url }) => url),
      ...answers.flatMap(answer => [...(answer?.headers ?? [])].map(header => header.join(': '))),
    ]
  })

describe('a file from the share sheet', () => {
  it('waits without its name while the device is locked, is taken in after the passphrase, and is kept no longer', async () => {
    const page = await phone.openTab(site.address)
    await found(page, 'Tove Marn')
    await goTo(page, '#/hand-on')
    const download = page.waitForEvent('download')
    await press(page, 'Save it as a file')
    const bytes = await readFile(await (await download).path())
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined))
    await page.close()
    const target = await shareTarget()
    // No network from here on: what takes the file is on the phone.
    await site.stop()
    const sheet = await phone.context.newPage()
    await share(sheet, target, 'Tove-Marn-Mill.outspoke-bundle', bytes)
    await sheet.waitForURL(`${site.address}#/hand-on`)
    await sheet.getByRole('button', { name: 'Unlock' }).waitFor()
    const waiting = await kept(sheet)
    expect(waiting.length).toBeGreaterThan(0)
    expect(waiting.join(' ')).not.toMatch(/Tove|Marn|Mill/)
    await unlock(sheet)
    await sees(sheet, 'Nothing new: everything in it was here already.')
    await sheet.waitForFunction(async () => (await (await caches.open('outspoke-shared')).keys()).length === 0)
    expect(phone.trouble).toEqual([])
  })

  it('that is no bundle is refused in words that do not name it', async () => {
    const page = await phone.openTab(site.address)
    await found(page, 'Tove Marn')
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined))
    const sheet = await phone.context.newPage()
    await share(sheet, await shareTarget(), 'Tove-Marn.pdf', Buffer.from('%PDF-1.7'))
    await unlock(sheet)
    await sees(sheet, 'The shared file: This file is not a bundle. Nothing was changed.')
    expect(await sheet.getByText('Tove-Marn').count()).toBe(0)
    expect(phone.trouble).toEqual([])
  })
})
