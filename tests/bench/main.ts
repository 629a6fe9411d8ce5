import { parseArgs } from 'node:util'

/** What `npm run bench` runs, in this order. Each prints its own tables; ratios are of one run on one machine. */
const BENCHMARKS: Readonly<Record<string, () => Promise<{ readonly run: () => Promise<void> }>>> = {
  fitting: () => import('./fitting.ts'),
  exchange: () => import('./exchange.ts'),
  bundle: () => import('./bundle.ts'),
  merge: () => import('./merge.ts'),
  meeting: () => import('./meeting.ts'),
  doubles: () => import('./doubles.ts'),
  report: () => import('./report.ts'),
  'report-command': () => import('./report-command.ts'),
  size: () => import('./bundle-size.ts'),
  people: () => import('./people-list.ts'),
  keystroke: () => import('./keystroke.ts'),
  drawing: () => import('./drawing.ts'),
  matching: () => import('./matching.ts'),
}

const { positionals } = parseArgs({ allowPositionals: true })
const unknown = positionals.filter(name => !Object.hasOwn(BENCHMARKS, name))
if (unknown.length > 0) {
  console.error(`No benchmark "${unknown.join('", "')}". There are: ${Object.keys(BENCHMARKS).join(', ')}.`)
  process.exitCode = 2
} else {
  for (const [name, load] of Object.entries(BENCHMARKS)) {
    if (positionals.length > 0 && !positionals.includes(name)) continue
    console.error(`running ${name} ...`)
    await (await load()).run()
  }
}
