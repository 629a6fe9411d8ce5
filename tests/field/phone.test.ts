import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

let folder: string
let phone: Phone
let site: Site
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-site-'))
  await writeFile(join(folder, 'index.html'), '<!doctype html><title>A page</title><h1>A page</h1>')
  phone = await Phone.open()
  site = await Site.open(folder)
})
afterEach(async () => {
  await phone.close()
  await site.stop()
  await rm(folder, { recursive: true })
})

const pageOf = async (html: string): Promise<void> => {
  await writeFile(join(folder, 'index.html'), `<!doctype html><title>A page</title>${html}`)
}

it('sees a breach of the content rules, an error of a page and a request beyond its origin', async () => {
  await pageOf('<script>document.title = "changed"</script><script src="fault.js"></script>')
  await writeFile(join(folder, 'fault.js'), 'document.body; throw new Error("a fault of the page")')
  const page = await phone.openTab(site.address)
  expect(await page.title()).toBe('A page')
  await page.evaluate(() => fetch('https://elsewhere.invalid/').catch(() => undefined))
  await page.goto('http://elsewhere.invalid/picture').catch(() => undefined)

  // A page's own words of a breach come when they come.
  await expect.poll(() => phone.trouble.length).toBe(4)
  const trouble = phone.trouble.join('\n')
  expect(trouble).toContain('content rules: script-src-elem inline')
  expect(trouble).toContain('page error: a fault of the page')
  expect(trouble).toContain('content rules: connect-src https://elsewhere.invalid/')
  expect(trouble).toContain(`${site.address} asked for http://elsewhere.invalid/picture`)
})

it('keeps what a page stored when every process of the browser is killed, and its tabs are gone', async () => {
  const page = await phone.openTab(site.address)
  await page.evaluate(
    () =>
      new Promise<void>((settle, refuse) => {
        const opening = indexedDB.open('kept', 1)
        opening.onupgradeneeded = () => opening.result.createObjectStore('values')
        opening.onerror = () => refuse(opening.error)
        opening.onsuccess = () => {
          const writing = opening.result.transaction('values', 'readwrite', { durability: 'strict' })
          writing.objectStore('values').put('hips 368', 'note')
          writing.oncomplete = () => settle()
          writing.onerror = () => refuse(writing.error)
        }
      }),
  )
  await phone.kill()
  expect(page.isClosed()).toBe(true)
  await phone.start()
  const later = await phone.openTab(site.address)
  const note = await later.evaluate(
    () =>
      new Promise<unknown>((settle, refuse) => {
        const opening = indexedDB.open('kept', 1)
        opening.onerror = () => refuse(opening.error)
        opening.onsuccess = () => {
          const reading = opening.result.transaction('values').objectStore('values').get('note')
          reading.onsuccess = () => settle(reading.result)
          reading.onerror = () => refuse(reading.error)
        }
      }),
  )
  expect(note).toBe('hips 368')
})

it('reaches nothing with the radio off, and the page knows', async () => {
  const page = await phone.openTab(site.address)
  await phone.setOffline(true)
  expect(await page.evaluate(() => navigator.onLine)).toBe(false)
  expect(
    await page.evaluate(() =>
      fetch('./index.html').then(
        () => 'reached',
        () => 'not reached',
      ),
    ),
  ).toBe('not reached')
  await phone.setOffline(false)
  expect(
    await page.evaluate(() =>
      fetch('./index.html').then(
        () => 'reached',
        () => 'not reached',
      ),
    ),
  ).toBe('reached')
})
