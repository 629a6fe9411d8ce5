import { createServer } from 'node:http'
import { networkInterfaces } from 'node:os'
import { afterEach, beforeEach, expect, inject, it } from 'vitest'
import { appFiles } from '../../sync/desk/app-files.ts'
import { listen } from '../../sync/desk/listen.ts'
import { Phone } from './phone.ts'

/** An address that browsers do not take for this machine itself: for them plain http there is insecure. */
const address = Object.values(networkInterfaces())
  .flatMap(each => each ?? [])
  .find(({ family, internal }) => family === 'IPv4' && !internal)?.address

let phone: Phone
beforeEach(async () => {
  phone = await Phone.open({ reaches: address })
})
afterEach(() => phone.close())

it.skipIf(address === undefined)(
  `over plain http on the network practice opens and real cases do not${address ? '' : ' (skipped: this machine is on no network)'}`,
  async () => {
    const server = createServer(await appFiles(inject('builtApp')))
    const port = await listen(server, 0, '0.0.0.0')
    try {
      const page = await phone.openTab(`http://${address}:${port}/`)
      await page.getByText('is not a secure address').waitFor()
      expect(await page.evaluate(() => [isSecureContext, crypto.subtle])).toEqual([false, undefined])
      expect(await page.getByRole('button').allTextContents()).toEqual(['Try the practice trip'])
      await page.getByRole('button', { name: 'Try the practice trip' }).click()
      await page.getByText('Selka Imbaru').click()
      await page.getByRole('heading', { name: 'Selka Imbaru' }).waitFor()
      await page.evaluate(() => {
        location.hash = '#/new-referral'
      })
      await page.locator('#name').fill('Somebody New')
      await page.getByRole('button', { name: 'Save and open' }).click()
      await page.getByRole('heading', { name: 'Somebody New' }).waitFor()
      expect(await page.evaluate(async () => (await indexedDB.databases()).length)).toBe(0)
      expect(phone.trouble).toEqual([])
    } finally {
      server.closeAllConnections()
      server.close()
    }
  },
)
