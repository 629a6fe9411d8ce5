import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { munkres } from 'munkres'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { catalogueSchema } from '../../src/chair/chair-model.ts'
import { stockLineOf } from '../../src/chair/stock-line.ts'
import type { Stock, StockLine } from '../../src/crew/stock.ts'
import { candidatesFor } from '../../src/fitting/candidates.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { caseIdSchema } from '../../src/ids.ts'
import { allocate } from '../../src/trip/allocate.ts'
import { matchStock } from '../../src/trip/stock-match.ts'
import type { Offer, WaitingPerson } from '../../src/trip/waiting.ts'
import { readPeopleTable } from '../../sync/desk/people-table.ts'
import { hashedId } from '../support/case-entries.ts'
import { median, printTable, ratio, round, timedByProcessor } from './measure.ts'

const TODAY = toCalendarDate('2026-11-25')
const RUNS = 5
const SIZES = [
  { people: 250, chairs: 1000 },
  { people: 500, chairs: 2000 },
  { people: 1000, chairs: 4000 },
] as const

const read = (path: string): string => readFileSync(fileURLToPath(new URL(path, import.meta.url)), 'utf8')
const catalogue = catalogueSchema.parse(JSON.parse(read('../../demo/practice-catalogue.json')))

/** Real bodies (ANSUR II 2012) with every chair of the practice catalogue that no rule excludes. */
const waitingPeople = (count: number): readonly WaitingPerson[] => {
  const people = readPeopleTable(read('../published/ansur-ii-half.csv'), {}).rows.flatMap(row =>
    row.ok ? [row.person] : [],
  )
  return people.slice(0, count).map((person, index): WaitingPerson => {
    const offers = candidatesFor(person, catalogue, DEFAULT_POLICY, TODAY).map(
      ({ setUp: { model, seatWidthMm, depth, cushion }, misfit }): Offer => ({
        chair: stockLineOf({ kind: 'chair', model: model.key, seatWidthMm, seatDepthMm: depth.valueMm }),
        cushion: stockLineOf({ kind: 'cushion', cushion: cushion.key }),
        misfit,
      }),
    )
    return {
      case: caseIdSchema.parse(hashedId(`matched ${index}`)),
      place: null,
      since: null,
      urgency: { weight: 1 + (index % 4), grounds: [] },
      barred: null,
      chosen: null,
      offers,
      holds: [],
    }
  })
}

/** So many chairs over all lines of the catalogue, the lines in turn, and a cushion for each. */
const stockOfChairs = (count: number): Stock => {
  const chairs = catalogue.models.flatMap(model =>
    model.seatWidthsMm.flatMap(seatWidthMm =>
      model.seatDepths.map(depth =>
        stockLineOf({ kind: 'chair', model: model.key, seatWidthMm, seatDepthMm: depth.valueMm }),
      ),
    ),
  )
  const cushions = new Set(catalogue.models.flatMap(model => model.cushions.map(one => one.key)))
  const lineOf = (line: string, pieces: number): StockLine => ({
    line,
    place: 'store',
    onHand: pieces,
    reserved: [],
    free: pieces,
  })
  const share = (index: number): number => Math.floor(count / chairs.length) + Number(index < count % chairs.length)
  return {
    lines: [
      ...chairs.map((line, index) => lineOf(line, share(index))),
      ...[...cushions].map(key => lineOf(stockLineOf({ kind: 'cushion', cushion: key }), count)),
    ],
    keeps: [],
    differences: [],
  }
}

const LEFT_OUT = 10_000_000

/** Every chair a column of its own and one column more for each person to be left out in: what any such library takes. */
const asMatrix = (people: readonly WaitingPerson[], stock: Stock): number[][] => {
  const columns = stock.lines.flatMap(({ line, onHand }) =>
    line.startsWith('chair') ? Array.from({ length: onHand }, () => line) : [],
  )
  return people.map(({ offers, urgency }, row) => {
    const byLine = new Map<string, number>()
    for (const { chair, misfit } of offers) if (!byLine.has(chair)) byLine.set(chair, urgency.weight * misfit)
    return [
      ...columns.map(line => byLine.get(line) ?? Number.POSITIVE_INFINITY),
      ...people.map((_, own) => (own === row ? urgency.weight * LEFT_OUT : Number.POSITIVE_INFINITY)),
    ]
  })
}

const costBy = (matrix: readonly (readonly number[])[], pairs: readonly (readonly [number, number])[]): number =>
  pairs.reduce((sum, [row, column]) => sum + (matrix[row]?.[column] ?? Number.NaN), 0)

const measured = async <Value>(work: () => Value): Promise<{ ms: number; value: Value }> => {
  const times: number[] = []
  let last = await timedByProcessor(work)
  for (let run = 0; run < RUNS; run += 1) {
    last = await timedByProcessor(work)
    times.push(last.ms)
  }
  return { ms: median(times), value: last.value }
}

const compare = async ({ people: count, chairs }: (typeof SIZES)[number]) => {
  const people = waitingPeople(count)
  const stock = stockOfChairs(chairs)
  const matrix = asMatrix(people, stock)
  const chairsOnly = matrix.map(row => row.slice(0, chairs))
  const leftOutCosts = people.map(({ urgency }) => urgency.weight * LEFT_OUT)
  const pieces = Array.from({ length: chairs }, () => 1)

  const whole = await measured(() => matchStock(people, stock))
  const single = await measured(() => allocate({ costs: chairsOnly, pieces, leftOutCosts }))
  const library = await measured(() => munkres(matrix))
  const same = costBy(matrix, library.value) === single.value.totalCost
  return {
    people: count,
    chairs,
    served: whole.value.matched.length,
    'lines that would help': whole.value.oneMore.length,
    'matching ms': round(whole.ms, 0),
    'people a second': round((count / whole.ms) * 1000, 0),
    'each chair a column ms': round(single.ms, 0),
    'munkres ms': round(library.ms, 0),
    'least total': same ? 'same' : 'DIFFERENT',
  }
}

/**
 * Matching against munkres 2.0.4, of the assignment libraries read here the fastest: it takes each chair as a column and
 * gives one optimum; neither prices (what one chair more is worth) nor a rule between equals. Processor time of this run.
 */
export const run = async (): Promise<void> => {
  const rows: Awaited<ReturnType<typeof compare>>[] = []
  for (const size of SIZES) rows.push(await compare(size))
  printTable('Matching people to stock: whole (reasons, cushions, one more of each line), chairs alone, library', rows)
  const growth = SIZES.slice(1).map((size, index) => {
    const [before, after] = [rows[index], rows[index + 1]]
    if (!before || !after) throw new Error('a size was not measured')
    return {
      'people and chairs doubled to': `${size.people} x ${size.chairs}`,
      matching: ratio(after['matching ms'], before['matching ms']),
      'each chair a column': ratio(after['each chair a column ms'], before['each chair a column ms']),
      munkres: ratio(after['munkres ms'], before['munkres ms']),
    }
  })
  printTable('Growth when people and chairs both double (4 x the pairs)', growth)
  printTable('Memory', [{ 'greatest of the process MB': round(process.resourceUsage().maxRSS / 1024, 0) }])
}
