import { KG_PER_POUND, MM_PER_INCH } from '../units.ts'

/** What may have been meant: the slip, and the value that it would make right. */
export interface Slip {
  readonly key: string
  readonly wouldBe: number
}

/** A number written in one unit and kept as another; what it must be multiplied by to be right. */
const LENGTH_FACTORS = {
  'centimetres-as-millimetres': 10,
  'inches-as-millimetres': MM_PER_INCH,
  'metres-as-millimetres': 1000,
  'millimetres-as-centimetres': 1 / 10,
  'inches-as-centimetres': MM_PER_INCH / 10,
  'millimetres-as-inches': 1 / MM_PER_INCH,
  'centimetres-as-inches': 10 / MM_PER_INCH,
  'millimetres-as-metres': 1 / 1000,
} as const

const MASS_FACTORS = {
  'pounds-as-kilograms': KG_PER_POUND,
  'kilograms-as-pounds': 1 / KG_PER_POUND,
  'grams-as-kilograms': 1 / 1000,
  'decimal-point-one-place-right': 1 / 10,
  'decimal-point-one-place-left': 10,
} as const

/** Binary tails (36.6 x 10) do not belong in what is shown to a person. */
const cleaned = (value: number, decimals: number): number => Number(value.toFixed(decimals))

const unitSlips = (value: number, factors: Readonly<Record<string, number>>, decimals: number): readonly Slip[] =>
  Object.entries(factors).map(([key, factor]) => ({ key, wouldBe: cleaned(value * factor, decimals) }))

/** Two neighbouring digits changed places: 548 for 458. */
export const digitSwaps = (value: number): readonly Slip[] => {
  const text = String(value)
  return [...text.matchAll(/(?=(\d)(\d))/g)].flatMap(({ index, 1: first, 2: second }) => {
    const swapped = `${text.slice(0, index)}${second}${first}${text.slice(index + 2)}`
    return first === second || swapped.startsWith('0') ? [] : [{ key: 'digits-swapped', wouldBe: Number(swapped) }]
  })
}

export const lengthSlips = (valueMm: number): readonly Slip[] => [
  ...unitSlips(valueMm, LENGTH_FACTORS, 0),
  ...digitSwaps(valueMm),
]

export const massSlips = (valueKg: number): readonly Slip[] => [
  ...unitSlips(valueKg, MASS_FACTORS, 1),
  ...digitSwaps(valueKg),
]
