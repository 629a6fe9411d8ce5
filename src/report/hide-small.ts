import { compareText } from '../ids.ts'

/** A sum that anybody can work out: the whole is what its parts add up to. By cell. */
export interface CellSum {
  readonly whole: string
  readonly parts: readonly string[]
}

/** Cells of one person or a few point at somebody (common practice of statistical offices: under five). Nobody points at nobody. */
export const LEAST_SHOWN = 5

const isSmall = (count: number): boolean => count > 0 && count < LEAST_SHOWN

const ROUNDING = 1e-9

/**
 * Hidden cells whose value follows from what is shown: those that solving the sums for the hidden cells leaves alone in their
 * equation (Gauss-Jordan; a cell is fixed exactly when its own unit row lies in the space of the rows).
 */
const fixedCells = (hidden: ReadonlySet<string>, sums: readonly CellSum[]): readonly string[] => {
  const names = [...hidden].sort()
  const columnOf = new Map(names.map((name, column) => [name, column]))
  const rows = sums
    .map(({ whole, parts }) => {
      const row = new Float64Array(names.length)
      const wholeColumn = columnOf.get(whole)
      if (wholeColumn !== undefined) row[wholeColumn] = 1
      for (const part of parts) {
        const column = columnOf.get(part)
        if (column !== undefined) row[column] = (row[column] ?? 0) - 1
      }
      return row
    })
    .filter(row => row.some(value => value !== 0))
  let done = 0
  for (let column = 0; column < names.length && done < rows.length; column += 1) {
    const at = rows.findIndex((row, index) => index >= done && Math.abs(row[column] ?? 0) > ROUNDING)
    const pivotRow = rows[at]
    const swapped = rows[done]
    if (!pivotRow || !swapped) continue
    rows[at] = swapped
    rows[done] = pivotRow
    const pivot = pivotRow[column] ?? 1
    for (let index = column; index < names.length; index += 1) pivotRow[index] = (pivotRow[index] ?? 0) / pivot
    for (const [index, row] of rows.entries()) {
      const factor = row[column] ?? 0
      if (index === done || Math.abs(factor) <= ROUNDING) continue
      for (let next = column; next < names.length; next += 1)
        row[next] = (row[next] ?? 0) - factor * (pivotRow[next] ?? 0)
    }
    done += 1
  }
  return rows.slice(0, done).flatMap(row => {
    const left = names.filter((_, column) => Math.abs(row[column] ?? 0) > ROUNDING)
    return left.length === 1 ? left : []
  })
}

/**
 * Cells that are not to leave the team: every one under five, and others (the smallest first, parts before wholes) until none of
 * them follows from what is shown by adding and subtracting. Limits: bounds that several sums together put on a cell are not
 * looked at; more may be hidden than the least that would do.
 */
export const cellsToHide = (cells: ReadonlyMap<string, number>, sums: readonly CellSum[]): ReadonlySet<string> => {
  const hidden = new Set([...cells].flatMap(([name, people]) => (isSmall(people) ? [name] : [])))
  const wholes = new Set(sums.map(({ whole }) => whole))
  const count = (name: string): number => cells.get(name) ?? 0
  const cheapest = (names: readonly string[]): string | undefined =>
    names
      .filter(one => !hidden.has(one) && count(one) > 0)
      .toSorted((a, b) => Number(wholes.has(a)) - Number(wholes.has(b)) || count(a) - count(b) || compareText(a, b))[0]
  /** Nothing else of the sum is hidden, or what is hidden can only be one person each. */
  const givesAway = ({ whole, parts }: CellSum): boolean => {
    const unknown = [whole, ...parts].filter(one => hidden.has(one))
    const people = unknown.reduce((sum, one) => sum + count(one), 0)
    return unknown.length === 1 || (unknown.length > 0 && !hidden.has(whole) && people === unknown.length)
  }
  const hide = (name: string | undefined): boolean => name !== undefined && hidden.add(name).has(name)
  const cellsOf = ({ whole, parts }: CellSum): readonly string[] => [whole, ...parts]
  for (;;) {
    const bySums = sums.filter(sum => givesAway(sum) && hide(cheapest(cellsOf(sum))))
    if (bySums.length > 0) continue
    // Solving all sums together is the long way: only once no sum alone gives anything away.
    const fixed = new Set(fixedCells(hidden, sums))
    const beside = sums.map(cellsOf).filter(inSum => inSum.some(one => fixed.has(one)))
    if (!hide(cheapest(beside.flat()))) return hidden
  }
}
