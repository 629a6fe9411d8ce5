import type { Page } from 'playwright-core'

const PASSPHRASE = 'nine grey herons stand by the ford'

export const press = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name, exact: true }).click()
export const fill = (page: Page, label: string, text: string): Promise<void> =>
  page.getByRole('textbox', { name: label, exact: true }).fill(text)
export const sees = (page: Page, words: string): Promise<void> =>
  page.getByText(words).filter({ visible: true }).first().waitFor()

export const choosePassphrase = async (page: Page): Promise<void> => {
  await page.getByLabel('Passphrase', { exact: true }).fill(PASSPHRASE)
  await page.getByLabel('The same once more', { exact: true }).fill(PASSPHRASE)
}
/** Founds a casebook, and writes down the first person. */
export const found = async (page: Page, person: string): Promise<void> => {
  await press(page, 'Found a casebook')
  await fill(page, 'What your crew calls itself', 'River crew')
  await fill(page, 'Where it works', 'Upper Kesse valley')
  await fill(page, 'Your name', 'Wenna Dalmor')
  await choosePassphrase(page)
  await press(page, 'Found it')
  await page.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
  await writeDown(page, person)
}
export const goTo = (page: Page, hash: string): Promise<void> =>
  page.evaluate(to => {
    location.hash = to
  }, hash)
export const writeDown = async (page: Page, person: string): Promise<void> => {
  await goTo(page, '#/new-referral')
  await page.locator('#name').fill(person)
  await press(page, 'Save and open')
  await page.waitForURL(/#\/case\//)
}
export const beginJoining = async (page: Page): Promise<void> => {
  await press(page, 'Join a crew by two codes')
  await choosePassphrase(page)
  await press(page, 'Seal this device, and go on')
  await page.getByRole('button', { name: 'Scan the first code' }).waitFor()
}

export const shownCode = (page: Page): Promise<string> => page.locator('textarea[readonly]').inputValue()
export const paste = async (page: Page, code: string): Promise<void> => {
  // There is no camera, and the page opens the place for text.
  await page.getByLabel('The code that was sent to you').fill(code)
  await press(page, 'Take this code')
}
export const carryCodes = async (first: Page, second: Page): Promise<void> => {
  await press(first, 'Show the first code')
  await press(second, 'Scan the first code')
  await paste(second, await shownCode(first))
  const answer = await shownCode(second)
  await press(first, 'Now scan theirs')
  await paste(first, answer)
}
export const letIn = async (page: Page, name: string): Promise<void> => {
  await fill(page, 'Their name', name)
  await page.getByRole('radio', { name: /^Therapist/ }).check()
  await press(page, 'Let them in')
}
export const unlockAfterReload = async (page: Page): Promise<void> => {
  await page.reload()
  await unlock(page)
}
export const unlock = async (page: Page): Promise<void> => {
  await page.getByLabel('Passphrase', { exact: true }).fill(PASSPHRASE)
  await press(page, 'Unlock')
}
export const holdTheSame = async (...pages: readonly Page[]): Promise<void> => {
  for (const page of pages) await sees(page, 'Both now hold the same.')
}

/** The first founds a casebook with one person in it and lets the second in, by codes carried as text. */
export const foundAndLetIn = async (first: Page, second: Page): Promise<void> => {
  await found(first, 'Ilse Dorn')
  await beginJoining(second)
  await goTo(first, '#/two-codes')
  await carryCodes(first, second)
  await letIn(first, 'Bram Oskel')
  await holdTheSame(first, second)
}
