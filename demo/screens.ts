import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type Page } from 'playwright-core'
import { t } from '../components/text/text.ts'
import { serveApp } from '../sync/desk/serve.ts'
import { buildApp } from '../tests/field/built-app.ts'
import { found, goTo, press } from '../tests/field/crew-steps.ts'
import { CHROMIUM_FLAGS, findChromium } from '../tests/support/chromium.ts'
import { TWO_MEASURES_MM } from './two-phones/people-here.ts'

/**
 * Takes pictures of the app as a person meets it: `npm run -s screens FOLDER [NAME ...]` builds it, opens the practice trip
 * and saves NAME-SIZE.png for each size. Used for README and for looking at a change before it is called done.
 */
const SIZES = {
  phone: { width: 360, height: 740 },
  tablet: { width: 820, height: 1180 },
  laptop: { width: 1366, height: 850 },
} as const

interface Screen {
  readonly name: string
  /** From the screen before this one to this one, by what a person would tap. */
  go(page: Page): Promise<void>
}

/** Both have measured apart, and were joined. */
const joinTwoPhones = async (page: Page): Promise<void> => {
  await page.goto(new URL('demo/two-phones.html', page.url()).href)
  await page.locator('fieldset:enabled').waitFor()
  for (const [at, mm] of TWO_MEASURES_MM.entries()) {
    const phone = page.frameLocator('iframe').nth(at)
    await phone.getByRole('button', { name: /^Hip width/ }).click()
    for (const key of String(mm)) await phone.getByRole('button', { name: key, exact: true }).click()
    await phone.getByRole('button', { name: /^Enter/ }).click()
    await phone.getByRole('button', { name: t('measuring.saveCorrection') }).click()
  }
  await page.getByRole('radio', { name: t('twoPhones.joined') }).check()
  for (const at of TWO_MEASURES_MM.keys())
    await page
      .frameLocator('iframe')
      .nth(at)
      .getByRole('link', { name: /^Hip width/ })
      .click()
  await page.evaluate(() => scrollTo(0, 0))
}

/** A crew of one device, about to let another one in. */
const showCode = async (page: Page): Promise<void> => {
  // Without it a browser gives no address to be found by.
  await page.context().grantPermissions(['camera'])
  await page.goto(new URL('/', page.url()).href)
  await press(page, t('app.practiceClose'))
  await found(page, 'Ilse Dorn')
  await goTo(page, '#/two-codes')
  await press(page, t('codes.showFirst'))
  await page.locator('textarea[readonly]').waitFor({ state: 'attached' })
}

/** In the order in which a person comes by them. */
const SCREENS: readonly Screen[] = [
  {
    name: 'first',
    go: page => page.getByRole('heading', { level: 1 }).waitFor(),
  },
  {
    name: 'people',
    go: async page => {
      await page.getByRole('button', { name: t('door.tryPractice') }).click()
      await page.getByText('Selka Imbaru').first().waitFor()
    },
  },
  {
    name: 'case',
    go: async page => {
      await page.getByText('Selka Imbaru').first().click()
      await page.getByRole('heading', { name: 'Selka Imbaru' }).waitFor()
    },
  },
  {
    name: 'choosing',
    go: async page => {
      await page.getByText('Choosing', { exact: true }).first().click()
      await page.locator('spoke-side-view').first().waitFor()
      await page.locator('spoke-side-view').first().scrollIntoViewIfNeeded()
    },
  },
  { name: 'two-phones', go: joinTwoPhones },
  { name: 'code', go: showCode },
]

const [folder, ...names] = process.argv.slice(2)
const unknown = names.filter(name => !SCREENS.some(screen => screen.name === name))
if (folder === undefined || unknown.length > 0) {
  console.error(`screens FOLDER [NAME ...]   names: ${SCREENS.map(({ name }) => name).join(', ')}`)
  process.exit(2)
}

await mkdir(folder, { recursive: true })
const built = await mkdtemp(join(tmpdir(), 'outspoke-screens-'))
await buildApp({ outDir: built })
const served = await serveApp(built, 0)
const browser = await chromium.launch({ executablePath: findChromium(), args: [...CHROMIUM_FLAGS] })
try {
  for (const [size, viewport] of Object.entries(SIZES)) {
    // A context is a device of its own, with an empty store. Pictures of a phone are as sharp as its screen.
    const context = await browser.newContext({ viewport, deviceScaleFactor: size === 'phone' ? 2 : 1, locale: 'en' })
    const page = await context.newPage()
    await page.goto(served.address)
    for (const { name, go } of SCREENS) {
      await go(page)
      if (names.length > 0 && !names.includes(name)) continue
      const path = join(folder, `${name}-${size}.png`)
      await page.screenshot({ path })
      console.log(path)
    }
    await context.close()
  }
} finally {
  await browser.close()
  await served.close()
  await rm(built, { recursive: true })
}
