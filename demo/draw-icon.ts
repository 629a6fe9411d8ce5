import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium } from 'playwright-core'
import { CHROMIUM_FLAGS, findChromium } from '../tests/support/chromium.ts'

/** Draws the app's icon: a wheel, one spoke of which reaches out beyond the rim. Run again after changing the drawing. */
const FOLDER = fileURLToPath(new URL('../components/app/static/', import.meta.url))
const GROUND = '#0b535f'
const PAPER = '#fbfaf5'
const WARM = '#f4c98b'

const SIZE = 512
const CENTRE = SIZE / 2
/** All within 40 % of the width from the middle: what a system may not cut from a maskable icon (W3C, Web app manifest). */
const REACH = 0.385 * SIZE
const TYRE = 0.3 * SIZE
const RIM = 0.235 * SIZE
const HUB = 0.05 * SIZE
const SPOKES = 12
const OUT_DEG = -45

const at = (radius: number, deg: number): string => {
  const turn = (deg * Math.PI) / 180
  return `${(CENTRE + radius * Math.cos(turn)).toFixed(1)} ${(CENTRE + radius * Math.sin(turn)).toFixed(1)}`
}

const spokes = Array.from({ length: SPOKES }, (_, index) => OUT_DEG + (index * 360) / SPOKES)
  .slice(1)
  .map(deg => `M${at(HUB, deg)}L${at(TYRE, deg)}`)
  .join('')

/** `corner` is the radius of the ground's corners: 0 where the system cuts its own shape. */
const wheel = (corner: number): string => `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIZE} ${SIZE}">
<rect width="${SIZE}" height="${SIZE}" rx="${corner}" fill="${GROUND}"/>
<g fill="none" stroke="${PAPER}">
<circle cx="${CENTRE}" cy="${CENTRE}" r="${TYRE}" stroke-width="26"/>
<circle cx="${CENTRE}" cy="${CENTRE}" r="${RIM}" stroke-width="7"/>
<path d="${spokes}" stroke-width="7"/>
</g>
<path d="M${at(0.7 * RIM, OUT_DEG)}L${at(REACH, OUT_DEG)}" stroke="${GROUND}" stroke-width="44"/>
<path d="M${at(HUB, OUT_DEG)}L${at(REACH - 9, OUT_DEG)}" stroke="${WARM}" stroke-width="18" stroke-linecap="round"/>
<circle cx="${CENTRE}" cy="${CENTRE}" r="${HUB}" fill="${PAPER}"/>
</svg>
`

const PICTURES = [
  { name: 'icon-192.png', sizePx: 192, corner: 96 },
  { name: 'icon-512.png', sizePx: 512, corner: 96 },
  { name: 'icon-maskable-512.png', sizePx: 512, corner: 0 },
] as const

await mkdir(FOLDER, { recursive: true })
await writeFile(join(FOLDER, 'icon.svg'), wheel(96))
const browser = await chromium.launch({ executablePath: findChromium(), args: [...CHROMIUM_FLAGS] })
const page = await browser.newPage()
for (const { name, sizePx, corner } of PICTURES) {
  await page.setViewportSize({ width: sizePx, height: sizePx })
  await page.setContent(`<style>body { margin: 0 } svg { display: block }</style>${wheel(corner)}`)
  await page.screenshot({ path: join(FOLDER, name), omitBackground: true })
}
await browser.close()
