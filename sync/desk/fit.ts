import { parseArgs } from 'node:util'
import { personSchema } from '../../src/body/person.ts'
import { type Recommendation, recommend } from '../../src/fitting/recommend.ts'
import { roundTo } from '../../src/units.ts'
import { type Command, InputError } from './command.ts'
import { readJsonFile, readText, writeWhole } from './files.ts'
import { type PeopleRow, readPeopleTable, writeTable } from './people-table.ts'
import { RULES_OPTIONS, RULES_USAGE, type Rules, readRules } from './rules-files.ts'

const USAGE = `outspoke fit PERSON.json [--top N]
outspoke fit --people PEOPLE.csv --out FITS.csv [--assume FIELD=VALUE]...

Ranks every set-up of the catalogue for a person, with the reasons, or for each line of a table.
PERSON.json holds the field names of the design, lengths in mm, masses in kg, angles in degrees.
PEOPLE.csv has the same names as its header; thighDepthMm and calfLengthMm serve both sides.

  --top N         how many options to print (10)
  --people F      a table of people, one a line; a bad line is reported and the rest goes on
  --out F         where the table of best set-ups goes, written whole
  --assume F=V    a fact for every line that does not give it, such as ground=rough
${RULES_USAGE}

Prints JSON: the recommendation, or the summary of the table. Angles are a model's result with stated
errors, never a promise: test ride with a spotter.`

export const fit: Command = {
  summary: 'rank the set-ups of a catalogue for a person, or for each line of a table',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        ...RULES_OPTIONS,
        top: { type: 'string' },
        people: { type: 'string' },
        out: { type: 'string' },
        assume: { type: 'string', multiple: true },
      },
    })
    if (values.people !== undefined) {
      if (positionals.length > 0) throw new InputError('fit takes a person or a table of people, not both')
      if (values.out === undefined) throw new InputError('fit --people needs --out FITS.csv')
      return fitTable(values.people, values.out, assumedFacts(values.assume ?? []), await readRules(values))
    }
    const [path, ...others] = positionals
    if (path === undefined || others.length > 0) throw new InputError('fit takes one PERSON.json')
    if (values.out !== undefined || values.assume !== undefined)
      throw new InputError('--out and --assume go with --people')
    const top = values.top === undefined ? 10 : Number(values.top)
    if (!Number.isInteger(top) || top < 1) throw new InputError(`--top ${values.top}: a whole number from 1`)
    const rules = await readRules(values)
    const person = await readJsonFile(path, personSchema)
    const answer = recommend(person, rules.catalogue, rules.policy, rules.today, { top })
    process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`)
    return 0
  },
}

const assumedFacts = (facts: readonly string[]): Record<string, string> =>
  Object.fromEntries(
    facts.map(fact => {
      const [field, value] = fact.split('=')
      if (!field || !value) throw new InputError(`--assume ${fact}: written as FIELD=VALUE`)
      return [field, value]
    }),
  )

const HEADER = [
  'line',
  'chair',
  'seatWidthMm',
  'seatDepthMm',
  'seatHeight',
  'axle',
  'backHeightMm',
  'footrestLeftMm',
  'footrestRightMm',
  'armrestMm',
  'cushion',
  'misfit',
  'comAheadOfAxleMm',
  'comHeightMm',
  'rearTyrePivotDeg',
  'rearAxlePivotDeg',
  'forwardDeg',
  'sidewaysDeg',
  'elbowDeg',
  'outOfTolerance',
  'missing',
  'doubts',
  'refused',
] as const

const rowOf = (line: number, answer: Recommendation): (string | number | null)[] => {
  const [best] = answer.options
  const missing = answer.missing
    .filter(one => one.effect === 'no-options' || one.effect === 'no-setting')
    .map(one => one.field)
    .join(' ')
  const doubts = answer.doubts.map(doubt => `${doubt.field}:${doubt.likely}`).join(' ')
  if (!best) return [line, ...Array.from({ length: HEADER.length - 4 }, () => ''), missing, doubts, '']
  const p = best.predicted
  return [
    line,
    best.chair,
    best.seatWidthMm,
    best.seatDepthMm,
    best.seatHeight,
    best.axle,
    best.backHeightMm,
    best.footrestLeftMm,
    best.footrestRightMm,
    best.armrestMm,
    best.cushion,
    best.misfit,
    p.comAheadOfAxleMm,
    p.comHeightMm,
    p.rearTyrePivotDeg,
    p.rearAxlePivotDeg,
    p.forwardDeg,
    p.sidewaysDeg,
    p.elbowDeg,
    best.outOfTolerance.map(one => `${one.dimension}:${one.by}`).join(' '),
    missing,
    doubts,
    '',
  ]
}

/** What a table of people came to: counts, and which dimension misses its tolerance most often. */
class Summary {
  people = 0
  refused = 0
  withOption = 0
  withinTolerance = 0
  withDoubts = 0
  readonly failing = new Map<string, number>()
  readonly axles = new Map<string, number>()
  readonly chairs = new Map<string, number>()

  add(answer: Recommendation): void {
    this.people += 1
    if (answer.doubts.length > 0) this.withDoubts += 1
    const [best] = answer.options
    if (!best) return
    this.withOption += 1
    if (best.outOfTolerance.length === 0) this.withinTolerance += 1
    for (const { dimension } of best.outOfTolerance) count(this.failing, dimension)
    count(this.chairs, best.chair)
    count(this.axles, `${best.chair} ${best.axle}`)
  }
}

const count = (counts: Map<string, number>, key: string): void => {
  counts.set(key, (counts.get(key) ?? 0) + 1)
}
const mostFirst = (counts: ReadonlyMap<string, number>): Record<string, number> =>
  Object.fromEntries([...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1)))

const fitTable = async (path: string, out: string, assumed: Record<string, string>, rules: Rules): Promise<number> => {
  const table = readPeopleTable(await readText(path), assumed)
  if (table.unused.length > 0) process.stderr.write(`Columns that fitting does not use: ${table.unused.join(', ')}\n`)
  const summary = new Summary()
  const started = performance.now()
  const rows = table.rows.map((row: PeopleRow, index) => {
    if (index > 0 && index % 500 === 0) process.stderr.write(`${index} of ${table.rows.length} people\n`)
    if (!row.ok) {
      summary.refused += 1
      process.stderr.write(`line ${row.line}: ${row.reason}\n`)
      return [row.line, ...Array.from({ length: HEADER.length - 2 }, () => ''), row.reason]
    }
    const answer = recommend(row.person, rules.catalogue, rules.policy, rules.today, { top: 1 })
    summary.add(answer)
    return rowOf(row.line, answer)
  })
  const seconds = (performance.now() - started) / 1000
  await writeWhole(out, writeTable(HEADER, rows))
  const { people, refused, withOption, withinTolerance, withDoubts } = summary
  process.stdout.write(
    `${JSON.stringify(
      {
        people,
        refused,
        withOption,
        withoutOption: people - withOption,
        withinTolerance,
        withDoubts,
        outOfTolerance: mostFirst(summary.failing),
        chairs: mostFirst(summary.chairs),
        axles: mostFirst(summary.axles),
        seconds: roundTo(seconds, 1),
        peoplePerSecond: Math.round(people / seconds),
      },
      null,
      2,
    )}\n`,
  )
  return 0
}
