import { once } from 'node:events'
import type { AddressInfo } from 'node:net'
import fc from 'fast-check'
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { WebSocket, WebSocketServer } from 'ws'
import { WebrtcProvider } from 'y-webrtc'
import * as Y from 'yjs'
import { HUB_LIMITS } from '../../sync/desk/hub-limits.ts'
import { Signalling } from '../../sync/desk/hub-signalling.ts'
import { handClock } from '../support/hand-clock.ts'
import { Caller, type RunningHub, runHub } from '../support/hub-caller.ts'
import { type ReferenceServer, runReference } from '../support/reference-signalling.ts'
import { runs } from '../support/seed.ts'

// What is right is what y-webrtc's own signalling server does (y-webrtc 10.3.0, bin/server.js): it runs beside the hub,
// gets the same messages, and every message that comes back is compared.

let hub: RunningHub
let reference: ReferenceServer
beforeAll(async () => {
  // Many short connections from one address, one run after the other.
  hub = await runHub({ clientsPerAddress: 64, arrivalsAtOnce: 1e6 })
  reference = await runReference()
})
afterAll(async () => {
  await hub.close()
  await reference.close()
})

type Step = readonly [client: number, message: unknown]

/** What each client hears after each step. */
const play = async (open: () => Promise<Caller>, clients: number, steps: readonly Step[]) => {
  const callers = await Promise.all(Array.from({ length: clients }, open))
  const heard: unknown[] = []
  for (const [client, message] of steps) {
    callers[client]?.send(message)
    await callers[client]?.heard().then(own => heard.push(own))
    for (const [index, caller] of callers.entries()) if (index !== client) heard.push(await caller.heard())
  }
  await Promise.all(callers.map(caller => caller.end()))
  return heard
}

const playBoth = (clients: number, steps: readonly Step[]) =>
  Promise.all([play(() => hub.call(), clients, steps), play(() => Caller.open(reference.url), clients, steps)])

const topics = fc.constantFrom('one', 'two', 'three')
const honest = fc.oneof(
  fc.record({ type: fc.constant('subscribe'), topics: fc.array(topics, { minLength: 1, maxLength: 3 }) }),
  fc.record({ type: fc.constant('unsubscribe'), topics: fc.array(topics, { maxLength: 3 }) }),
  fc.record({ type: fc.constant('publish'), topic: topics, data: fc.base64String({ maxLength: 60 }) }),
  fc.record({ type: fc.constant('ping') }),
  // A later client may send what this server does not know, and may leave out what it does not need.
  fc.constantFrom<unknown>({ type: 'subscribe' }, { type: 'later', topics: ['one'] }),
)

describe('signalling', () => {
  it('passes an introduction on as the server of y-webrtc does: to all of the room, to nobody else', async () => {
    const [ours, theirs] = await playBoth(3, [
      [0, { type: 'subscribe', topics: ['room'] }],
      [0, { type: 'publish', topic: 'room', data: 'YW5ub3VuY2U=' }],
      [1, { type: 'subscribe', topics: ['room', 'other'] }],
      [2, { type: 'subscribe', topics: ['other'] }],
      [1, { type: 'publish', topic: 'room', data: 'b2ZmZXI=' }],
      [0, { type: 'publish', topic: 'room', data: 'YW5zd2Vy' }],
      [1, { type: 'unsubscribe', topics: ['room'] }],
      [0, { type: 'publish', topic: 'room', data: 'YWxvbmU=' }],
      [2, { type: 'publish', topic: 'nowhere', data: 'YWxvbmU=' }],
      [0, { type: 'ping' }],
    ])
    expect(ours).toEqual(theirs)
    // The control: the scene is not an empty one. One alone, two to two, one after a parting, and the pong at the end.
    expect(ours.flat()).toHaveLength(1 + 2 + 2 + 1 + 1)
    expect(ours.flat().at(-1)).toEqual({ type: 'pong' })
    expect(ours.flat()).toContainEqual({ type: 'publish', topic: 'room', data: 'b2ZmZXI=', clients: 2 })
  })

  it('does the same as the server of y-webrtc for any honest messages in any order', async () => {
    let compared = 0
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat({ max: 2 }), honest), { minLength: 5, maxLength: 25, size: 'max' }),
        async steps => {
          const [ours, theirs] = await playBoth(3, steps)
          compared += ours.flat().length
          expect(ours).toEqual(theirs)
        },
      ),
      runs(40),
    )
    expect(compared).toBeGreaterThan(40)
  })

  it('forgets the rooms of one who has gone, and who was there', async () => {
    const signalling = new Signalling({ ...HUB_LIMITS, clients: 2 }, handClock().timer)
    const server = new WebSocketServer({ port: 0, host: '127.0.0.1' })
    const gone = new Promise<void>(settle => {
      server.on('connection', socket => {
        signalling.join(socket, 'an address')
        socket.once('close', settle)
      })
    })
    await once(server, 'listening')
    const url = `ws://127.0.0.1:${(server.address() as AddressInfo).port}/`
    const [stays, goes] = [await Caller.open(url), await Caller.open(url)]
    for (const caller of [stays, goes]) caller.send({ type: 'subscribe', topics: ['room'] })
    await goes.heard()
    await goes.end()
    await gone
    stays.send({ type: 'publish', topic: 'room', data: 'YQ==' })
    expect(await stays.heard()).toEqual([{ type: 'publish', topic: 'room', data: 'YQ==', clients: 1 }])
    const next = await Caller.open(url)
    expect(await next.heard()).toEqual([])
    signalling.end()
    expect(await next.closed).toMatchObject({ code: 1012 })
    server.close()
  })
})

describe('the client of y-webrtc itself', () => {
  afterEach(() => {
    vi.unstubAllGlobals()
  })

  /** Everything that the client sends goes through here; a browser would add the origin of its page. */
  const stubSocket = (sent: string[], origin: string): void => {
    vi.stubGlobal(
      'WebSocket',
      class extends WebSocket {
        constructor(url: string) {
          super(url, { origin })
        }
        override send(data: string): void {
          sent.push(data)
          super.send(data)
        }
      },
    )
  }

  it.each([
    ['the hub', () => hub.url],
    ['its own server', () => reference.url],
  ])('is introduced by %s: its announcement is heard in its room, and is sealed', async (_where, urlOf) => {
    const url = urlOf()
    const origin = new URL(url.replace('ws:', 'http:')).origin
    const room = `room of ${url}`
    const watcher = await Caller.open(url, { origin })
    watcher.send({ type: 'subscribe', topics: [room] })
    await watcher.heard()

    const sent: string[] = []
    stubSocket(sent, origin)
    // No connection comes of it: there is no WebRTC in Node, and nobody answers.
    const options = {
      signaling: [url],
      password: 'a password',
      peerOpts: { trickle: false, config: { iceServers: [] } },
    }
    const provider = new WebrtcProvider(room, new Y.Doc(), options)
    const heard: unknown = JSON.parse(await watcher.next())
    provider.disconnect()
    provider.destroy()

    expect(heard).toEqual({ type: 'publish', topic: room, data: expect.stringMatching(/^[\w+/]+=*$/), clients: 2 })
    const kinds = sent.map(text => (JSON.parse(text) as { readonly type: string }).type)
    expect([kinds[0], kinds.includes('publish')]).toEqual(['subscribe', true])
    expect(sent.join()).not.toContain('announce')
    await watcher.end()
  })
})
