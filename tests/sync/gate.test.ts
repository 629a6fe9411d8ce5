import { describe, expect, it } from 'vitest'
import { casebookIdSchema } from '../../src/ids.ts'
import { FRAME, FRAME_BYTES, framed, SILENT_AFTER_MS } from '../../sync/transport/frames.ts'
import { GATE_LIMIT_MS, type GateKeeper, passGate } from '../../sync/transport/gate.ts'
import { MESSAGE_LIMIT_BYTES } from '../../sync/transport/transport.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { expectOk } from '../support/casebooks.ts'
import {
  handTimer,
  keeperOf,
  MemoryChannel,
  meetAtGate,
  memoryChannels,
  ONE_CONNECTION,
  surroundingsOf,
} from '../support/channels.ts'
import { transportContract } from './transport-contract.ts'

const CASEBOOK = casebookIdSchema.parse('Casebook-of-this-testA')
const OTHER = casebookIdSchema.parse('Casebook-of-others---A')
const text = (message: string): Uint8Array => new TextEncoder().encode(message)
const say = (message: unknown): Uint8Array => framed(FRAME.gate, text(JSON.stringify(message)))

/** Two devices of one crew. */
const crewOfTwo = async (): Promise<[GateKeeper, GateKeeper]> => {
  const [one, two] = [(await createDeviceKey()).deviceKey, (await createDeviceKey()).deviceKey]
  const known = () => [one.device, two.device]
  return [await keeperOf(CASEBOOK, known, one), await keeperOf(CASEBOOK, known, two)]
}
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): string =>
  result.failure?.type ?? 'open'

transportContract('behind the gate', async () => {
  const channels = memoryChannels()
  const [a, b] = await meetAtGate(channels, await crewOfTwo())
  return {
    ends: [expectOk(a).transport, expectOk(b).transport],
    breakLine: () => channels[0].close(),
  }
})

