import { afterEach, describe, expect, it } from 'vitest'
import { WebrtcConn, WebrtcProvider } from 'y-webrtc'
import { casebookIdSchema } from '../../../src/ids.ts'
import { emptyDocument } from '../../../sync/case-document.ts'
import { platformRandom } from '../../../sync/secret-keeper.ts'
import { platformTimer } from '../../../sync/timer.ts'
import { FRAME, transportOver } from '../../../sync/transport/frames.ts'
import { type GateKeeper, passGate } from '../../../sync/transport/gate.ts'
import type { LobbyConnection, LobbyRoom } from '../../../sync/transport/lobby-room.ts'
import { openLobbyRoom } from '../../../sync/transport/lobby-room.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { keeperOf } from '../../support/channels.ts'
import { connectRooms } from './peers.ts'

const CASEBOOK = casebookIdSchema.parse('Casebook-of-this-testA')
const SAID = 'words about an invented person'

const opened: LobbyRoom[] = []
afterEach(() => {
  for (const room of opened.splice(0)) room.close()
})
const roomOf = async (): Promise<LobbyRoom> => {
  const room = await openLobbyRoom()
  opened.push(room)
  return room
}
const crewOfTwo = async (): Promise<readonly [GateKeeper, GateKeeper]> => {
  const [one, two] = [(await createDeviceKey()).deviceKey, (await createDeviceKey()).deviceKey]
  const known = () => [one.device, two.device]
  return [await keeperOf(CASEBOOK, known, one), await keeperOf(CASEBOOK, known, two)]
}
const gate = (keeper: GateKeeper, { channel }: LobbyConnection) =>
  passGate(keeper, { ...channel, timer: platformTimer, randomBytes: platformRandom })

/** Two devices that believe to be connected, and somebody between them who hands every frame on and keeps a copy. */
const withRelay = async (): Promise<{ a: LobbyConnection; b: LobbyConnection; copies: Uint8Array[] }> => {
  const [a, toA] = await connectRooms(await roomOf(), await roomOf())
  const [toB, b] = await connectRooms(await roomOf(), await roomOf())
  const copies: Uint8Array[] = []
  const handOn = (from: LobbyConnection, to: LobbyConnection): void =>
    from.channel.channel.listen({
      frame: frame => {
        copies.push(frame.slice())
        to.channel.channel.send(frame)
      },
      closed: () => to.close(),
    })
  handOn(toA, toB)
  handOn(toB, toA)
  return { a, b, copies }
}

describe('somebody in the middle of a real connection', () => {
  it('reads everything where there is no gate (the control)', async () => {
    const { a, b, copies } = await withRelay()
    const plain = ({ channel: { channel } }: LobbyConnection) =>
      transportOver({ channel, timer: platformTimer, takeOver: hears => channel.listen(hears) })
    const [here, there] = [plain(a), plain(b)]
    await here.send(new TextEncoder().encode(SAID))
    expect(new TextDecoder().decode(await there.receive())).toBe(SAID)
    expect(copies.some(frame => new TextDecoder().decode(frame).includes(SAID))).toBe(true)
  })

  it('is found out by the certificates: the gate stays shut at both ends, and nothing but greetings has passed', async () => {
    const { a, b, copies } = await withRelay()
    const [keeperA, keeperB] = await crewOfTwo()
    const results = await Promise.all([gate(keeperA, a), gate(keeperB, b)])
    expect(results.map(({ ok }) => ok)).toEqual([false, false])
    expect(results.flatMap(result => (result.ok ? [] : [result.failure.type]))).toContain('false-proof')
    expect(copies.length).toBeGreaterThan(0)
    expect(copies.every(frame => frame[0] === FRAME.gate)).toBe(true)
  })
})

describe('an end without a gate', () => {
  it('that is a plain y-webrtc is told nothing, and parted from', async () => {
    const provider = new WebrtcProvider(crypto.randomUUID(), emptyDocument(), {
      signaling: [],
      peerOpts: { trickle: false, config: { iceServers: [] } },
    })
    await provider.key
    const { room } = provider
    if (!room) throw new Error('no room')
    const ours = (await roomOf()).connect(true)
    const offer = await ours.description
    if (!offer) throw new Error('no offer')
    const heard: unknown[] = []
    const closed = new Promise<void>(resolve => {
      const answering = {
        send: ({ data: { signal } }: { data: { signal: { type: string; sdp?: string } } }) => {
          if (signal.type === 'answer' && signal.sdp !== undefined) ours.take({ type: 'answer', sdp: signal.sdp })
        },
      }
      const { peer } = new WebrtcConn(answering, false, 'ours', room)
      const emit = peer.emit.bind(peer)
      peer.emit = (event, ...args) => {
        if (event === 'data') heard.push(args[0])
        if (event === 'close') resolve()
        return emit(event, ...args)
      }
      peer.signal({ type: 'offer', sdp: offer.sdp })
    })
    expect(await ours.channel.connected).toBe(true)
    const [keeper] = await crewOfTwo()
    const result = await gate(keeper, ours)
    expect(!result.ok && result.failure.type).toBe('unexpected')
    await closed
    // Our greeting at most, which names no person.
    for (const each of heard) expect(each).toHaveProperty('0', FRAME.gate)
    expect(heard.length).toBeLessThanOrEqual(1)
    provider.destroy()
  })

  it('that sends the data of an exchange at once has none of it looked at', async () => {
    const [theirs, ours] = await connectRooms(await roomOf(), await roomOf())
    for (const kind of [FRAME.last, FRAME.lobby, FRAME.end])
      theirs.channel.channel.send(Uint8Array.from([kind, 1, 2, 3]))
    const [keeper] = await crewOfTwo()
    const result = await gate(keeper, ours)
    expect(!result.ok && result.failure.type).toBe('unexpected')
    expect(!result.ok && result.failure.message).toMatch(/Nothing was exchanged/)
  })
})
