import Papa from 'papaparse'
import { InputError } from './command.ts'

/** Ten casebooks of 10,000 cases (project value): what is longer is refused after so many lines, however long it is. */
export const MOST_LINES = 100_000
/** So many lines of a full case each (project value). */
export const MOST_BYTES = 256 * 1024 * 1024
const SEPARATORS = { ',': 'commas', ';': 'semicolons', '\t': 'tabs' } as const
type Separator = keyof typeof SEPARATORS

export interface CsvLine {
  /** Of the file's records, the header being the first. */
  readonly line: number
  readonly cells: readonly string[]
}

const NOTHING = 'Nothing was changed.'

const textOf = (bytes: Uint8Array): string => {
  if (bytes.length > MOST_BYTES) throw new InputError(`is longer than ${MOST_BYTES} bytes. ${NOTHING} Part it.`)
  const isWide = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)
  try {
    // It takes off the byte order mark of the file, and no other.
    if (!isWide) return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    // Told below: names would be read wrong without anybody noticing.
  }
  throw new InputError(`is not in UTF-8, so its words cannot be read. ${NOTHING} Save it once more as CSV UTF-8.`)
}

/** The header tells the separator: its first column is known. */
const separatorOf = (text: string, firstColumn: string): Separator => {
  const [first = ''] = text.slice(0, 200).split(/[\r\n]/)
  const found = (Object.keys(SEPARATORS) as Separator[]).find(
    one => first.startsWith(`${firstColumn}${one}`) || first.startsWith(`"${firstColumn}"${one}`),
  )
  if (found) return found
  const names = Object.values(SEPARATORS).join(', ')
  throw new InputError(
    `does not begin with a column "${firstColumn}" before one of ${names}: it is no such table, or was saved with another separator. ${NOTHING}`,
  )
}

/** Header and lines of a CSV file (RFC 4180) that begins with a known column. Lines without a single cell are passed over. */
export const readCsv = (
  bytes: Uint8Array,
  firstColumn: string,
): { readonly header: readonly string[]; readonly lines: readonly CsvLine[] } => {
  const text = textOf(bytes)
  const delimiter = separatorOf(text, firstColumn)
  // Told, not guessed: a line that ends otherwise is part of what somebody typed.
  const newline = /\r\n|\n|\r/.exec(text)?.[0] as '\r\n' | '\n' | '\r' | undefined
  const { data, errors } = Papa.parse<string[]>(text, {
    delimiter,
    preview: MOST_LINES + 2,
    ...(newline ? { newline } : {}),
  })
  if (data.length > MOST_LINES + 1) throw new InputError(`has more than ${MOST_LINES} lines. ${NOTHING} Part it.`)
  const [quoted] = errors
  if (quoted)
    throw new InputError(`line ${(quoted.row ?? 0) + 1}: ${quoted.message}. ${NOTHING} A quotation mark is missing.`)
  const [header = [], ...rows] = data
  const doubled = header.find((name, place) => header.indexOf(name) !== place)
  if (doubled !== undefined) throw new InputError(`the column "${doubled}" stands twice. ${NOTHING}`)
  return {
    header,
    lines: rows.flatMap((cells, index) => (cells.length === 1 && cells[0] === '' ? [] : [{ line: index + 2, cells }])),
  }
}
