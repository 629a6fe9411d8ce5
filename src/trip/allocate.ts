/**
 * Who gets what: rows are people, columns are kinds of things of which there are some pieces, and leaving a row out is
 * allowed at a cost of its own. Costs are whole numbers, so that sums are exact in any order and equal on every device.
 */
export interface AllocationProblem {
  /** `costs[row][column]`, not below 0; Infinity where the pair is forbidden. Earlier rows go first between equals. */
  readonly costs: readonly (readonly number[])[]
  /** How many pieces each column has: whole, not below 0. */
  readonly pieces: readonly number[]
  /** What leaving each row out costs. Finite, so that there is always an answer. */
  readonly leftOutCosts: readonly number[]
  /** Order of two columns that cost a row the same; by place in the list where it is not given or gives 0. */
  readonly compareEqual?: (row: number, a: number, b: number) => number
}

export interface Allocation {
  /** The column of each row; null: left out. */
  readonly columnOf: readonly (number | null)[]
  readonly totalCost: number
  /** By how much the total would fall if the piece that this row now has (or its being left out) were free again. Not above 0. */
  readonly releaseOf: readonly number[]
}

/**
 * The allocation of least total cost, exactly: successive shortest augmenting paths with dual prices (Kuhn 1955; Edmonds
 * and Karp 1972; Jonker and Volgenant 1987), columns with several pieces kept as one. Of all allocations of the least
 * total, the one in which the first row has the column it likes best, then the second, and so on: one answer, whatever
 * path led to it. At most rows x rows x columns steps.
 */
export const allocate = (problem: AllocationProblem): Allocation => {
  const search = new Search(problem)
  for (let row = 0; row < problem.costs.length; row += 1) search.insert(row)
  search.settleEquals()
  return search.allocation()
}

/**
 * By how much the least total would fall if there were one piece more of a kind that costs the rows these: exact, from
 * the shortest chain of moves that the piece would set off. 0: it would help nobody.
 */
export const gainOfOneMore = (
  problem: AllocationProblem,
  { columnOf, releaseOf }: Allocation,
  costs: readonly number[],
): number => {
  let best = 0
  for (const [row, column] of columnOf.entries()) {
    const now = column === null ? at(problem.leftOutCosts, row) : at(at(problem.costs, row), column)
    best = Math.min(best, at(costs, row) - now + at(releaseOf, row))
  }
  return best === 0 ? 0 : -best
}

const at = <Value>(values: readonly Value[], index: number): Value => {
  const value = values[index]
  if (value === undefined) throw new RangeError(`nothing at ${index} of ${values.length}`)
  return value
}

class Search {
  readonly #problem: AllocationProblem
  /** Costs with one column more, the last: being left out, of which there is always a piece. */
  readonly #costs: readonly Float64Array[]
  readonly #pieces: readonly number[]
  readonly #leftOut: number
  /** What a piece of each column is worth to the others: 0 where one is spare, else not above 0. */
  readonly #prices: Float64Array
  readonly #rowsOf: Set<number>[]
  readonly #columnOf: number[] = []

  constructor(problem: AllocationProblem) {
    const { costs, pieces, leftOutCosts } = problem
    this.#problem = problem
    this.#costs = costs.map((row, index) => Float64Array.of(...row, at(leftOutCosts, index)))
    this.#pieces = [...pieces, Number.POSITIVE_INFINITY]
    this.#leftOut = pieces.length
    this.#prices = new Float64Array(pieces.length + 1)
    this.#rowsOf = this.#pieces.map(() => new Set())
  }

  /** Brings one more row in at least cost, moving others where that pays. */
  insert(row: number): void {
    const { distances, cameFrom, scanned, end } = this.#shortestPaths(row)
    const length = numberAt(distances, end)
    for (const column of scanned)
      this.#prices[column] = numberAt(this.#prices, column) + numberAt(distances, column) - length
    for (let column = end; ; ) {
      const mover = numberAt(cameFrom, column)
      const before = this.#columnOf[mover]
      this.#move(mover, column)
      if (before === undefined) return
      column = before
    }
  }

