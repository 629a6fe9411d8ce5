import Papa from 'papaparse'
import type { Cell } from '../../src/table/cell-forms.ts'

/** Without it spreadsheets read UTF-8 as something else, and names in most scripts are lost. */
const BYTE_ORDER_MARK = '\uFEFF'

/**
 * A table as CSV (RFC 4180) in UTF-8 with a byte order mark. Words typed by people come guarded; numbers stay numbers. Half a
 * surrogate pair, which UTF-8 cannot hold, becomes U+FFFD.
 */
export const csvOf = (columns: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  `${BYTE_ORDER_MARK}${Papa.unparse([[...columns], ...rows.map(row => [...row])], { newline: '\r\n' })}\r\n`
