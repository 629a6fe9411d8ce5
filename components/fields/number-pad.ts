/** Keys of the pad, as on a telephone. Digits are Latin in every language: so are the marks on a tape. */
export const PAD_KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'delete'] as const
export type PadKey = (typeof PAD_KEYS)[number]

/** Marks between whole inches. */
export const INCH_FRACTIONS = [
  { sign: '¼', value: 0.25, words: 'form.quarter' },
  { sign: '½', value: 0.5, words: 'form.half' },
  { sign: '¾', value: 0.75, words: 'form.threeQuarters' },
] as const

const MOST_CHARACTERS = 7

/** What stands after a key: one point only, no more characters than a reading can have. */
export const press = (typed: string, key: PadKey): string => {
  if (key === 'delete') return typed.slice(0, -1)
  if (key === '.' && /[.,٫]/.test(typed)) return typed
  if (typed.length >= MOST_CHARACTERS) return typed
  if (key === '.' && typed === '') return '0.'
  return typed === '0' && key !== '.' ? key : typed + key
}

/** Puts a fraction of an inch behind the whole inches typed. */
export const withFraction = (typed: string, fraction: number): string => {
  const whole = Number.parseInt(typed, 10)
  return String((Number.isNaN(whole) ? 0 : whole) + fraction)
}
