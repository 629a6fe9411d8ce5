import { describe, expect, it } from 'vitest'
import { stepsIn } from './steps.ts'

const MAIN = { pid: 7, tid: 1 }
const mark = (name: string, ts: number, tts: number) => ({ ...MAIN, name, ph: 'I', ts, tts })
const work = (name: string, ts: number, dur: number, tdur = dur, thread = MAIN) => ({
  ...thread,
  name,
  ph: 'X',
  ts,
  dur,
  tdur,
})
const traceOf = (...traceEvents: readonly object[]): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ traceEvents }))

describe('a step read out of a trace', () => {
  it('lasts from its first mark to its last, by the clock and by the processor', () => {
    const [step] = stepsIn(
      traceOf(mark('yardstick 4.5', 900, 400), mark('axle begins', 1000, 500), mark('axle ends', 41_000, 20_500)),
    )
    expect(step).toMatchObject({ name: 'axle', wallMs: 40, processorMs: 20, yardstickMs: 4.5 })
  })

  it('gives each piece of work to its own part, inner work not to what holds it, and the rest to nothing', () => {
    const [step] = stepsIn(
      traceOf(
        mark('axle begins', 0, 0),
        // A task that began before the step and one that is still going on when it ends are not the step's own.
        work('FunctionCall', -50, 10_000),
        work('FunctionCall', 1000, 10_000),
        work('Layout', 2000, 3000),
        work('MinorGC', 6000, 1000),
        work('UpdateLayoutTree', 12_000, 2000),
        work('Paint', 15_000, 4000, 2500),
        // Nothing that another thread does counts.
        work('FunctionCall', 1000, 9000, 9000, { pid: 7, tid: 2 }),
        mark('axle ends', 30_000, 25_000),
        work('FunctionCall', 29_000, 5000),
      ),
    )
    expect(step?.parts).toEqual({ script: 6, compiling: 0, garbage: 1, style: 2, layout: 3, paint: 2.5, rest: 10.5 })
  })

  it('is told apart from the next of the same name', () => {
    const steps = stepsIn(
      traceOf(
        mark('a begins', 0, 0),
        mark('a ends', 10_000, 5000),
        mark('a begins', 20_000, 6000),
        mark('a ends', 50_000, 9000),
      ),
    )
    expect(steps.map(one => [one.wallMs, one.processorMs])).toEqual([
      [10, 5],
      [30, 3],
    ])
  })

  it('that never ended is a fault of the measurement', () => {
    expect(() => stepsIn(traceOf(mark('a begins', 0, 0)))).toThrow('does not say when a ended')
  })
})
