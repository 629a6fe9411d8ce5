import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest'
import { filmCode } from './film.ts'
import { Phone, type PhoneOptions } from './phone.ts'
import { Site } from './site.ts'

const PASSPHRASE = 'nine grey herons stand by the ford'

let folder: string
let site: Site
const phones: Phone[] = []
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-codes-'))
  site = await Site.open(inject('builtApp'))
})
afterEach(async () => {
  for (const phone of phones.splice(0)) await phone.close()
  await site.stop()
  await rm(folder, { recursive: true })
})

/** A phone of its own, its camera allowed: that lets the browser know its own addresses where no route leads out. */
const openPhone = async (options: PhoneOptions = {}): Promise<Page> => {
  const phone = await Phone.open(options)
  phones.push(phone)
  await phone.context.grantPermissions(['camera'])
  return phone.openTab(site.address)
}

const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name, exact: true }).click()
const fill = (page: Page, label: string, text: string): Promise<void> =>
  page.getByRole('textbox', { name: label, exact: true }).fill(text)
const sees = (page: Page, words: string): Promise<void> =>
  page.getByText(words).filter({ visible: true }).first().waitFor()

const choosePassphrase = async (page: Page): Promise<void> => {
  await page.getByLabel('Passphrase', { exact: true }).fill(PASSPHRASE)
  await page.getByLabel('The same once more', { exact: true }).fill(PASSPHRASE)
}
/** Founds a casebook, and writes down the first person. */
const found = async (page: Page, person: string): Promise<void> => {
  await press(page, 'Found a casebook')
  await fill(page, 'What your crew calls itself', 'River crew')
  await fill(page, 'Where it works', 'Upper Kesse valley')
  await fill(page, 'Your name', 'Wenna Dalmor')
  await choosePassphrase(page)
  await press(page, 'Found it')
  await page.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
  await writeDown(page, person)
}
const goTo = (page: Page, hash: string): Promise<void> =>
  page.evaluate(to => {
    location.hash = to
  }, hash)
const writeDown = async (page: Page, person: string): Promise<void> => {
  await goTo(page, '#/new-referral')
  await page.locator('#name').fill(person)
  await press(page, 'Save and open')
  await page.waitForURL(/#\/case\//)
}
const beginJoining = async (page: Page): Promise<void> => {
  await press(page, 'Join a crew by two codes')
  await choosePassphrase(page)
  await press(page, 'Seal this device, and go on')
  await page.getByRole('button', { name: 'Scan the first code' }).waitFor()
}

const shownCode = (page: Page): Promise<string> => page.locator('textarea[readonly]').inputValue()
const paste = async (page: Page, code: string): Promise<void> => {
  // There is no camera, and the page opens the place for text.
  await page.getByLabel('The code that was sent to you').fill(code)
  await press(page, 'Take this code')
}
const carryCodes = async (first: Page, second: Page): Promise<void> => {
  await press(first, 'Show the first code')
  await press(second, 'Scan the first code')
  await paste(second, await shownCode(first))
  const answer = await shownCode(second)
  await press(first, 'Now scan theirs')
  await paste(first, answer)
}
const letIn = async (page: Page, name: string): Promise<void> => {
  await fill(page, 'Their name', name)
  await page.getByRole('radio', { name: /^Therapist/ }).check()
  await press(page, 'Let them in')
}
const unlockAfterReload = async (page: Page): Promise<void> => {
  await page.reload()
  await page.getByLabel('Passphrase', { exact: true }).fill(PASSPHRASE)
  await press(page, 'Unlock')
}
const holdTheSame = async (...pages: readonly Page[]): Promise<void> => {
  for (const page of pages) await sees(page, 'Both now hold the same.')
}

describe('two phones with the built app and no service in between', () => {
  it('let somebody new in by codes sent as text; after a reload of both they meet again', async () => {
    const wenna = await openPhone()
    const bram = await openPhone()
    await found(wenna, 'Ilse Dorn')
    await beginJoining(bram)
    await goTo(wenna, '#/two-codes')
    await carryCodes(wenna, bram)
    await letIn(wenna, 'Bram Oskel')
    await holdTheSame(wenna, bram)
    // Each is named to the other as the crew list says, whose entries are signed.
    await wenna.getByRole('heading', { name: 'Bram Oskel' }).waitFor()
    await bram.getByRole('heading', { name: 'Wenna Dalmor' }).waitFor()
    await bram.getByRole('link', { name: 'To the people' }).click()
    await sees(bram, 'Ilse Dorn')

    for (const page of [wenna, bram]) await unlockAfterReload(page)
    await bram.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
    await writeDown(bram, 'Tove Marn')
    for (const page of [wenna, bram]) await goTo(page, '#/two-codes')
    await carryCodes(bram, wenna)
    await holdTheSame(wenna, bram)
    await sees(wenna, '1 entry came in, for 1 person.')
    await wenna.getByRole('link', { name: 'To the people' }).click()
    await sees(wenna, 'Tove Marn')
    for (const phone of phones) expect(phone.trouble).toEqual([])
  })

  it('read the code by the camera', async () => {
    const wenna = await openPhone()
    await found(wenna, 'Ilse Dorn')
    await goTo(wenna, '#/two-codes')
    await press(wenna, 'Show the first code')
    const film = join(folder, 'code.y4m')
    await filmCode(film, await shownCode(wenna))

    const bram = await openPhone({ film })
    await beginJoining(bram)
    await press(bram, 'Scan the first code')
    await sees(bram, 'Now they scan this')
    const answer = await shownCode(bram)
    await press(wenna, 'Now scan theirs')
    await paste(wenna, answer)
    await letIn(wenna, 'Bram Oskel')
    await holdTheSame(wenna, bram)
    for (const phone of phones) expect(phone.trouble).toEqual([])
  })
})
