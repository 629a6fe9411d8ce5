import Papa from 'papaparse'
import { guardText } from '../../src/table/formula-guard.ts'

/** Null: an empty cell. */
export type Cell = string | number | null

export interface Table {
  /** Names of columns; those in `texts` hold words that somebody typed, or ids. */
  readonly columns: readonly string[]
  readonly texts: ReadonlySet<string>
  readonly rows: readonly (readonly Cell[])[]
}

/** Without it spreadsheets read UTF-8 as something else, and names in most scripts are lost (RFC 3629, section 6, on its use). */
export const BYTE_ORDER_MARK = '\uFEFF'

/** A table as CSV (RFC 4180) in UTF-8 with a byte order mark. Words that would be computed are guarded; numbers stay numbers. */
export const csvOf = ({ columns, texts, rows }: Table): string => {
  const guarded = rows.map(row =>
    row.map((cell, place) => (typeof cell === 'string' && texts.has(columns[place] ?? '') ? guardText(cell) : cell)),
  )
  return `${BYTE_ORDER_MARK}${Papa.unparse([[...columns], ...guarded], { newline: '\r\n' })}\r\n`
}
