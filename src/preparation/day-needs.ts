import { compareText } from '../ids.ts'
import type { BuildSheet } from './build-sheet.ts'

export interface PartNeed {
  readonly chair: string
  readonly key: string
  readonly title: string
  readonly count: number
}

/** What the work on several chairs takes along. */
export interface DayNeeds {
  /** Each tool once, in the order of its text. */
  readonly tools: readonly string[]
  /** Parts and cushions by chair model, one for each sheet that asks for it. */
  readonly parts: readonly PartNeed[]
}

/** Tools and parts of the steps still to do, of several cases together. A part asked for twice by one sheet is one part. */
export const dayNeeds = (sheets: readonly BuildSheet[]): DayNeeds => {
  const tools = new Set(sheets.flatMap(sheet => sheet.tools))
  const parts = new Map<string, PartNeed>()
  for (const { chair, steps } of sheets) {
    const ofSheet = new Map(steps.flatMap(step => step.parts).map(part => [part.key, part]))
    for (const { key, title } of ofSheet.values()) {
      const name = `${chair} ${key}`
      parts.set(name, { chair, key, title, count: (parts.get(name)?.count ?? 0) + 1 })
    }
  }
  return {
    tools: [...tools].toSorted(compareText),
    parts: [...parts.entries()].toSorted(([a], [b]) => compareText(a, b)).map(([, need]) => need),
  }
}
