import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { fromBase64Url, toBase64Url } from '../../sync/bytes.ts'
import { HUB_LIMITS } from '../../sync/desk/hub-limits.ts'
import { type Hub, startHub } from '../../sync/desk/hub-server.ts'
import { MESSAGE_LIMIT_BYTES, type Transport } from '../../sync/transport/transport.ts'
import { transportContract } from '../sync/transport-contract.ts'
import { buildApp } from './built-app.ts'
import { onPhone, PAIRING_PAGE, pairUp } from './pairing-phones.ts'
import { Phone } from './phone.ts'

let folder: string
let hub: Hub
let phones: readonly [Phone, Phone]
let pages: readonly [Page, Page]
/** Those of the last connection: a page may only go once it has told how they ended. */
let ends: readonly [Transport, Transport]
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-hub-'))
  await buildApp({ root: PAIRING_PAGE, outDir: folder })
  hub = await startHub({
    folder,
    port: 0,
    host: '127.0.0.1',
    name: 'localhost',
    origins: [],
    limits: HUB_LIMITS,
  })
  phones = [await Phone.open(), await Phone.open()]
  for (const { context } of phones) await context.grantPermissions(['camera'])
  const address = `http://localhost:${hub.port}/`
  pages = [await phones[0].openTab(address), await phones[1].openTab(address)]
  for (const page of pages) await page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
  await onPhone(pages[0], 'found', 0)
  await pairUp(...pages)
  await Promise.all(pages.map(page => onPhone(page, 'meet')))
  for (const page of pages) await onPhone(page, 'leave')
})
afterAll(async () => {
  for (const page of pages) await onPhone(page, 'leaveHub')
  await Promise.all(ends.map(({ closed }) => closed))
  for (const phone of phones) await phone.close()
  await hub.close()
  await rm(folder, { recursive: true })
})

/**
 * The end that a page holds. A call into a page cannot throw at once: the two promises about that (a message over the
 * limit, a second reader) are kept here in its place, and are put to the real end by the suite in the browser.
 */
const endOf = (page: Page): Transport => {
  let isWaitedFor = false
  let sending: Promise<void> = Promise.resolve()
  return {
    send(message) {
      if (message.length > MESSAGE_LIMIT_BYTES) throw new RangeError('too long for the page')
      const bytes = toBase64Url(message)
      sending = sending.then(() => onPhone(page, 'endSend', bytes))
      return sending
    },
    receive() {
      if (isWaitedFor) throw new Error('another receive() waits in the page')
      isWaitedFor = true
      return onPhone(page, 'endReceive').then(bytes => {
        isWaitedFor = false
        return bytes === null ? undefined : fromBase64Url(bytes)
      })
    },
    close: reason => void onPhone(page, 'endClose', reason),
    closed: onPhone(page, 'endClosed'),
  }
}

const connect = async () => {
  for (const page of pages) await onPhone(page, 'leaveHub')
  await Promise.all(pages.map(page => onPhone(page, 'connectEnd')))
  ends = [endOf(pages[0]), endOf(pages[1])]
  return {
    ends,
    breakLine: () => void onPhone(pages[0], 'breakLine'),
  }
}

transportContract('through the hub, between two browsers', connect)

it('two that come to the hub in the same moment meet, every time', async () => {
  for (let time = 0; time < 15; time += 1) {
    const [here, there] = (await connect()).ends
    await here.send(Uint8Array.of(time))
    await there.send(Uint8Array.of(100 + time))
    expect(await Promise.all([there.receive(), here.receive()])).toEqual([
      Uint8Array.of(time),
      Uint8Array.of(100 + time),
    ])
  }
})

it('goes by WebRTC: no tab of the other browser is heard from tab to tab', async () => {
  const [here, there] = (await connect()).ends
  await here.send(Uint8Array.of(7))
  expect(await there.receive()).toEqual(Uint8Array.of(7))
  for (const page of pages) expect(await onPhone(page, 'nearbyConnections')).toEqual([{ webrtc: 1, bc: 0 }])
  for (const phone of phones) expect(phone.trouble).toEqual([])
})
