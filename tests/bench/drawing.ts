import { fileURLToPath } from 'node:url'
import { chromium, type Page } from 'playwright-core'
import { build } from 'vite'
import { type Trial, trialOf } from '../../components/fit/trial.ts'
import { practiceFacts } from '../browser/fit/practice-fit.ts'
import { CHROMIUM_FLAGS, findChromium } from '../support/chromium.ts'
import { loadWords, printTable, spread, timed } from './measure.ts'

const CHANGES = 200
const WARM_UP = 40
/** A frame at 60 a second. */
const FRAME_MS = 16
/** By hands with footrests, by one foot, a child with anti-tip wheels, both legs lost: each draws other parts. */
const PEOPLE = ['davor', 'sunniva', 'pavo', 'rosh'] as const

const trialFor = (key: string): Trial => {
  const facts = practiceFacts(key)
  const answer = facts && trialOf(facts)
  if (answer?.type !== 'ready') throw new Error(`no chair serves ${key}`)
  return answer.trial
}

/** Search, evaluation, reasons and geometry of one change, without a page. */
const reckoned = async (key: string): Promise<readonly number[]> => {
  const trial = trialFor(key)
  const { axlePositions, cushions } = trial.start.setUp.model
  const change = (index: number) => ({
    pins: { axle: axlePositions[index % axlePositions.length]?.key ?? '' },
    cushion: cushions[index % cushions.length]?.key ?? '',
  })
  for (let index = 0; index < WARM_UP; index += 1) trial.with(change(index))
  const times: number[] = []
  for (let index = 0; index < CHANGES; index += 1) times.push((await timed(() => trial.with(change(index)))).ms)
  return times
}

/** The page's script as it would be shipped. */
const bundled = async (): Promise<string> => {
  const built = await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      target: 'es2022',
      rolldownOptions: { input: fileURLToPath(new URL('./drawing-page.ts', import.meta.url)) },
    },
  })
  const [first] = Array.isArray(built) ? built : [built]
  const chunk = first && 'output' in first ? first.output.find(one => one.type === 'chunk') : undefined
  if (chunk?.type !== 'chunk') throw new Error('nothing was built')
  return chunk.code
}

const onPage = async (page: Page, key: string, slowdown: number): Promise<readonly number[]> => {
  const session = await page.context().newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown })
  const run = `timesOf(${JSON.stringify(key)}, ${WARM_UP + CHANGES})`
  const times = (await page.evaluate(run)) as readonly number[]
  await session.detach()
  return times.slice(WARM_UP)
}

const row = (person: string, times: readonly number[]) => ({
  person,
  changes: times.length,
  ...spread('ms,', times, 2),
  'over a frame': times.filter(ms => ms > FRAME_MS).length,
})

/** How long one moved setting takes: worked out alone, and to the laid-out page in a phone's window. */
export const run = async (): Promise<void> => {
  const alone = []
  for (const key of PEOPLE) alone.push(row(key, await reckoned(key)))
  printTable('One setting moved: search, evaluation, reasons and geometry (Node)', alone)
  const script = await bundled()
  const browser = await chromium.launch({ executablePath: findChromium(), args: [...CHROMIUM_FLAGS] })
  try {
    const page = await browser.newPage({ viewport: { width: 360, height: 740 } })
    await page.setContent('<!doctype html><html lang="en"><body></body></html>')
    await page.addScriptTag({ content: script, type: 'module' })
    await page.waitForFunction('typeof timesOf === "function"')
    for (const slowdown of [1, 4]) {
      const rows = []
      for (const key of PEOPLE) rows.push(row(key, await onPage(page, key, slowdown)))
      printTable(
        `One setting moved: from the finger to the page laid out again (Chromium 360 px, CPU slowed ${slowdown} x, ${WARM_UP} moves to warm up, ${loadWords()}; a frame is ${FRAME_MS} ms)`,
        rows,
      )
    }
  } finally {
    await browser.close()
  }
}