describe('the gate', () => {
  it('opens for two of one crew, each knowing who the other is', async () => {
    const crew = await crewOfTwo()
    const [a, b] = await meetAtGate(memoryChannels(), crew)
    expect(expectOk(a)).toMatchObject({ device: crew[1].deviceKey.device, casebookId: CASEBOOK })
    expect(expectOk(b)).toMatchObject({ device: crew[0].deviceKey.device, publicKey: crew[0].deviceKey.publicKey })
  })

  it('opens for one who is being invited, and tells it the casebook', async () => {
    const [inviter, key] = [(await createDeviceKey()).deviceKey, (await createDeviceKey()).deviceKey]
    const newcomer = await keeperOf(undefined, () => [inviter.device], key)
    const [a, b] = await meetAtGate(memoryChannels(), [await keeperOf(CASEBOOK, () => [key.device], inviter), newcomer])
    expect([typeOf(a), typeOf(b)]).toEqual(['open', 'open'])
    expect(expectOk(b).casebookId).toBe(CASEBOOK)
  })

  it('shows nothing to a stranger, and is shut at both ends', async () => {
    const [one, stranger] = [(await createDeviceKey()).deviceKey, (await createDeviceKey()).deviceKey]
    const channels = memoryChannels()
    const [a, b] = await meetAtGate(channels, [
      await keeperOf(CASEBOOK, () => [one.device], one),
      await keeperOf(CASEBOOK, () => [one.device, stranger.device], stranger),
    ])
    expect(typeOf(a)).toBe('not-in-crew')
    expect(typeOf(b)).toBe('closed-early')
    expect(channels[0].sent.every(frame => frame[0] === FRAME.gate)).toBe(true)
    // No proof went out to it: its greeting alone was answered with nothing.
    expect(channels[0].sent.map(frame => JSON.parse(new TextDecoder().decode(frame.subarray(1))).gate)).toEqual([
      'hello',
    ])
  })

  it('does not open for one who is struck off while it proves itself', async () => {
    const [one, two] = [(await createDeviceKey()).deviceKey, (await createDeviceKey()).deviceKey]
    let asked = 0
    const keeper: GateKeeper = {
      ...(await keeperOf(CASEBOOK, () => [two.device], one)),
      admits: () => {
        asked += 1
        return asked === 1
      },
    }
    const [a] = await meetAtGate(memoryChannels(), [keeper, await keeperOf(CASEBOOK, () => [one.device], two)])
    expect(typeOf(a)).toBe('not-in-crew')
  })

  it.each([
    ['a relay with two certificates of its own', { here: 'BB:22', there: 'MM:99' }, 'false-proof'],
    ['nobody in between (the control: the same set-up opens)', { here: 'BB:22', there: 'AA:11' }, 'open'],
  ])('binds its proof to this connection: %s', async (_, seenByB, expected) => {
    const [keeperA, keeperB] = await crewOfTwo()
    const [a, b] = memoryChannels()
    const results = await Promise.all([
      passGate(keeperA, surroundingsOf(a, { here: 'AA:11', there: expected === 'open' ? 'BB:22' : 'MM:88' })),
      passGate(keeperB, surroundingsOf(b, seenByB)),
    ])
    expect(results.map(typeOf)).toContain(expected)
    expect(results.every(result => result.ok)).toBe(expected === 'open')
  })

  it('knows itself again when its own words come back', async () => {
    const [keeper] = await crewOfTwo()
    const channel = new MemoryChannel()
    channel.other = channel
    expect(typeOf(await passGate(keeper, surroundingsOf(channel, ONE_CONNECTION[0])))).toBe('met-itself')
  })

  it('takes no other device for one whose key it does not have', async () => {
    const [keeperA, keeperB] = await crewOfTwo()
    const thief = (await createDeviceKey()).deviceKey
    const stolenName = { ...thief, device: keeperB.deviceKey.device }
    const [a] = await meetAtGate(memoryChannels(), [keeperA, { ...keeperB, deviceKey: stolenName }])
    expect(typeOf(a)).toBe('false-proof')
    const withKey = { ...stolenName, publicKey: keeperB.deviceKey.publicKey }
    const [again] = await meetAtGate(memoryChannels(), [keeperA, { ...keeperB, deviceKey: withKey }])
    expect(typeOf(again)).toBe('false-proof')
  })

  it('tells two casebooks apart', async () => {
    const [keeperA, keeperB] = await crewOfTwo()
    const [a] = await meetAtGate(memoryChannels(), [keeperA, { ...keeperB, casebookId: OTHER }])
    expect(typeOf(a)).toBe('other-casebook')
  })

  it('gives up, in words, on one that says nothing', async () => {
    const [keeper] = await crewOfTwo()
    const [a] = memoryChannels()
    const timer = handTimer()
    const result = passGate(keeper, surroundingsOf(a, ONE_CONNECTION[0], timer))
    timer.pass(GATE_LIMIT_MS)
    const ended = await result
    expect(typeOf(ended)).toBe('no-proof-in-time')
    expect(!ended.ok && ended.failure.message).toMatch(/Nothing was exchanged.*try again/)
  })

  const hello = (device: string, key: string) => ({
    gate: 'hello',
    v: 1,
    casebook: CASEBOOK,
    device,
    key,
    nonce: 'A'.repeat(43),
  })
  it.each<[string, (device: string, key: string) => Uint8Array[], string]>([
    ['data before any proof', () => [framed(FRAME.last, text('{"name":"x"}'))], 'unexpected'],
    ['a message without a gate, as plain y-webrtc sends it', () => [new Uint8Array([0, 0, 1, 0])], 'unexpected'],
    ['an empty frame', () => [new Uint8Array()], 'unexpected'],
    ['a gate frame that is too long', () => [framed(FRAME.gate, new Uint8Array(FRAME_BYTES))], 'unexpected'],
    ['what is no JSON', () => [framed(FRAME.gate, text('{'))], 'unexpected'],
    ['a word of no gate', () => [say({ gate: 'please' })], 'unexpected'],
    ['a greeting with more in it', (d, k) => [say({ ...hello(d, k), more: 1 })], 'unexpected'],
    ['a greeting of a later version', (d, k) => [say({ ...hello(d, k), v: 2 })], 'other-gate-version'],
    ['two greetings', (d, k) => [say(hello(d, k)), say(hello(d, k))], 'unexpected'],
    ['a short nonce', (d, k) => [say({ ...hello(d, k), nonce: 'AAAA' })], 'unexpected'],
    ['a proof before the greeting', () => [say({ gate: 'proof', signature: 'AAAA' })], 'unexpected'],
    [
      '"open" before the proof, and data',
      (d, k) => [say(hello(d, k)), say({ gate: 'open' }), framed(FRAME.last, text('x'))],
      'unexpected',
    ],
    ['a false proof', (d, k) => [say(hello(d, k)), say({ gate: 'proof', signature: 'A'.repeat(86) })], 'false-proof'],
    [
      'a signature that is no base64url',
      (d, k) => [say(hello(d, k)), say({ gate: 'proof', signature: '!' })],
      'unexpected',
    ],
  ])('refuses %s', async (_, frames, expected) => {
    const [keeper, other] = await crewOfTwo()
    const [a, b] = memoryChannels()
    const result = passGate(keeper, surroundingsOf(a, ONE_CONNECTION[0]))
    for (const frame of frames(other.deviceKey.device, other.deviceKey.publicKey)) b.send(frame)
    expect(typeOf(await result)).toBe(expected)
    expect(a.sent.every(frame => frame[0] === FRAME.gate)).toBe(true)
  })

  it('keeps no more than a little from one that floods it', async () => {
    const [keeper, other] = await crewOfTwo()
    const [a, b] = memoryChannels()
    const result = passGate(keeper, {
      ...surroundingsOf(a, ONE_CONNECTION[0]),
      fingerprints: () => new Promise(() => {}),
    })
    // A good greeting, behind which the rest has to wait: what it is, is not looked at.
    b.send(say(hello(other.deviceKey.device, other.deviceKey.publicKey)))
    for (let count = 0; count < 1000; count += 1) b.send(framed(FRAME.gate, new Uint8Array(2000)))
    expect(typeOf(await result)).toBe('unexpected')
  })
})

