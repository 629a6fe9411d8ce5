import { cpus, loadavg } from 'node:os'

/** Middle value; of an even number the lower of the two in the middle, so that it is one that was measured. */
export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted[Math.floor((sorted.length - 1) / 2)]
  if (middle === undefined) throw new Error('no values to take the median of')
  return middle
}

/** The least value that this share of the values does not exceed: 0.95 gives the 95th percentile. */
export const quantile = (values: readonly number[], share: number): number => {
  const value = values.toSorted((a, b) => a - b)[Math.max(0, Math.ceil(share * values.length) - 1)]
  if (value === undefined) throw new Error('no values to take a share of')
  return value
}

/** Median, 95th percentile and worst, each under a name of its own. */
export const spread = (name: string, values: readonly number[], decimals = 0): Readonly<Record<string, number>> => ({
  [`${name} median`]: round(median(values), decimals),
  [`${name} 95 %`]: round(quantile(values, 0.95), decimals),
  [`${name} worst`]: round(Math.max(...values), decimals),
})

/** How many programs wanted a processor in the last minute: with more than there are processors, times are too long. */
export const loadWords = (): string => `load ${round(loadavg()[0] ?? 0)} on ${cpus().length} processors`

/** Milliseconds of one run. */
export const timed = async <Value>(work: () => Promise<Value> | Value): Promise<{ ms: number; value: Value }> => {
  const start = performance.now()
  const value = await work()
  return { ms: performance.now() - start, value }
}

/** Milliseconds of processor time of one run: other work on the machine does not count. */
export const timedByProcessor = async <Value>(
  work: () => Promise<Value> | Value,
): Promise<{ ms: number; value: Value }> => {
  const before = process.cpuUsage()
  const value = await work()
  const { user, system } = process.cpuUsage(before)
  return { ms: (user + system) / 1000, value }
}

export const round = (value: number, decimals = 1): number => Number(value.toFixed(decimals))

/** How many times `part` goes into `whole`, for print. */
export const ratio = (whole: number, part: number): string => `${round(whole / part, 2)} x`

/** A table in plain text: numbers to the right, one row a line. */
export const printTable = (title: string, rows: readonly Readonly<Record<string, string | number>>[]): void => {
  const columns = Object.keys(rows[0] ?? {})
  const text = (value: string | number | undefined): string =>
    typeof value === 'number' ? value.toLocaleString('en') : (value ?? '')
  const width = (column: string): number => Math.max(column.length, ...rows.map(row => text(row[column]).length))
  const line = (cells: (column: string) => string | number | undefined): string =>
    columns
      .map(column => {
        const cell = cells(column)
        const isNumber = typeof rows[0]?.[column] === 'number'
        return isNumber ? text(cell).padStart(width(column)) : text(cell).padEnd(width(column))
      })
      .join('   ')
      .trimEnd()
  console.log([`\n${title}`, line(column => column), ...rows.map(row => line(column => row[column]))].join('\n'))
}
