import type { CaseView } from '../case/case-view.ts'
import type { Catalogue } from '../chair/chair-model.ts'
import { readStockLine } from '../chair/stock-line.ts'
import { compareText } from '../ids.ts'
import type { BuildSheet } from '../preparation/build-sheet.ts'
import { type DayNeeds, dayNeeds } from '../preparation/day-needs.ts'
import { chanceOfMore, piecesFor } from './chances.ts'
import type { StockMatch } from './stock-match.ts'
import { RUN_OUT_CHANCE } from './width-forecast.ts'

/** One line to load, from one place. */
export interface PackedLine {
  readonly line: string
  readonly place: string
  readonly pieces: number
  /** Of all these pieces; null where the catalogue does not know what one weighs. */
  readonly massKg: number | null
}

/** A part as repairs named it, with how many a trip of this size should carry. */
export interface SparePart {
  readonly part: string
  /** Repairs that used it, and visits to chairs among which they fell. */
  readonly repairs: number
  readonly meanWanted: number
  readonly pieces: number
  readonly runOutChance: number
}

/** What one case tells about wear. */
export interface FaultHistory {
  /** Days on which its chair was reviewed or repaired. */
  readonly visits: number
  /** The part of each repair. */
  readonly repairedParts: readonly string[]
}

export const faultHistoryOf = ({ events: { review, repair } }: CaseView): FaultHistory => ({
  visits: new Set([...review.map(one => one.value.visitedOn), ...repair.map(one => one.value.repairedOn)]).size,
  repairedParts: repair.map(one => one.value.part),
})

export interface PackingInput {
  readonly match: StockMatch
  readonly catalogue: Catalogue
  /** Sheets of the chairs to be prepared on the trip. */
  readonly sheets: readonly BuildSheet[]
  readonly history: readonly FaultHistory[]
  /** Visits of the plan to people who have a chair. */
  readonly plannedVisits: number
}

export interface PackingList {
  /** Chairs and cushions of those who were matched, by line, then by place. */
  readonly lines: readonly PackedLine[]
  readonly chairs: number
  /** Of the lines whose mass is known; `massUnknown` names the others. */
  readonly massKg: number
  readonly massUnknown: readonly string[]
  readonly needs: DayNeeds
  /** By part. */
  readonly spares: readonly SparePart[]
}

/** A part of any spelling: spaces and capitals do not count. */
const partKey = (part: string): string => part.normalize('NFC').trim().replaceAll(/\s+/g, ' ').toLowerCase()

/**
 * Spare parts by how often they were used: repairs of a part to all visits, times the visits planned, Poisson; so many
 * that the part runs out with a chance of at most `RUN_OUT_CHANCE`. Empty without a visit on record.
 */
export const sparesFor = (history: readonly FaultHistory[], plannedVisits: number): readonly SparePart[] => {
  const visits = history.reduce((sum, one) => sum + one.visits, 0)
  if (visits === 0) return []
  const repairs = new Map<string, number>()
  for (const { repairedParts } of history)
    for (const part of repairedParts) repairs.set(partKey(part), (repairs.get(partKey(part)) ?? 0) + 1)
  return [...repairs]
    .sort(([a], [b]) => compareText(a, b))
    .map(([part, count]): SparePart => {
      const demand = { type: 'about', mean: (count / visits) * plannedVisits } as const
      const pieces = piecesFor(demand, RUN_OUT_CHANCE)
      return { part, repairs: count, meanWanted: demand.mean, pieces, runOutChance: chanceOfMore(demand, pieces) }
    })
}

const massOf = (line: string, catalogue: Catalogue): number | null => {
  const item = readStockLine(line)
  if (item?.kind !== 'chair') return null
  return catalogue.models.find(model => model.key === item.model)?.massKg ?? null
}

/** What goes on the vehicle for people who are known, with tools and parts of their build sheets and spares for repairs. */
export const packingList = ({ match, catalogue, sheets, history, plannedVisits }: PackingInput): PackingList => {
  const packed = new Map<string, { line: string; place: string; pieces: number }>()
  const load = (piece: { readonly line: string; readonly place: string }): void => {
    const key = JSON.stringify([piece.line, piece.place])
    const known = packed.get(key) ?? { line: piece.line, place: piece.place, pieces: 0 }
    packed.set(key, { ...known, pieces: known.pieces + 1 })
  }
  for (const { chair, cushion } of match.matched) {
    load(chair)
    if (typeof cushion !== 'string') load(cushion)
  }
  const lines = [...packed.values()]
    .sort((a, b) => compareText(a.line, b.line) || compareText(a.place, b.place))
    .map((one): PackedLine => {
      const each = massOf(one.line, catalogue)
      return { ...one, massKg: each === null ? null : each * one.pieces }
    })
  return {
    lines,
    chairs: match.matched.length,
    massKg: lines.reduce((sum, { massKg }) => sum + (massKg ?? 0), 0),
    massUnknown: [...new Set(lines.filter(({ massKg }) => massKg === null).map(({ line }) => line))],
    needs: dayNeeds(sheets),
    spares: sparesFor(history, plannedVisits),
  }
}
