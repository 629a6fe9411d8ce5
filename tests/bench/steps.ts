import * as z from 'zod'

/** What the main thread was busy with. The rest is the browser's own work between these. */
const PARTS = ['script', 'compiling', 'garbage', 'style', 'layout', 'paint'] as const
type Part = (typeof PARTS)[number]

const PART_OF: readonly (readonly [RegExp, Part])[] = [
  [/^(Minor|Major)GC$|^V8\.GC|^BlinkGC/, 'garbage'],
  [/compile|produceCache|Deoptimize/i, 'compiling'],
  [/^UpdateLayoutTree$|^ParseAuthorStyleSheet$/, 'style'],
  [/^Layout$|^HitTest$/, 'layout'],
  [/^(Pre)?Paint$|^Layerize$|^Commit$|^UpdateLayer|^Decode|^Animation$/, 'paint'],
  [
    /^FunctionCall$|^EvaluateScript$|^RunMicrotasks$|^EventDispatch$|^FireAnimationFrame$|^TimerFire$|Microtask|^v8\./i,
    'script',
  ],
]

/** One step from its event until the main thread has handed over the frame that shows its outcome. */
export interface Step {
  readonly name: string
  /** By the clock, other programs of the machine and waiting for the disk and the frame included. */
  readonly wallMs: number
  /** Processor time of the main thread, slowing included. Waiting does not count, but a busy machine makes this longer too. */
  readonly processorMs: number
  /** A fixed piece of arithmetic just before, ms: how fast the machine was then. */
  readonly yardstickMs: number
  readonly parts: Readonly<Record<Part | 'rest', number>>
}

const traceSchema = z.object({
  traceEvents: z.array(
    z.object({
      name: z.string(),
      ph: z.string(),
      pid: z.number(),
      tid: z.number(),
      ts: z.number(),
      dur: z.number().optional(),
      tts: z.number().optional(),
      tdur: z.number().optional(),
    }),
  ),
})
type TraceEvent = z.infer<typeof traceSchema>['traceEvents'][number]

const US_PER_MS = 1000

/** Processor time of each part between two moments: of each event what is not its children's. */
const partsOf = (events: readonly TraceEvent[], from: TraceEvent, to: TraceEvent): Record<Part, number> => {
  const parts = Object.fromEntries(PARTS.map(part => [part, 0])) as Record<Part, number>
  const open: { readonly end: number; readonly part: Part | undefined }[] = []
  const own = (event: TraceEvent): number => (event.tdur ?? 0) / US_PER_MS
  for (const event of events) {
    // An event that was open already when the step began, or is still when it ends, holds others: only they are counted.
    if (event.ts < from.ts || event.ts + (event.dur ?? 0) > to.ts) continue
    while ((open.at(-1)?.end ?? Number.POSITIVE_INFINITY) <= event.ts) open.pop()
    const named = PART_OF.find(([pattern]) => pattern.test(event.name))?.[1]
    const outer = open.at(-1)?.part
    const part = named ?? outer
    if (part) parts[part] += own(event)
    if (outer) parts[outer] -= own(event)
    open.push({ end: event.ts + (event.dur ?? 0), part })
  }
  return parts
}

/** The moment at which a piece of work was done. */
const endOf = (event: TraceEvent): TraceEvent => ({
  ...event,
  ts: event.ts + (event.dur ?? 0),
  tts: (event.tts ?? 0) + (event.tdur ?? 0),
})

/**
 * Reads the steps marked as `NAME begins`, `NAME shown` and `NAME over`, after `yardstick MS`, out of a trace of Chromium.
 * `shown` is marked in the frame that shows the outcome, before its style, layout and paint, and `over` some time after
 * them: the step ends when that frame was handed over, or with `over` where the frame before had shown it already.
 */
export const stepsIn = (trace: Uint8Array): readonly Step[] => {
  const { traceEvents } = traceSchema.parse(JSON.parse(new TextDecoder().decode(trace)))
  const steps: Step[] = []
  const yardsticks = traceEvents
    .filter(one => /^yardstick /.test(one.name))
    .map(one => ({ ts: one.ts, ms: Number(one.name.slice('yardstick '.length)) }))
  for (const begins of traceEvents) {
    const name = /^(.*) begins$/.exec(begins.name)?.[1]
    if (name === undefined || begins.tts === undefined) continue
    const isOfThread = (one: TraceEvent): boolean => one.pid === begins.pid && one.tid === begins.tid
    const after = (what: 'shown' | 'over', before: TraceEvent): TraceEvent => {
      const found = traceEvents.find(one => one.name === `${name} ${what}` && one.ts >= before.ts)
      if (!found) throw new Error(`the trace does not say when ${name} was ${what}`)
      return found
    }
    const shown = after('shown', begins)
    const over = after('over', shown)
    const commit = traceEvents.find(
      one =>
        one.name === 'Commit' && isOfThread(one) && one.tdur !== undefined && one.ts >= shown.ts && one.ts < over.ts,
    )
    const ends = commit ? endOf(commit) : over
    const inside = traceEvents
      .filter(one => one.ph === 'X' && isOfThread(one) && one.tdur !== undefined)
      .filter(one => one.ts >= begins.ts && one.ts <= ends.ts)
      .sort((a, b) => a.ts - b.ts || (b.dur ?? 0) - (a.dur ?? 0))
    const parts = partsOf(inside, begins, ends)
    const yardstickMs = yardsticks.findLast(one => one.ts <= begins.ts)?.ms ?? Number.NaN
    const processorMs = ((ends.tts ?? 0) - begins.tts) / US_PER_MS
    const rest = Math.max(0, processorMs - Object.values(parts).reduce((sum, ms) => sum + ms, 0))
    steps.push({
      name,
      wallMs: (ends.ts - begins.ts) / US_PER_MS,
      processorMs,
      yardstickMs,
      parts: { ...parts, rest },
    })
  }
  return steps
}
