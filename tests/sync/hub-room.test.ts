import { once } from 'node:events'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { WebSocket, WebSocketServer } from 'ws'
import { type HubRoom, openHubRoom } from '../../sync/transport/hub-room.ts'
import { type LobbyRoom, openLobbyRoom } from '../../sync/transport/lobby-room.ts'

const ROOM = 'a-room-at-the-hub'

let hub: WebSocketServer
let lobby: LobbyRoom
let room: HubRoom
beforeEach(async () => {
  vi.stubGlobal('WebSocket', WebSocket)
  hub = new WebSocketServer({ port: 0 })
  await once(hub, 'listening')
})
afterEach(() => {
  room.leave()
  lobby.close()
  hub.close()
  for (const client of hub.clients) client.terminate()
  vi.unstubAllGlobals()
})

/** What a hub hears until it is told of this room for the second time: by its name, then by a sealed word in it. */
const heardUntilAnnounced = (): Promise<readonly string[]> =>
  new Promise(settle => {
    const heard: string[] = []
    hub.once('connection', client => {
      client.on('message', message => {
        heard.push(String(message))
        if (String(message).includes(`"publish","topic":"${ROOM}"`)) settle(heard)
      })
    })
  })

it('a hub is told of its own rooms alone: not of one in which two devices met by codes', async () => {
  lobby = await openLobbyRoom()
  const name = lobby.connections().name
  const heard = heardUntilAnnounced()
  const { port } = hub.address() as AddressInfo
  room = await openHubRoom({ hub: `ws://localhost:${port}/`, name: ROOM, password: 'sealed', onPeer: () => undefined })
  const messages = await heard
  expect(messages.some(message => message.includes('subscribe') && message.includes(ROOM))).toBe(true)
  // A room without a password announces itself in plain words: a hub closes the line of whoever does that.
  expect(messages.filter(message => message.includes(name))).toEqual([])
})
