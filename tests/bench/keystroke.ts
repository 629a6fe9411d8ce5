import type { Page } from 'playwright-core'
import { loadWords, median, printTable, round, spread } from './measure.ts'
import { PHONE_SIZE, SLOWDOWN, SlowedApp } from './slowed-app.ts'
import type { Step } from './steps.ts'

/** Sixty-one years old, with a bag on the handles: of the practice trip the one whose search takes longest. */
const PERSON = 'Selka Imbaru'
/** Keystrokes of each kind before those that count: the browser compiles what runs often. */
const WARM_UP = 6
const KEYSTROKES = 25
/** Times that the app is opened anew, so that every case is opened from the store. */
const OPENINGS = 2
/** The aim for a keystroke, ms. */
const LIMIT_MS = 50

/** Twelve values in turn, so that each keystroke changes the set-up's inputs. */
const READINGS = [
  { what: 'mass', field: 'massKg', first: 58 },
  { what: 'hip width', field: 'hipWidthMm', first: 372 },
  { what: 'thigh length', field: 'thighDepthLeftMm', first: 446 },
] as const
type Reading = (typeof READINGS)[number]
const VALUES = 12

const openPractice = async (page: Page): Promise<void> => {
  await page
    .getByRole('button', { name: /practice/i })
    .first()
    .click()
  await page.locator('li.person').first().waitFor()
}

const openPart = async (page: Page, section: string, element: string): Promise<void> => {
  const caseId = /case\/([^/]+)/.exec(page.url())?.[1]
  if (caseId === undefined) throw new Error('no case is open')
  await page.evaluate(address => {
    location.hash = address
  }, `#/case/${caseId}/${section}`)
  await page.locator(element).first().waitFor()
  await page.evaluate(() => bench.still())
}

/** A reading typed and looked at; timed is the key that puts it in the place of the earlier one. */
const enterReading = async (page: Page, { what, field, first }: Reading, turn: number): Promise<void> => {
  await page.evaluate(async name => {
    const part = bench.find('spoke-measuring') as (HTMLElement & { current: string }) | undefined
    if (!part) throw new Error('measuring is not open')
    part.current = name
    await bench.still()
  }, field)
  await page.locator('spoke-landmark spoke-reading input:not([type=radio])').first().focus()
  await page.keyboard.press('Control+A')
  await page.keyboard.type(String(first + (turn % VALUES)))
  await page.keyboard.press('Enter')
  await page.evaluate(async name => {
    await bench.until(() => bench.find('.review'))
    bench.all('.review button:not(.quiet)').at(-1)?.focus()
    await bench.still()
    const part = bench.find('spoke-measuring') as (HTMLElement & { outcome: unknown }) | undefined
    const before = part?.outcome
    bench.begin(name, 'keydown', () => part?.outcome !== before)
  }, what)
  await page.keyboard.press('Enter')
  await page.evaluate(() => bench.step)
}

const enterReadings = async (page: Page, from: number, count: number): Promise<void> => {
  for (let turn = from; turn < from + count; turn += 1)
    for (const reading of READINGS) await enterReading(page, reading, turn)
}

/** Three holes forward, three back. */
const moveAxle = async (page: Page, count: number): Promise<void> => {
  for (let turn = 0; turn < count; turn += 1) {
    await page.evaluate(async () => {
      await bench.still()
      bench.begin('axle hole', 'keydown', () => true)
    })
    await page.keyboard.press(turn % 6 < 3 ? 'ArrowRight' : 'ArrowLeft')
    await page.evaluate(() => bench.step)
  }
}

/** From the list to the drawing in the part on choosing, of everybody for whom a chair is chosen. */
const openDrawings = async (page: Page, caseIds: readonly string[]): Promise<void> => {
  for (const caseId of caseIds) {
    await page.evaluate(async () => {
      location.hash = '#/'
      await bench.until(() => bench.find('li.person'))
      await bench.still()
      bench.begin('case', 'hashchange', () => bench.find('spoke-side-view')?.shadowRoot?.querySelector('path'))
    })
    await page.evaluate(address => {
      location.hash = address
      return bench.step
    }, `#/case/${caseId}/choosing`)
  }
}

