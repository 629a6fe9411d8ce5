import { afterAll, beforeAll, expect, inject, it } from 'vitest'
import { HUB_LIMITS } from '../../sync/desk/hub-limits.ts'
import { type Hub, startHub } from '../../sync/desk/hub-server.ts'
import { HUB_PATH } from '../../sync/transport/hub-path.ts'
import { Phone } from './phone.ts'

let own: Hub
let another: Hub
let phone: Phone
beforeAll(async () => {
  const options = { folder: inject('builtApp'), port: 0, host: '127.0.0.1', name: 'localhost', limits: HUB_LIMITS }
  own = await startHub({ ...options, origins: [] })
  // It would take this page's calls: what keeps the page from calling is the page's own content rules.
  another = await startHub({ ...options, origins: [`http://localhost:${own.port}`] })
  phone = await Phone.open()
})
afterAll(async () => {
  await phone.close()
  await Promise.all([own.close(), another.close()])
})

it('a page of the hub is introduced by that hub, and can call no other', async () => {
  const page = await phone.openTab(`http://localhost:${own.port}/`)
  const call = (port: number): Promise<string> =>
    page.evaluate(
      url =>
        new Promise<string>(settle => {
          const socket = new WebSocket(url)
          socket.onopen = () => socket.send('{"type":"ping"}')
          socket.onmessage = ({ data }) => settle(String(data))
          socket.onerror = () => settle('no connection')
        }),
      `ws://localhost:${port}${HUB_PATH}`,
    )
  expect(await call(own.port)).toBe('{"type":"pong"}')
  expect(phone.trouble).toEqual([])
  // W3C, Content Security Policy Level 3, matching of a URL by 'self': it holds for WebSockets to the page's own host and port alone.
  expect(await call(another.port)).toBe('no connection')
  expect(phone.trouble).toContainEqual(
    expect.stringContaining(`content rules: connect-src ws://localhost:${another.port}`),
  )
})
