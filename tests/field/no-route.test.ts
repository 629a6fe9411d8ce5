import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { buildApp } from './built-app.ts'
import { onPhone, PAIRING_PAGE, pairUp } from './pairing-phones.ts'
import { SeparateNetworks, whyNoNetworks } from './separate-networks.ts'
import { Site } from './site.ts'

const why = whyNoNetworks()
const CASES = 20

describe.skipIf(why !== undefined)(`two networks that lead nowhere${why ? ` (skipped: ${why})` : ''}`, () => {
  let folder: string
  let site: Site
  let networks: SeparateNetworks
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'outspoke-no-route-'))
    await buildApp({ root: PAIRING_PAGE, outDir: folder })
    site = await Site.open(folder)
    networks = await SeparateNetworks.open()
  })
  afterAll(async () => {
    await networks.close()
    await site.stop()
    await rm(folder, { recursive: true })
  })

  it('let two phones pair by two codes, once they may know their own addresses', async () => {
    const [one, other] = networks.phones
    for (const phone of networks.phones)
      expect(phone.routes()).toBe(`192.0.2.0/24 dev line proto kernel scope link src ${phone.address}`)
    const [ana, ben] = [await one.openPage(site.address), await other.openPage(site.address)]
    for (const page of [ana, ben]) await page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
    await onPhone(ana, 'found', CASES)
    // The control: without leave for the camera there is no address, and that is said instead of a code that leads nowhere.
    await expect(onPhone(ana, 'showOffer')).rejects.toThrow(/no-address/)

    for (const { context } of networks.phones) await context.grantPermissions(['camera'])
    await pairUp(ana, ben)
    const rounds = await Promise.all([onPhone(ana, 'meet'), onPhone(ben, 'meet')])
    expect(rounds).toMatchObject([
      { as: 'inviting', status: 'equal' },
      { as: 'invited', status: 'equal', entriesReceived: CASES + 2 },
    ])
    for (const page of [ana, ben]) expect(await onPhone(page, 'connections')).toEqual({ webrtc: 1, bc: 0 })
    expect(await onPhone(ben, 'hashes')).toEqual(await onPhone(ana, 'hashes'))
  })
})