/** Everybody whose part on choosing shows a drawing. */
const withDrawing = async (page: Page): Promise<readonly string[]> => {
  const all = await page.evaluate(() =>
    bench.all('li.person a').map(link => /case\/([^/]+)/.exec(link.getAttribute('href') ?? '')?.[1] ?? ''),
  )
  const drawn: string[] = []
  for (const caseId of all) {
    const isDrawn = await page.evaluate(async address => {
      location.hash = address
      await bench.until(() => bench.find('spoke-choosing')?.shadowRoot?.querySelector('.block, .notice'))
      await bench.still()
      return bench.find('spoke-side-view') !== undefined
    }, `#/case/${caseId}/choosing`)
    if (isDrawn) drawn.push(caseId)
  }
  return drawn
}

const row = (what: string, steps: readonly Step[]) => ({
  what,
  times: steps.length,
  ...spread(
    'clock',
    steps.map(one => one.wallMs),
  ),
  ...spread(
    'processor',
    steps.map(one => one.processorMs),
  ),
})

/** What the main thread did in the step that kept it busy longest, and in the middle one of each part. */
const partRows = (what: string, steps: readonly Step[]) => {
  const worst = steps.reduce((a, b) => (b.processorMs > a.processorMs ? b : a))
  const names = Object.keys(worst.parts) as readonly (keyof Step['parts'])[]
  const parts = (which: string, of: (name: keyof Step['parts']) => number) => ({
    what: `${what}, ${which}`,
    ...Object.fromEntries(names.map(name => [name, round(of(name), 1)])),
  })
  return [parts('median', name => median(steps.map(one => one.parts[name]))), parts('worst', name => worst.parts[name])]
}

const print = (title: string, groups: readonly (readonly [string, readonly Step[]])[]): void => {
  const sticks = groups.flatMap(([, steps]) => steps.map(one => one.yardstickMs))
  printTable(
    `${title}, ${loadWords()}; a million square roots take ${round(median(sticks), 0)} ms, at worst ${round(Math.max(...sticks), 0)})`,
    groups.map(([what, steps]) => row(what, steps)),
  )
  printTable(
    'What the processor did in it, ms',
    groups.flatMap(([what, steps]) => partRows(what, steps)),
  )
}

/** How long a case takes to its drawing, and a keystroke to the set-up that follows from it, in the app as it is shipped. */
export const run = async (): Promise<void> => {
  const app = await SlowedApp.open()
  try {
    const { page } = app
    await openPractice(page)
    const drawn = await withDrawing(page)
    await app.slowDown()
    const conditions = `built app, Chromium ${PHONE_SIZE.width} x ${PHONE_SIZE.height}, CPU slowed ${SLOWDOWN} x`

    const first: Step[] = []
    const later: Step[] = []
    for (let opening = 0; opening < OPENINGS; opening += 1) {
      await page.goto('about:blank')
      await page.goto(app.address)
      await page.evaluate(async () => {
        await bench.until(() => bench.find('li.person'))
        await bench.still()
      })
      const [one, ...others] = await app.traced(() => openDrawings(page, drawn))
      if (one) first.push(one)
      later.push(...others)
    }
    print(`A case to its drawing, opened from the store (${conditions}`, [
      ['first since the app was opened, code included', first],
      ['each further one', later],
    ])

    await page.evaluate(() => {
      location.hash = '#/'
    })
    await page.getByText(PERSON).first().click()
    await page.locator('spoke-case .rows').waitFor()
    await openPart(page, 'choosing', 'spoke-side-view')
    await page.locator('input#axle').focus()
    await moveAxle(page, WARM_UP)
    const moved = await app.traced(() => moveAxle(page, KEYSTROKES))
    await openPart(page, 'measuring', 'spoke-measuring')
    await enterReadings(page, 0, WARM_UP)
    const entered = await app.traced(() => enterReadings(page, WARM_UP, KEYSTROKES))
    print(`A keystroke to its recomputed set-up on screen, aim ${LIMIT_MS} ms (${WARM_UP} to warm up; ${conditions}`, [
      ['arrow key on the axle: set-up, drawing, numbers', moved],
      ...READINGS.map(
        ({ what }) => [`${what} entered: stored, case worked out`, entered.filter(one => one.name === what)] as const,
      ),
    ])
  } finally {
    await app.close()
  }
}
