import type { Page } from 'playwright-core'
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest'
import { EXIF_SEGMENT, segmentsOf, withExif } from '../support/camera-file.ts'
import { Hand } from './hand.ts'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

/** One of the practice people: invented. */
const WHO = 'Hanneth Ogiwe'

let phone: Phone
let site: Site
beforeEach(async () => {
  phone = await Phone.open({ touch: true })
  site = await Site.open(inject('builtApp'))
})
afterEach(async () => {
  await phone.close()
  await site.stop()
})

/** What a camera's file holds: a picture of this size, with the place where it was taken. */
const cameraFile = async (page: Page, width: number, height: number): Promise<Buffer> => {
  const drawn = await page.evaluate(
    ([across, down]) => {
      const canvas = document.createElement('canvas')
      canvas.width = across
      canvas.height = down
      return canvas.toDataURL('image/jpeg').split(',')[1] ?? ''
    },
    [width, height] as const,
  )
  return Buffer.from(withExif(new Uint8Array(Buffer.from(drawn, 'base64'))))
}

/** Once each picture can be seen. */
const sizes = async (page: Page): Promise<readonly (readonly number[])[]> => {
  await page.locator('.thumb img').first().waitFor()
  return page.locator('.thumb img').evaluateAll(images =>
    Promise.all(
      (images as HTMLImageElement[]).map(async image => {
        await image.decode()
        return [image.naturalWidth, image.naturalHeight]
      }),
    ),
  )
}

describe('a photo on a phone without a network', () => {
  it('is asked for, taken, and there when the page is opened again, under the content rules of the built app', async () => {
    const page = await phone.openTab(site.address)
    const hand = new Hand(page)
    await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated')
    await phone.setOffline(true)
    await hand.tap('Try the practice trip')
    await hand.touch(page.getByRole('link', { name: new RegExp(WHO) }))
    await hand.seesHeading(WHO)
    await hand.open('Photos')
    await hand.sees('Nobody has asked yet whether photos may be taken.')
    await hand.tap('Ask first whether photos may be taken')
    await hand.pick('May photos be taken?', 'Yes')
    await hand.tap('Save 1 answer')
    await hand.tap('Add a photo')
    await hand.pick('What does it show?', 'Skin')
    const file = await cameraFile(page, 1600, 1200)
    expect(segmentsOf(file)).toContain(EXIF_SEGMENT)
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), hand.tap('Take a photo')])
    await chooser.setFiles({ name: 'IMG_2041.jpg', mimeType: 'image/jpeg', buffer: file })
    await hand.sees('1 photo added, saved on this device')
    // Orientation 6 in the file: it stands upright, at most 1280 px long.
    expect(await sizes(page)).toEqual([[960, 1280]])

    await page.reload()
    expect(await sizes(page)).toEqual([[960, 1280]])
    expect(phone.trouble).toEqual([])
  })
})
