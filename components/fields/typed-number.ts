/** Zero of the digit sets that a keyboard may give: Latin, Arabic-Indic, Extended Arabic-Indic, Devanagari, Bengali (Unicode). */
const ZEROS = [0x30, 0x660, 0x6f0, 0x966, 0x9e6]

const toLatinDigit = (character: string): string => {
  const code = character.codePointAt(0) ?? 0
  const zero = ZEROS.find(one => code >= one && code <= one + 9)
  return zero === undefined ? character : String(code - zero)
}

/**
 * The number that a person typed, with a point, a comma or an Arabic decimal sign, in any of the usual digits; undefined
 * where it is none. No thousands signs: no reading needs them, and `1.234` must not become 1234.
 */
export const readTyped = (text: string): number | undefined => {
  const latin = [...text.trim()].map(toLatinDigit).join('').replace(/[,٫]/, '.')
  return /^-?(?:\d+\.?\d*|\.\d+)$/.test(latin) ? Number(latin) : undefined
}
