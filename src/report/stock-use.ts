import type { Counted } from '../case/entry.ts'
import { type Crew, countingEntries } from '../crew/crew.ts'
import { statementsIn } from '../crew/team-statements.ts'
import { compareText } from '../ids.ts'

/** Pieces of one stock line over all places. */
export interface StockUse {
  readonly line: string
  /** Given out to somebody's case. */
  readonly used: number
  /** What went in less what went out; below 0 where more was given out than anybody noted coming in. */
  readonly left: number
}

/** By line. A movement between places goes out of one and into the other and is no use. */
export const stockUseOf = (crew: Crew, entries: readonly Counted[]): readonly StockUse[] => {
  const lines = new Map<string, { used: number; left: number }>()
  for (const { value } of statementsIn(countingEntries(crew, entries), 'movement')) {
    const sum = lines.get(value.line) ?? { used: 0, left: 0 }
    lines.set(value.line, sum)
    sum.left += value.amount
    if (value.case !== undefined) sum.used -= value.amount
  }
  return [...lines].toSorted(([a], [b]) => compareText(a, b)).map(([line, sum]) => ({ line, ...sum }))
}
