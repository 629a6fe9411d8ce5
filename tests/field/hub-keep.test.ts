import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, inject, it } from 'vitest'
import { buildApp } from './built-app.ts'
import {
  beginJoining,
  carryCodes,
  found,
  goTo,
  holdTheSame,
  letIn,
  paste,
  press,
  sees,
  unlockAfterReload,
  writeDown,
} from './crew-steps.ts'
import { KeepingHub } from './keeping-hub.ts'
import { onPhone, PAIRING_PAGE, pairUp } from './pairing-phones.ts'
import { Phone } from './phone.ts'

const PASSPHRASE = 'seven slow carts cross the wet bridge'
const CASES = 20

let app: string
beforeAll(async () => {
  app = await mkdtemp(join(tmpdir(), 'outspoke-keep-app-'))
  await buildApp({ root: PAIRING_PAGE, outDir: app })
})
afterAll(() => rm(app, { recursive: true }))

let keep: string
const phones: Phone[] = []
beforeEach(async () => {
  keep = await mkdtemp(join(tmpdir(), 'outspoke-keep-'))
  for (let count = 0; count < 2; count += 1) {
    const phone = await Phone.open()
    await phone.context.grantPermissions(['camera'])
    phones.push(phone)
  }
})
afterEach(async () => {
  for (const phone of phones.splice(0)) await phone.close()
  await rm(keep, { recursive: true })
})

const openTab = async (at: 0 | 1, address: string): Promise<Page> => {
  const page = await phones[at]?.openTab(address)
  if (!page) throw new Error(`no phone ${at}`)
  return page
}
const joinHub = async (page: Page): Promise<void> => {
  await goTo(page, '#/nearby')
  await page.getByText('Through a hub').click()
  await page.getByRole('button', { name: /^Join the hub at/ }).click()
}
const openPage = async (at: 0 | 1, address: string): Promise<Page> => {
  const page = await openTab(at, address)
  await page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
  return page
}

it('a hub that keeps is invited by its code, hands on after the inviter has gone, outlives its own end, and can be struck off', async () => {
  let hub = new KeepingHub(app, keep, PASSPHRASE)
  const address = await hub.says(/^(http:\S+)/m)
  const ana = await openPage(0, address)
  const ben = await openPage(1, address)
  await onPhone(ana, 'found', 0)

  // What is no answer is refused in words, and the same code stays good.
  const code = await hub.says(/^(outspoke-\S+)$/m)
  hub.type('hello')
  await hub.says(/This is not a code of this app/)
  // The phone gives its answer to the hub it came from; whoever has not seen the code on the screen is sent away.
  const answer = await onPhone(ana, 'readOffer', code)
  const give = (offer: string, given: string) =>
    ana.evaluate(
      async body => {
        const headers = { 'Content-Type': 'application/json' }
        return (await fetch('/answer', { method: 'POST', headers, body: JSON.stringify(body) })).status
      },
      { offer, answer: given },
    )
  expect(await give(answer, answer)).toBe(409)
  expect(await give(code, 'hello')).toBe(422)
  expect(await give(code, answer)).toBe(204)
  expect(await onPhone(ana, 'meet')).toMatchObject({ as: 'inviting', status: 'equal' })
  await hub.says(/This device is of the crew now/)
  expect(await give(code, answer)).toBe(404)
  await onPhone(ana, 'leave')
  await hub.says(/Connected to 0 devices/)

  // Ben hears from her that it is of the crew; who has not heard of a device lets it in nowhere.
  await pairUp(ana, ben)
  await Promise.all([onPhone(ana, 'meet'), onPhone(ben, 'meet')])
  for (const page of [ana, ben]) await onPhone(page, 'leave')

  // Ana writes, is at the hub alone with it, and goes: only the hub can tell Ben.
  for (let count = 0; count < CASES; count += 1) await onPhone(ana, 'addCase')
  await onPhone(ana, 'lookNearby')
  await onPhone(ana, 'untilNews', 'equal')
  const hashes = await onPhone(ana, 'hashes')
  await onPhone(ana, 'leaveHub')
  await onPhone(ben, 'lookNearby')
  await onPhone(ben, 'untilCases', CASES)
  expect(await onPhone(ben, 'hashes')).toEqual(hashes)

  await onPhone(ben, 'leaveHub')
  expect(await hub.end()).toBe(0)
  const before = hub.everything

  hub = new KeepingHub(app, keep, PASSPHRASE, new URL(address).port)
  await hub.says(/Control-C ends the program/)
  await onPhone(ana, 'lookNearby')
  await onPhone(ana, 'untilNews', 'equal')
  await onPhone(ana, 'strikeTheOthers')
  await hub.says(/This device was struck off the crew/)
  expect(await hub.end()).toBe(0)
  expect(hub.everything).not.toContain('not of the crew')

  // Neither names of people nor of the crew, nor its secrets.
  expect(before + hub.everything).not.toMatch(/Ana|Ben|Later|Invented|technician/)
  for (const phone of phones) expect(phone.trouble).toEqual([])
})

it('is invited from the app that it serves, and has told a phone everything when the other one is away', async () => {
  const hub = new KeepingHub(inject('builtApp'), keep, PASSPHRASE)
  const address = await hub.says(/^(http:\S+)/m)
  await hub.says(/^outspoke-\S+$/m)
  const wenna = await openTab(0, address)
  await found(wenna, 'Ilse Dorn')
  await goTo(wenna, '#/two-codes')
  await press(wenna, 'Scan the first code')
  await paste(wenna, hub.codeInTerminal())
  await wenna.getByText('It is a hub, and has no camera').click()
  await press(wenna, 'Give my code to the hub')
  await letIn(wenna, 'Laptop of the workshop')
  await holdTheSame(wenna)
  await hub.says(/This device is of the crew now/)

  const bram = await openTab(1, address)
  await beginJoining(bram)
  await goTo(wenna, '#/two-codes')
  await carryCodes(wenna, bram)
  await letIn(wenna, 'Bram Oskel')
  await holdTheSame(wenna, bram)
  // Bram is away when Wenna writes, and she is away when he comes back.
  await bram.goto('about:blank')
  await writeDown(wenna, 'Tove Marn')
  await joinHub(wenna)
  await sees(wenna, 'Everything written on this device is on another device of the crew too.')
  await phones[0]?.close()
  await bram.goto(address)
  await unlockAfterReload(bram)
  await bram.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
  await joinHub(bram)
  await bram.getByRole('link', { name: 'People' }).click()
  await sees(bram, 'Tove Marn')
  expect(await hub.end()).toBe(0)
  expect(hub.everything).not.toMatch(/Wenna|Bram|Ilse|Tove|Kesse|River|workshop/)
  for (const phone of phones) expect(phone.trouble).toEqual([])
})
