import { BREAKDOWNS } from '../../src/report/measures.ts'
import type { ReleasedReport } from '../../src/report/released-report.ts'
import type { Report } from '../../src/report/report-fold.ts'
import type { Cell } from '../../src/table/cell-forms.ts'
import { guardText } from '../../src/table/formula-guard.ts'
import { csvOf } from './csv.ts'

type Row = Readonly<Record<string, Cell>>

/** Columns in this order; what a row does not say is an empty cell. `texts`: columns of words that somebody typed. */
const tableText = (columns: readonly string[], rows: readonly Row[], texts: readonly string[] = []): string => {
  const cellOf = (row: Row, column: string): Cell => {
    const cell = row[column] ?? null
    return typeof cell === 'string' && texts.includes(column) ? guardText(cell) : cell
  }
  return csvOf(
    columns,
    rows.map(row => columns.map(column => cellOf(row, column))),
  )
}

const peopleRows = ({ counts }: Report | ReleasedReport): readonly Row[] =>
  counts.flatMap(({ measure, people, by }) => [
    { measure, people },
    ...BREAKDOWNS.flatMap(breakdown =>
      by[breakdown].map(({ category, people: ofIt }) => ({ measure, breakdown, category, people: ofIt })),
    ),
  ])

const waitRows = ({ waits }: Report | ReleasedReport): readonly Row[] =>
  waits.map(one =>
    'count' in one
      ? {
          wait: one.wait,
          people: one.count,
          medianDays: one.median,
          lowerQuarterDays: one.lowerQuarter,
          upperQuarterDays: one.upperQuarter,
        }
      : { wait: one.wait, medianDays: one.medianDays },
  )

/** A part that no chair outlived has its counts all the same. */
const partRows = ({ parts }: Report | ReleasedReport): readonly Row[] =>
  parts.flatMap((one): readonly Row[] => {
    const { part, faults } = one
    const whole: Row = { part, faults, ...('chairs' in one ? { chairs: one.chairs } : {}) }
    if (one.survival.length === 0) return [whole]
    return one.survival.map((step): Row => {
      const { days, survival } = step
      if (!('atRisk' in step)) return { ...whole, days, survival, low: step.low, high: step.high }
      const { atRisk, failed, interval } = step
      return { ...whole, days, atRisk, failed, survival, low: interval?.low ?? null, high: interval?.high ?? null }
    })
  })

/** A report as files by name. The same report gives the same bytes. */
export const reportTables = (report: Report | ReleasedReport): ReadonlyMap<string, string> =>
  new Map([
    ['people.csv', tableText(['measure', 'breakdown', 'category', 'people'], peopleRows(report), ['category'])],
    [
      'waits.csv',
      tableText(['wait', 'people', 'medianDays', 'lowerQuarterDays', 'upperQuarterDays'], waitRows(report)),
    ],
    [
      'parts.csv',
      tableText(['part', 'faults', 'chairs', 'days', 'atRisk', 'failed', 'survival', 'low', 'high'], partRows(report), [
        'part',
      ]),
    ],
    [
      'agreement.csv',
      tableText(
        ['field', 'people', 'error', 'relativePercent', 'reliability'],
        report.agreement.map(({ field, people, error, relativePercent, reliability }) => ({
          field,
          people,
          error,
          relativePercent,
          reliability,
        })),
      ),
    ],
    [
      'stock.csv',
      tableText(
        ['line', 'used', 'left'],
        report.stock.map(({ line, used, left }) => ({ line, used, left })),
        ['line'],
      ),
    ],
  ])
