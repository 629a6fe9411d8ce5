import { once } from 'node:events'
import { connect } from 'node:net'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { type Caller, handshake, type RunningHub, runHub } from '../support/hub-caller.ts'
import { runs } from '../support/seed.ts'

const KINDS = ['subscribe', 'unsubscribe', 'publish', 'ping', 'pong', '__proto__', 'constructor', '']

/** What a stranger on the hotspot may send once its connection stands. */
const messages = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 200 }),
  fc.uint8Array({ maxLength: 200 }).map(bytes => Buffer.from(bytes)),
  fc.json(),
  // The right kinds with the wrong things in them.
  fc
    .record({ type: fc.constantFrom(...KINDS), topics: fc.anything(), topic: fc.anything(), data: fc.anything() })
    .map(message => JSON.stringify(message, (_, value) => (typeof value === 'bigint' ? String(value) : value))),
  fc
    .record({ type: fc.constantFrom(...KINDS), topics: fc.array(fc.string()), topic: fc.string(), data: fc.string() })
    .map(message => JSON.stringify(message)),
  // A good message cut off, or with one character changed.
  fc.tuple(fc.nat({ max: 60 }), fc.string({ maxLength: 2 })).map(([at, text]) => {
    const good = '{"type":"publish","topic":"honest","data":"b2ZmZXI=","clients":2}'
    return text === '' ? good.slice(0, at) : good.slice(0, at) + text + good.slice(at + 1)
  }),
  // Deep, long and many.
  fc.integer({ min: 1, max: 32_000 }).map(depth => '['.repeat(depth) + ']'.repeat(depth)),
  fc
    .integer({ min: 1, max: 12_000 })
    .map(depth => `{"type":"publish","topic":"a","data":${'[['.repeat(depth)}${']]'.repeat(depth)}}`),
  fc.integer({ min: 1, max: 200_000 }).map(length => `{"type":"publish","topic":"${'a'.repeat(length)}","data":""}`),
  fc
    .integer({ min: 1, max: 6000 })
    .map(count =>
      JSON.stringify({ type: 'subscribe', topics: Array.from({ length: count }, (_, index) => `${index}`) }),
    ),
)

/** Bytes on a connection that stands, where a WebSocket frame (RFC 6455, 5.2) should be: wrong bits, lengths, kinds and masks. */
const frames = fc
  .tuple(fc.nat({ max: 255 }), fc.nat({ max: 255 }), fc.uint8Array({ maxLength: 80 }))
  .map(([first, second, rest]) => Buffer.from([first, second, ...rest]))

/** Bytes where a request should be. */
const requests = fc.oneof(
  fc.uint8Array({ maxLength: 300 }).map(bytes => Buffer.from(bytes)),
  fc
    .tuple(fc.constantFrom('GET', 'POST', 'CONNECT', 'PRI', 'get'), fc.string({ maxLength: 40 }), fc.string())
    .map(([method, path, header]) => Buffer.from(`${method} /${path} HTTP/1.1\r\nHost: ${header}\r\n\r\n`)),
  fc
    .tuple(fc.constantFrom('13', '8', 'x'), fc.string({ maxLength: 30 }))
    .map(([version, key]) =>
      Buffer.from(
        `GET /signal HTTP/1.1\r\nHost: localhost\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nOrigin: http://localhost\r\nSec-WebSocket-Version: ${version}\r\nSec-WebSocket-Key: ${key}\r\n\r\n`,
      ),
    ),
)

const hostile = fc.oneof(
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('message' as const), what: messages }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('frame' as const), what: frames }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('request' as const), what: requests }) },
)

/** Sends bytes as they are, ends its side, and waits until the hub has ended the other. */
const sendRaw = async (hub: RunningHub, bytes: Buffer, isAfterHandshake: boolean): Promise<string> => {
  const socket = connect(hub.port, '127.0.0.1')
  socket.on('error', () => undefined)
  const over = once(socket, 'close')
  if (isAfterHandshake) {
    socket.write(handshake(hub.port))
    const [answer] = await once(socket, 'data')
    expect(String(answer)).toContain('101 Switching Protocols')
  }
  socket.end(bytes)
  socket.resume()
  await over
  return 'ended'
}

const sendMessage = async (hub: RunningHub, what: string | Buffer): Promise<string> => {
  const caller = await hub.call()
  caller.socket.send(what)
  const isHeard = caller.heard().then(
    () => 'passed over',
    () => 'closed',
  )
  const answer = await Promise.race([isHeard, caller.closed.then(({ code }) => `closed with ${code}`)])
  const outcome = answer === 'closed' ? `closed with ${(await caller.closed).code}` : answer
  await caller.end()
  return outcome
}

const meet = async (pair: readonly [Caller, Caller], data: string, topic = 'honest room'): Promise<void> => {
  const message = { type: 'publish', topic, data }
  pair[0].send(message)
  for (const each of pair) expect(await each.heard()).toEqual([{ ...message, clients: 2 }])
}

it('thousands of hostile messages, frames and requests hinder no honest pair', { timeout: 40 * 60_000 }, async () => {
  const AT_ONCE = 8
  const { numRuns, seed } = runs(2000)
  // All come from one address here; the share of one address has its own test.
  const hub = await runHub({
    clientsPerAddress: 64,
    arrivalsAtOnce: 1e6,
    patienceMs: 2000,
    messagesAtOnce: 1e9,
    bytesAtOnce: 1e12,
  })
  const pair = [await hub.call(), await hub.call()] as const
  for (const each of pair) each.send({ type: 'subscribe', topics: ['honest room'] })
  for (const each of pair) expect(await each.heard()).toEqual([])

  const outcomes = new Map<string, number>()
  const all = fc.sample(hostile, { numRuns, seed })
  for (let at = 0; at < all.length; at += AT_ONCE) {
    const some = all
      .slice(at, at + AT_ONCE)
      .map(({ kind, what }) => (kind === 'message' ? sendMessage(hub, what) : sendRaw(hub, what, kind === 'frame')))
    // While they are at it, and afterwards.
    await meet(pair, `during ${at}`)
    for (const [index, outcome] of (await Promise.all(some)).entries()) {
      const key = `${all[at + index]?.kind} ${outcome}`
      outcomes.set(key, (outcomes.get(key) ?? 0) + 1)
    }
  }
  await meet(pair, 'afterwards')
  const told = [...outcomes].map(([outcome, count]) => `${outcome}: ${count}`).sort()
  process.stderr.write(`the hub, hostile input, seed ${seed}: ${all.length} (${told.join(', ')})\n`)
  // The control: it is not one kind of refusal that all of them met.
  for (const code of [1003, 1008, 1009]) expect(outcomes.get(`message closed with ${code}`)).toBeGreaterThan(20)
  for (const end of ['message passed over', 'frame ended', 'request ended'])
    expect(outcomes.get(end)).toBeGreaterThan(20)
  await Promise.all(pair.map(each => each.end()))

  const newcomers = [await hub.call(), await hub.call()] as const
  for (const each of newcomers) each.send({ type: 'subscribe', topics: ['another room'] })
  for (const each of newcomers) expect(await each.heard()).toEqual([])
  await meet(newcomers, 'newcomers', 'another room')
  await Promise.all(newcomers.map(each => each.end()))
  await hub.close()
})