  /** Dijkstra over columns, on costs less prices: never below 0 for a row against its own column. */
  #shortestPaths(row: number) {
    const count = this.#pieces.length
    const distances = new Float64Array(count).fill(Number.POSITIVE_INFINITY)
    const cameFrom = new Int32Array(count).fill(-1)
    const done = new Uint8Array(count)
    const scanned: number[] = []
    const relax = (mover: number, base: number): void => {
      const costs = at(this.#costs, mover)
      for (let column = 0; column < count; column += 1) {
        if (done[column]) continue
        const distance = base + numberAt(costs, column) - numberAt(this.#prices, column)
        if (distance < numberAt(distances, column)) {
          distances[column] = distance
          cameFrom[column] = mover
        }
      }
    }
    relax(row, 0)
    for (;;) {
      let nearest = -1
      for (let column = 0; column < count; column += 1)
        if (!done[column] && (nearest < 0 || numberAt(distances, column) < numberAt(distances, nearest)))
          nearest = column
      if (this.#hasSpare(nearest)) return { distances, cameFrom, scanned, end: nearest }
      done[nearest] = 1
      scanned.push(nearest)
      for (const mover of at(this.#rowsOf, nearest))
        relax(mover, numberAt(distances, nearest) - this.#priced(mover, nearest))
    }
  }

  /**
   * Every allocation of the least total uses only pairs that cost the row its least after prices, and leaves no priced
   * column short (complementary slackness). Within these, each row in turn takes the column it likes best.
   */
  settleEquals(): void {
    const equals = this.#costs.map((_, row) => this.#equalsOf(row))
    for (const row of this.#costs.keys()) {
      /** Columns that no ring leads through for this row: what one search found, the next need not ask again. */
      const closed = new Set<number>()
      for (const column of at(equals, row)) {
        if (column === this.#columnOf[row]) break
        if (!closed.has(column) && this.#swapInto(row, column, equals, closed)) break
      }
    }
  }

  /** Columns that cost a row its least after prices, the one it likes best first; to be left out is liked least. */
  #equalsOf(row: number): readonly number[] {
    const least = this.#priced(row, at(this.#columnOf, row))
    const columns: number[] = []
    for (const column of this.#pieces.keys()) if (this.#priced(row, column) === least) columns.push(column)
    const cost = at(this.#costs, row)
    const { compareEqual } = this.#problem
    return columns.sort((a, b) => {
      if (a === this.#leftOut || b === this.#leftOut) return a - b
      return numberAt(cost, a) - numberAt(cost, b) || (compareEqual?.(row, a, b) ?? 0) || a - b
    })
  }

  /**
   * Moves a row at no change of the total, later rows giving way; false where that cannot be. A column that takes one in
   * lets one of its rows go, or a spare piece: that may then lie spare in any column without a price.
   */
  #swapInto(row: number, wanted: number, equals: readonly (readonly number[])[], closed: Set<number>): boolean {
    const left = at(this.#columnOf, row)
    /** How each column was reached: from which one, and by whom (null: by a spare piece lying elsewhere). */
    const steps = new Map<number, Step>([[wanted, { mover: row, from: left }]])
    const queue = [wanted]
    let spareMoved = false
    for (const column of queue) {
      if (column === left) {
        this.#take(steps, left)
        return true
      }
      const reach = (next: number, mover: number | null): void => {
        if (steps.has(next) || closed.has(next)) return
        steps.set(next, { mover, from: column })
        queue.push(next)
      }
      if (!spareMoved && this.#hasSpare(column)) {
        spareMoved = true
        for (const [next, price] of this.#prices.entries()) if (price === 0) reach(next, null)
      }
      for (const other of at(this.#rowsOf, column))
        if (other > row) for (const next of at(equals, other)) reach(next, other)
    }
    for (const column of steps.keys()) closed.add(column)
    return false
  }

  /** Carries out a ring of moves, from the column at which it closes back to where it began. */
  #take(steps: ReadonlyMap<number, Step>, closing: number): void {
    let column = closing
    do {
      const step = steps.get(column)
      if (!step) throw new Error(`nothing moves into column ${column}`)
      if (step.mover !== null) this.#move(step.mover, column)
      column = step.from
    } while (column !== closing)
  }

  /** Dijkstra from every piece at once: what is the most that its being free again would bring? */
  allocation(): Allocation {
    const count = this.#pieces.length
    const release = Float64Array.from(this.#prices, price => -price)
    const done = new Uint8Array(count)
    for (let step = 0; step < count; step += 1) {
      let nearest = -1
      for (let column = 0; column < count; column += 1)
        if (!done[column] && (nearest < 0 || numberAt(release, column) < numberAt(release, nearest))) nearest = column
      done[nearest] = 1
      for (const row of at(this.#rowsOf, nearest)) {
        const base = numberAt(release, nearest) - this.#priced(row, nearest)
        for (let column = 0; column < count; column += 1)
          if (!done[column]) release[column] = Math.min(numberAt(release, column), base + this.#priced(row, column))
      }
    }
    const columns = this.#costs.map((_, row) => at(this.#columnOf, row))
    return {
      columnOf: columns.map(column => (column === this.#leftOut ? null : column)),
      totalCost: columns.reduce((sum, column, row) => sum + numberAt(at(this.#costs, row), column), 0),
      releaseOf: columns.map(column => numberAt(release, column) + numberAt(this.#prices, column)),
    }
  }

  #priced(row: number, column: number): number {
    return numberAt(at(this.#costs, row), column) - numberAt(this.#prices, column)
  }

  #hasSpare(column: number): boolean {
    return at(this.#rowsOf, column).size < at(this.#pieces, column)
  }

  #move(row: number, column: number): void {
    const before = this.#columnOf[row]
    if (before !== undefined) at(this.#rowsOf, before).delete(row)
    at(this.#rowsOf, column).add(row)
    this.#columnOf[row] = column
  }
}

interface Step {
  readonly mover: number | null
  readonly from: number
}

/** A number of a typed array that is known to be there: the innermost loops ask nothing twice. */
const numberAt = (values: Float64Array | Int32Array, index: number): number => values[index] as number
