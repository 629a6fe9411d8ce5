import { describe, expect, test } from 'vitest'
import { equalBytes } from '../../sync/bytes.ts'
import { INBOX_LIMIT_MESSAGES, MESSAGE_LIMIT_BYTES, type Transport } from '../../sync/transport/transport.ts'

/** What a test of any transport needs: a connected pair and a way to break the line as the world would. */
export interface ConnectedPair {
  readonly ends: readonly [Transport, Transport]
  breakLine(): void
}

const GIVEN_UP = { type: 'refused', message: 'enough for today' } as const

const receiveAll = async (end: Transport): Promise<Uint8Array[]> => {
  const all: Uint8Array[] = []
  for (;;) {
    const message = await end.receive()
    if (!message) return all
    all.push(message)
  }
}

/** Bytes that differ by place, so that a lost, doubled or turned part shows. */
const pattern = (length: number, start = 0): Uint8Array =>
  Uint8Array.from({ length }, (_, index) => (index * 31 + (index >> 8) + start) & 255)

/** The promises of the `Transport` port, put to one adapter. Every adapter must pass. */
export const transportContract = (name: string, connect: () => Promise<ConnectedPair>): void => {
  describe(`${name}: a transport`, () => {
    test('carries messages of every size whole, from nothing to the limit', async () => {
      const [a, b] = (await connect()).ends
      for (const length of [0, 1, 255, 16_384, 16_385, 300_000, MESSAGE_LIMIT_BYTES]) {
        await a.send(pattern(length))
        const received = await b.receive()
        expect(received && equalBytes(received, pattern(length))).toBe(true)
      }
    })

    test('keeps the order of messages, both ways at once', async () => {
      const [a, b] = (await connect()).ends
      for (let turn = 0; turn < 200; turn += 1) {
        await Promise.all([a.send(pattern(40, turn)), b.send(pattern(50, turn + 7)), a.send(pattern(3, turn))])
        expect(await b.receive()).toEqual(pattern(40, turn))
        expect(await a.receive()).toEqual(pattern(50, turn + 7))
        expect(await b.receive()).toEqual(pattern(3, turn))
      }
    })

    test('is not touched by what the sender does with its bytes afterwards', async () => {
      const [a, b] = (await connect()).ends
      const bytes = pattern(100)
      const sent = a.send(bytes)
      bytes.fill(0)
      await sent
      expect(await b.receive()).toEqual(pattern(100))
    })

    test('gives a reader that came first the message that comes later', async () => {
      const [a, b] = (await connect()).ends
      const received = b.receive()
      await a.send(pattern(9))
      expect(await received).toEqual(pattern(9))
    })

    test('throws on a message over the limit, and goes on working', async () => {
      const [a, b] = (await connect()).ends
      expect(() => a.send(new Uint8Array(MESSAGE_LIMIT_BYTES + 1))).toThrow(RangeError)
      await a.send(pattern(5))
      expect(await b.receive()).toEqual(pattern(5))
    })

    test('hands out what was sent before an orderly end, then nothing for ever', async () => {
      const [a, b] = (await connect()).ends
      await a.send(pattern(10))
      await a.send(pattern(20))
      a.close(GIVEN_UP)
      expect(await receiveAll(b)).toEqual([pattern(10), pattern(20)])
      expect(await b.receive()).toBeUndefined()
      expect(await a.receive()).toBeUndefined()
    })

    test('tells each end in words why it is over; the first reason stays', async () => {
      const [a, b] = (await connect()).ends
      a.close(GIVEN_UP)
      a.close({ type: 'ended', message: 'a second reason' })
      expect(await a.closed).toEqual(GIVEN_UP)
      expect((await b.closed).message).toMatch(/\w+ \w+ \w+/)
    })

    test('a broken line ends both ends, with a reason, and sending into it does nothing', async () => {
      const { ends, breakLine } = await connect()
      const [a, b] = ends
      const waiting = b.receive()
      breakLine()
      expect(await waiting).toBeUndefined()
      for (const end of [a, b]) {
        expect((await end.closed).message).toMatch(/kept/)
        await end.send(pattern(4))
        expect(await end.receive()).toBeUndefined()
      }
    })

    test('a second reader at the same time is a bug and is told so', async () => {
      const [a, b] = (await connect()).ends
      const first = b.receive()
      expect(() => b.receive()).toThrow(/another receive/)
      await a.send(pattern(6))
      expect(await first).toEqual(pattern(6))
    })

    test('a flood closes the end that is flooded and is not piled up', async () => {
      const [a, b] = (await connect()).ends
      for (let count = 0; count < 1000; count += 1) await a.send(pattern(30, count))
      expect((await b.closed).type).toBe('flooded')
      expect((await receiveAll(b)).length).toBeLessThanOrEqual(INBOX_LIMIT_MESSAGES)
      await a.closed
    })
  })
}
