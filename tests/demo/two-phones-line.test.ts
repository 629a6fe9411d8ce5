import { expect, it } from 'vitest'
import { Line, SLOW_BYTES_PER_SECOND } from '../../demo/two-phones/line.ts'
import { HUNG_UP } from '../../demo/two-phones/port-channel.ts'
import { handTimer } from '../support/channels.ts'

/** A line whose clock a test moves, and which can be waited for. */
const line = () => {
  const timer = handTimer()
  let nowMs = 0
  const waiting: (() => void)[] = []
  const made = new Line({ ...timer, now: () => nowMs }, () => {
    for (const wake of waiting.splice(0)) wake()
  })
  return {
    line: made,
    pass(ms: number) {
      nowMs += ms
      timer.pass(ms)
    },
    told: () => new Promise<void>(resolve => waiting.push(resolve)),
  }
}
const ends = (made: Line, state: 'slow' | 'joined') => {
  const both = made.join(state)
  if (!both) throw new Error('no new connection')
  return both
}
const next = (port: MessagePort): Promise<unknown> =>
  new Promise(resolve => port.addEventListener('message', ({ data }) => resolve(data), { once: true }))
/** Comes when the page has got what the port was given: ports of one process hand on in order. */
const handedOver = () =>
  new Promise<void>(resolve => {
    const { port1, port2 } = new MessageChannel()
    port1.onmessage = () => {
      port1.close()
      resolve()
    }
    port2.postMessage(null)
  })

const frame = (length: number): Uint8Array => new Uint8Array(length).fill(length % 251)

it('hands on in order what went each way, and counts it', async () => {
  const { line: made, pass } = line()
  const [first, second] = ends(made, 'joined')
  const heard: unknown[] = []
  second.onmessage = ({ data }) => heard.push(data)
  const back = next(first)
  first.start()
  for (const length of [3, 1, 2]) first.postMessage(frame(length))
  second.postMessage(frame(5))
  await handedOver()
  pass(0)
  expect(await back).toEqual(frame(5))
  await handedOver()
  expect(heard).toEqual([frame(3), frame(1), frame(2)])
  expect(made.carried).toEqual({ frames: 4, bytes: 11 })
})

it(`takes its time when it is slow, and lets nothing that came later pass by once it is fast`, async () => {
  const { line: made, pass } = line()
  const [first, second] = ends(made, 'slow')
  const heard: unknown[] = []
  second.onmessage = ({ data }) => heard.push(data)
  first.postMessage(frame(SLOW_BYTES_PER_SECOND))
  await handedOver()
  expect(made.join('joined')).toBeUndefined()
  first.postMessage(frame(1))
  await handedOver()
  pass(999)
  await handedOver()
  expect(heard).toEqual([])
  pass(1)
  await handedOver()
  expect(heard).toEqual([frame(SLOW_BYTES_PER_SECOND), frame(1)])
})

it('loses what is on its way when it is cut, tells both ends, and counts nothing of it', async () => {
  const { line: made, pass } = line()
  const both = ends(made, 'slow')
  const told = both.map(next)
  for (const end of both) end.start()
  both[0].postMessage(frame(100))
  await handedOver()
  made.cut()
  pass(10_000)
  expect(await Promise.all(told)).toEqual([HUNG_UP, HUNG_UP])
  expect(made.carried).toEqual({ frames: 0, bytes: 0 })
  expect(ends(made, 'joined')[0] === both[0]).toBe(false)
})

it('is cut when one end hangs up', async () => {
  const { line: made, pass, told } = line()
  const [first, second] = ends(made, 'joined')
  const heard = next(second)
  second.start()
  first.postMessage(HUNG_UP)
  await handedOver()
  const changed = told()
  pass(0)
  await changed
  expect(await heard).toBe(HUNG_UP)
  expect(made.state).toBe('cut')
})
