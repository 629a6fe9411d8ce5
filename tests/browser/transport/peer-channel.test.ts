import { afterEach, describe, expect, it } from 'vitest'
import { casebookIdSchema } from '../../../src/ids.ts'
import { platformRandom } from '../../../sync/secret-keeper.ts'
import { platformTimer } from '../../../sync/timer.ts'
import { passGate } from '../../../sync/transport/gate.ts'
import type { LobbyRoom } from '../../../sync/transport/lobby-room.ts'
import { openLobbyRoom } from '../../../sync/transport/lobby-room.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { expectOk } from '../../support/casebooks.ts'
import { keeperOf } from '../../support/channels.ts'
import { transportContract } from '../../sync/transport-contract.ts'
import { connectRooms, twoRooms } from './peers.ts'

const CASEBOOK = casebookIdSchema.parse('Casebook-of-this-testA')

const opened: LobbyRoom[] = []
afterEach(() => {
  for (const room of opened.splice(0)) room.close()
})
const rooms = async () => {
  const both = await twoRooms()
  opened.push(...both)
  return both
}

const behindTheGate = async () => {
  const both = await rooms()
  const [a, b] = await connectRooms(...both)
  const [one, two] = [(await createDeviceKey()).deviceKey, (await createDeviceKey()).deviceKey]
  const known = () => [one.device, two.device]
  const surroundings = { timer: platformTimer, randomBytes: platformRandom }
  const gates = await Promise.all([
    passGate(await keeperOf(CASEBOOK, known, one), { ...a.channel, ...surroundings }),
    passGate(await keeperOf(CASEBOOK, known, two), { ...b.channel, ...surroundings }),
  ])
  const [here, there] = [expectOk(gates[0]).transport, expectOk(gates[1]).transport]
  return { rooms: both, a, b, here, there }
}

transportContract('real data channels behind the gate', async () => {
  const { a, here, there } = await behindTheGate()
  return { ends: [here, there], breakLine: () => a.close() }
})

describe('the channel below y-webrtc', () => {
  it('goes by WebRTC, not from tab to tab', async () => {
    const { rooms: both, here, there } = await behindTheGate()
    await here.send(Uint8Array.of(1, 2, 3))
    expect(await there.receive()).toEqual(Uint8Array.of(1, 2, 3))
    for (const room of both) {
      expect(room.connections().webrtcConns.size).toBe(1)
      expect(room.connections().bcConns.size).toBe(0)
    }
  })

  it('knows both certificates, each end the same two the other way round', async () => {
    const { a, b } = await behindTheGate()
    const [here, there] = [await a.channel.fingerprints(), await b.channel.fingerprints()]
    expect(here.here).toMatch(/^([0-9A-F]{2}:){31}[0-9A-F]{2}$/)
    expect(here).toEqual({ here: there.there, there: there.here })
    expect(here.here).not.toBe(here.there)
  })

  it('lets no word of y-webrtc out or in', async () => {
    const both = await rooms()
    const [a, b] = await connectRooms(...both)
    const heard: Uint8Array[] = []
    const whole = new Promise<void>(resolve => {
      b.channel.channel.listen({
        frame: frame => {
          heard.push(frame)
          if (heard.length === 2) resolve()
        },
        closed: () => undefined,
      })
    })
    // The state of a document, presence, and a question for it, as the library would send them once it is connected.
    for (const { peer } of both[0].connections().webrtcConns.values())
      for (const message of [[0, 0, 1, 0], [1, 1, 1, 1, 2, 123, 125], [3]]) peer.send(Uint8Array.from(message))
    // The same said by the other end, past all of this, and a marker: neither reaches the library here.
    a.channel.channel.send(Uint8Array.of(3))
    a.channel.channel.send(Uint8Array.of(9))
    await whole
    expect(heard).toEqual([Uint8Array.of(3), Uint8Array.of(9)])
    for (const room of both)
      for (const each of room.connections().webrtcConns.values()) expect(each.connected).toBe(false)
  })

  it('closes on one that floods it while nobody listens', async () => {
    const [a, b] = await connectRooms(...(await rooms()))
    const closed = new Promise<void>(resolve => {
      a.channel.channel.listen({ frame: () => undefined, closed: resolve })
    })
    for (let count = 0; count < 200; count += 1) a.channel.channel.send(new Uint8Array(1000))
    await closed
    const frames: Uint8Array[] = []
    const told = new Promise<void>(resolve => {
      b.channel.channel.listen({ frame: frame => frames.push(frame), closed: resolve })
    })
    await told
    expect(frames.length).toBeLessThan(100)
  })

  it('says that it is not connected when it is closed before, and describes nothing then', async () => {
    const room = await openLobbyRoom()
    opened.push(room)
    const connection = room.connect(false)
    connection.close()
    expect(await connection.channel.connected).toBe(false)
    expect(await connection.description).toBeUndefined()
    connection.take({ type: 'offer', sdp: '' })
    expect(room.connections().webrtcConns.size).toBe(0)
  })
})