const opened = async () => {
  const channels = memoryChannels()
  const timer = handTimer()
  const [a, b] = await meetAtGate(channels, await crewOfTwo(), timer)
  return { channels, timer, a: expectOk(a).transport, b: expectOk(b).transport }
}

describe('frames behind the gate', () => {
  it('are 16 KiB at most, and a message is whole again', async () => {
    const { channels, a, b } = await opened()
    await a.send(new Uint8Array(100_000).fill(7))
    expect((await b.receive())?.length).toBe(100_000)
    expect(Math.max(...channels[0].sent.map(frame => frame.length))).toBe(FRAME_BYTES + 1)
  })

  it('wait while the channel is full', async () => {
    const { channels, a, b } = await opened()
    channels[0].isHeld = true
    let isSent = false
    const sending = Promise.all([a.send(new Uint8Array(1_200_000)), a.send(text('after'))]).then(() => {
      isSent = true
    })
    for (let turn = 0; turn < 200; turn += 1) await Promise.resolve()
    expect(isSent).toBe(false)
    expect(channels[0].waitingBytes()).toBeLessThan(1024 * 1024 + 2 * FRAME_BYTES)
    channels[0].isHeld = false
    channels[0].release()
    await sending
    expect((await b.receive())?.length).toBe(1_200_000)
    expect(await b.receive()).toEqual(text('after'))
  })

  it.each([
    ['of an unknown kind', [new Uint8Array([9, 1])]],
    ['longer than a frame', [framed(FRAME.last, new Uint8Array(FRAME_BYTES + 1))]],
    [
      'that never end',
      Array.from({ length: Math.ceil(MESSAGE_LIMIT_BYTES / FRAME_BYTES) + 1 }, () =>
        framed(FRAME.more, new Uint8Array(FRAME_BYTES)),
      ),
    ],
    ['of a gate that is open already', [say({ gate: 'open' })]],
  ])('%s end the connection in words', async (_, frames) => {
    const { channels, b } = await opened()
    for (const frame of frames) channels[0].send(frame)
    expect(await b.closed).toMatchObject({ type: 'refused' })
    expect(await b.receive()).toBeUndefined()
  })

  it('end the connection when the other is mute, and not while it says that it lives', async () => {
    const { timer, a, b } = await opened()
    for (let round = 0; round < 20; round += 1) {
      timer.pass(SILENT_AFTER_MS / 4)
      for (let turn = 0; turn < 10; turn += 1) await Promise.resolve()
    }
    await a.send(text('still here'))
    expect(await b.receive()).toEqual(text('still here'))
    timer.pass(SILENT_AFTER_MS)
    expect((await b.closed).type).toMatch(/silent|cut/)
  })

  it('carry presence beside the exchange', async () => {
    const { a, b } = await opened()
    const said = (word: string): Uint8Array => Uint8Array.of(201, ...text(word))
    a.lobby.send(said('early'))
    await Promise.resolve()
    await Promise.resolve()
    const heard: string[] = []
    b.lobby.listen(202, () => heard.push('of another kind'))
    b.lobby.listen(201, message => heard.push(new TextDecoder().decode(message.subarray(1))))
    a.lobby.send(Uint8Array.of(203))
    a.lobby.send(said('late'))
    await a.send(text('end'))
    await b.receive()
    expect(heard).toEqual(['early', 'late'])
  })
})
