/**
 * What a spreadsheet may take for a formula at the beginning of a cell (OWASP, CSV Injection: = + - @, tab, carriage return,
 * line feed, and the full-width forms), after any number of the guard itself.
 */
const LOOKS_LIKE_FORMULA = /^'*[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/

/** A text as it may stand in a cell: with an apostrophe before whatever a spreadsheet would compute. */
export const guardText = (text: string): string => (LOOKS_LIKE_FORMULA.test(text) ? `'${text}` : text)

/** The text that was guarded, to the letter. */
export const unguardText = (cell: string): string =>
  cell.startsWith("'") && LOOKS_LIKE_FORMULA.test(cell) ? cell.slice(1) : cell
