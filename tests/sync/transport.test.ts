import { describe, expect, test } from 'vitest'
import { memoryLink } from '../../sync/transport/memory.ts'
import { transportContract } from './transport-contract.ts'

transportContract('memory', () => {
  const link = memoryLink()
  return Promise.resolve({ ends: link.ends, breakLine: link.cut })
})

const message = (value: number) => Uint8Array.of(value)

describe('the memory link, as a hand on the line', () => {
  test('holds messages until they are let through, oldest first, whichever way they go', async () => {
    const link = memoryLink({ held: true })
    const [a, b] = link.ends
    await a.send(message(1))
    await b.send(message(2))
    await a.send(message(3))
    expect(link.carried().messages).toBe(0)
    expect(link.deliver(1)).toBe(1)
    expect(await b.receive()).toEqual(message(1))
    link.release()
    expect(await a.receive()).toEqual(message(2))
    expect(await b.receive()).toEqual(message(3))
    expect(link.carried()).toEqual({ messages: 3, bytes: 3 })
  })

  test('a cut loses what is on its way and keeps what has arrived', async () => {
    const link = memoryLink()
    const [a, b] = link.ends
    await a.send(message(1))
    link.hold()
    await a.send(message(2))
    link.cut()
    expect(link.deliver()).toBe(0)
    expect(await b.receive()).toEqual(message(1))
    expect(await b.receive()).toBeUndefined()
    expect((await a.closed).type).toBe('cut')
    expect((await b.closed).type).toBe('cut')
  })

  test('breaks by itself after the number of messages that was asked for', async () => {
    const link = memoryLink({ cutAfterMessages: 2 })
    const [a, b] = link.ends
    await a.send(message(1))
    await b.send(message(2))
    await a.send(message(3))
    expect(await b.receive()).toEqual(message(1))
    expect(await a.receive()).toEqual(message(2))
    expect(await b.receive()).toBeUndefined()
    expect(link.carried().messages).toBe(2)
  })

  test('ends as silent when both ends wait for each other and nothing is on its way, and not before', async () => {
    const link = memoryLink({ endsWhenSilent: true })
    const [a, b] = link.ends
    const waiting = b.receive()
    await a.send(message(1))
    expect(await waiting).toEqual(message(1))
    expect(await Promise.all([a.receive(), b.receive()])).toEqual([undefined, undefined])
    expect((await a.closed).type).toBe('silent')
    expect((await b.closed).type).toBe('silent')
  })
})
