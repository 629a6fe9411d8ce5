import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { HUB_LIMITS } from '../../sync/desk/hub-limits.ts'
import { startHub } from '../../sync/desk/hub-server.ts'
import { buildApp } from './built-app.ts'
import { onPhone, PAIRING_PAGE, pairUp } from './pairing-phones.ts'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

const CASES = 50

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-pairing-'))
  await buildApp({ root: PAIRING_PAGE, outDir: folder })
})
afterAll(() => rm(folder, { recursive: true }))

let site: Site
let phones: readonly Phone[]
beforeEach(async () => {
  site = await Site.open(folder)
  phones = [await Phone.open(), await Phone.open()]
  // What scanning a code asks for; it also lets the browser know its own addresses where no route leads out.
  for (const { context } of phones) await context.grantPermissions(['camera'])
})
afterEach(async () => {
  for (const phone of phones) await phone.close()
  await site.stop()
})

const openPages = async (address = site.address): Promise<readonly [Page, Page]> => {
  const [first, second] = phones
  if (!first || !second) throw new Error('two phones are needed')
  const pages = [await first.openTab(address), await second.openTab(address)] as const
  for (const page of pages) await page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
  return pages
}

describe('two phones without any service in between', () => {
  it(`pair by two codes: the second is invited and holds ${CASES} cases, by WebRTC`, async () => {
    const [ana, ben] = await openPages()
    await onPhone(ana, 'found', CASES)
    await pairUp(ana, ben)
    expect(await Promise.all([onPhone(ana, 'meet'), onPhone(ben, 'meet')])).toMatchObject([
      { as: 'inviting', status: 'equal' },
      { as: 'invited', status: 'equal' },
    ])
    // Two profiles share no channel from tab to tab, and the library counts none.
    for (const page of [ana, ben]) expect(await onPhone(page, 'connections')).toEqual({ webrtc: 1, bc: 0 })
    const hashes = await onPhone(ana, 'hashes')
    expect(hashes).toHaveLength(CASES + 1)
    expect(await onPhone(ben, 'hashes')).toEqual(hashes)

    // Later they meet again as two of one crew; the other one shows the first code.
    for (const page of [ana, ben]) await onPhone(page, 'leave')
    await pairUp(ben, ana)
    expect(await Promise.all([onPhone(ana, 'meet'), onPhone(ben, 'meet')])).toMatchObject([
      { as: 'member', status: 'equal' },
      { as: 'member', status: 'equal' },
    ])
    for (const phone of phones) expect(phone.trouble).toEqual([])
  })
})

describe('two phones at one hub', () => {
  it('find each other, hand on what is new by WebRTC, and part for good after a strike-off', async () => {
    const hub = await startHub({
      folder,
      port: 0,
      host: '127.0.0.1',
      name: 'localhost',
      origins: [],
      limits: HUB_LIMITS,
    })
    try {
      const [ana, ben] = await openPages(`http://localhost:${hub.port}/`)
      await onPhone(ana, 'found', CASES)
      await pairUp(ana, ben)
      await Promise.all([onPhone(ana, 'meet'), onPhone(ben, 'meet')])
      for (const page of [ana, ben]) await onPhone(page, 'leave')

      await onPhone(ana, 'lookNearby')
      await onPhone(ben, 'lookNearby')
      for (const page of [ana, ben]) {
        await onPhone(page, 'untilNews', 'equal')
        expect(await onPhone(page, 'nearbyConnections')).toEqual([{ webrtc: 1, bc: 0 }])
      }
      await onPhone(ben, 'addCase')
      await onPhone(ana, 'untilCases', CASES + 1)
      expect(await onPhone(ana, 'hashes')).toEqual(await onPhone(ben, 'hashes'))
      // Derived from the secret: the same word on both, and no name of anybody.
      const names = await onPhone(ana, 'roomNames')
      expect(names).toEqual([expect.stringMatching(/^[\w-]{43}$/)])
      expect(await onPhone(ben, 'roomNames')).toEqual(names)

      await onPhone(ana, 'strikeTheOthers')
      await onPhone(ana, 'lookNearby')
      await onPhone(ben, 'lookNearby')
      await onPhone(ana, 'untilNews', 'not-in-crew')
      await onPhone(ben, 'untilNews', 'closed-early')
      // She is in the older room too, where he is, and no gate opened there.
      expect(await onPhone(ana, 'roomNames')).toHaveLength(2)
      for (const page of [ana, ben]) expect(await onPhone(page, 'heardNews')).not.toContain('met')
      for (const phone of phones) expect(phone.trouble).toEqual([])
    } finally {
      await hub.close()
    }
  })

  it('are told in words when no hub answers', async () => {
    const [ana] = await openPages()
    await onPhone(ana, 'found', 1)
    await onPhone(ana, 'lookNearby')
    await onPhone(ana, 'untilNews', 'hub-unreachable')
  })
})
