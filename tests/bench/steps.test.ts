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
/** The frame is marked, and handed over within the last tenth of a millisecond before `end`. */
const shown = (name: string, end: number, ttsEnd: number) => [
  mark(`${name} shown`, end - 200, ttsEnd - 200),
  { ...work('Commit', end - 100, 100), tts: ttsEnd - 100 },
  mark(`${name} over`, end + 700, ttsEnd + 700),
]
const traceOf = (...traceEvents: readonly object[]): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ traceEvents }))

describe('a step read out of a trace', () => {
  it('lasts from its first mark until its frame is handed over, by the clock and by the processor', () => {
    const [step] = stepsIn(
      traceOf(
        mark('yardstick 4.5', 900, 400),
        mark('axle begins', 1000, 500),
        // An earlier frame does not show it yet, a later one is not its own.
        { ...work('Commit', 5000, 100), tts: 3000 },
        ...shown('axle', 41_000, 20_500),
        { ...work('Commit', 50_000, 100), tts: 30_000 },
      ),
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
        work('FunctionCall', 29_000, 5000),
        ...shown('axle', 30_000, 25_000),
      ),
    )
    expect(step?.parts).toEqual({ script: 6, compiling: 0, garbage: 1, style: 2, layout: 3, paint: 2.6, rest: 10.4 })
  })

  it('is told apart from the next of the same name', () => {
    const steps = stepsIn(
      traceOf(
        mark('a begins', 0, 0),
        ...shown('a', 10_000, 5000),
        mark('a begins', 20_000, 6000),
        ...shown('a', 50_000, 9000),
      ),
    )
    expect(steps.map(one => [one.wallMs, one.processorMs])).toEqual([
      [10, 5],
      [30, 3],
    ])
  })

  it('ends when it was over where an earlier frame had shown it', () => {
    const [step] = stepsIn(
      traceOf(mark('a begins', 0, 0), mark('a shown', 5000, 4000), mark('a over', 6000, 4500), {
        ...work('Commit', 7000, 100),
        tts: 5000,
      }),
    )
    expect(step).toMatchObject({ wallMs: 6, processorMs: 4.5 })
  })

  it('that was never shown or never over is a fault of the measurement', () => {
    expect(() => stepsIn(traceOf(mark('a begins', 0, 0)))).toThrow('does not say when a was shown')
    expect(() => stepsIn(traceOf(mark('a begins', 0, 0), mark('a shown', 1, 1)))).toThrow('was over')
  })
})
