import type { Counted } from '../case/entry.ts'
import { type CaseId, compareText } from '../ids.ts'
import { type Crew, countingEntries } from './crew.ts'
import { standingIn, statementsIn } from './team-statements.ts'

/** What one place holds of one stock line, in pieces: the sum of what was said to go in and out. */
export interface StockLine {
  readonly line: string
  readonly place: string
  /** May be below 0: two phones gave out the last one (B11). */
  readonly onHand: number
  readonly reserved: readonly { readonly case: CaseId; readonly amount: number }[]
  /** On hand less what is put aside. */
  readonly free: number
}

/** A reserve rule: so many pieces stay where they are. Of rules made apart the one that keeps most stands. */
export interface StockKeep {
  readonly line: string
  readonly place: string
  readonly amount: number
}

export interface StockDifference {
  readonly type: 'stock-below-zero' | 'stock-promised-twice'
  readonly line: string
  readonly place: string
  readonly pieces: number
}

export interface Stock {
  readonly lines: readonly StockLine[]
  readonly keeps: readonly StockKeep[]
  readonly differences: readonly StockDifference[]
}

/** Sums commute, so every device that holds the same entries shows the same stock. */
export const stockOf = (crew: Crew, entries: readonly Counted[]): Stock => {
  const counting = countingEntries(crew, entries)
  const held = new Map<string, { line: string; place: string; onHand: number; reserved: Map<CaseId, number> }>()
  const lineOf = (line: string, place: string) => {
    const key = JSON.stringify([line, place])
    const known = held.get(key) ?? { line, place, onHand: 0, reserved: new Map<CaseId, number>() }
    held.set(key, known)
    return known
  }
  for (const { value } of statementsIn(counting, 'movement')) lineOf(value.line, value.place).onHand += value.amount
  for (const { value } of statementsIn(counting, 'reservation')) {
    const { reserved } = lineOf(value.line, value.place)
    reserved.set(value.case, (reserved.get(value.case) ?? 0) + value.amount)
  }

  const lines = [...held.values()]
    .sort((a, b) => compareText(a.line, b.line) || compareText(a.place, b.place))
    .map(({ line, place, onHand, reserved }): StockLine => {
      const open = [...reserved].filter(([, amount]) => amount > 0).sort(([a], [b]) => compareText(a, b))
      const putAside = open.reduce((sum, [, amount]) => sum + amount, 0)
      return {
        line,
        place,
        onHand,
        reserved: open.map(([caseId, amount]) => ({ case: caseId, amount })),
        free: onHand - putAside,
      }
    })
  const differences = lines.flatMap(({ line, place, onHand, free }): StockDifference[] => {
    if (onHand < 0) return [{ type: 'stock-below-zero', line, place, pieces: onHand }]
    return free < 0 ? [{ type: 'stock-promised-twice', line, place, pieces: free }] : []
  })
  return { lines, keeps: keepsIn(counting), differences }
}

const keepsIn = (counting: readonly Counted[]): readonly StockKeep[] => {
  const standing = standingIn(statementsIn(counting, 'keep'), ({ line, place }) => JSON.stringify([line, place]))
  return [...standing.values()]
    .flatMap(([first, ...others]): StockKeep[] => {
      if (!first) return []
      const amount = others.reduce((most, one) => Math.max(most, one.value.amount), first.value.amount)
      return amount === 0 ? [] : [{ line: first.value.line, place: first.value.place, amount }]
    })
    .sort((a, b) => compareText(a.line, b.line) || compareText(a.place, b.place))
}
