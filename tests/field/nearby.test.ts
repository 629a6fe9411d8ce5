import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, inject, it } from 'vitest'
import { HUB_LIMITS } from '../../sync/desk/hub-limits.ts'
import { type Hub, startHub } from '../../sync/desk/hub-server.ts'
import { foundAndLetIn, goTo, holdTheSame, press, sees, unlockAfterReload, writeDown } from './crew-steps.ts'
import { Phone } from './phone.ts'

let hub: Hub
const phones: Phone[] = []
beforeEach(async () => {
  const options = { folder: inject('builtApp'), port: 0, host: '127.0.0.1', name: 'localhost', limits: HUB_LIMITS }
  hub = await startHub({ ...options, origins: [] })
})
afterEach(async () => {
  for (const phone of phones.splice(0)) await phone.close()
  await hub.close()
})

const openPhone = async (): Promise<Page> => {
  const phone = await Phone.open()
  phones.push(phone)
  await phone.context.grantPermissions(['camera'])
  return phone.openTab(`http://localhost:${hub.port}/`)
}
const joinHub = async (page: Page): Promise<void> => {
  await goTo(page, '#/nearby')
  await page.getByText('Through a hub').click()
  await press(page, `Join the hub at localhost:${hub.port}`)
}

it('a crew meets through the hub that the app came from; one window of a browser is at the hub', async () => {
  const wenna = await openPhone()
  const bram = await openPhone()
  await foundAndLetIn(wenna, bram)

  for (const page of [wenna, bram]) await unlockAfterReload(page)
  await goTo(bram, '#/people')
  await bram.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
  await writeDown(bram, 'Tove Marn')
  await goTo(bram, '#/nearby')
  await sees(bram, '1 entry written here is on no other device yet. It is about 1 person.')
  for (const page of [wenna, bram]) await joinHub(page)
  await holdTheSame(wenna, bram)
  await sees(bram, 'Everything written on this device is on another device of the crew too.')
  for (const page of [wenna, bram]) await sees(page, 'both held the same: 2 cases')

  // Who has what open is told at the case, by the name in the crew list.
  await wenna.getByRole('link', { name: 'People' }).click()
  await wenna.getByRole('link', { name: /Tove Marn/ }).click()
  await wenna.getByRole('heading', { name: 'Tove Marn' }).waitFor()
  await sees(bram, 'Has Tove Marn open')
  await bram.getByRole('link', { name: 'Has Tove Marn open' }).click()
  await sees(wenna, 'Bram Oskel has this case open')
  await sees(bram, 'Wenna Dalmor has this case open')

  // Another window of the same browser leaves the hub to the first, and hears of what comes.
  const beside = await phones[0]?.openTab(`http://localhost:${hub.port}/`)
  if (!beside) throw new Error('no other window')
  await beside.getByLabel('Passphrase', { exact: true }).waitFor()
  await unlockAfterReload(beside)
  await beside.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
  await joinHub(beside)
  await sees(beside, 'Another window of this browser is at the hub.')
  await writeDown(bram, 'Orrin Pell')
  await goTo(beside, '#/people')
  await sees(beside, 'Orrin Pell')
  // The first window is gone: the other one takes its place at the hub.
  await wenna.close()
  await goTo(beside, '#/nearby')
  await sees(beside, `At the hub localhost:${hub.port}.`)
  await holdTheSame(beside)
  for (const phone of phones) expect(phone.trouble).toEqual([])
})
