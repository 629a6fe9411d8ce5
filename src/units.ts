/** Exact by definition: the international inch and pound, standard gravity (BIPM SI Brochure; NIST SP 811). */
export const MM_PER_INCH = 25.4
export const KG_PER_POUND = 0.45359237
export const STANDARD_GRAVITY_N_PER_KG = 9.80665
/** 1 psi = lb g0 / in2. */
export const KPA_PER_PSI = (KG_PER_POUND * STANDARD_GRAVITY_N_PER_KG) / (MM_PER_INCH / 1000) ** 2 / 1000
export const KPA_PER_BAR = 100

/** Units a person may type; every value is kept in the first unit of its row. */
export const UNITS_BY_QUANTITY = {
  length: { mm: 1, cm: 10, m: 1000, in: MM_PER_INCH },
  mass: { kg: 1, g: 0.001, lb: KG_PER_POUND },
  pressure: { kPa: 1, bar: KPA_PER_BAR, psi: KPA_PER_PSI },
  angle: { deg: 1 },
  temperature: { celsius: 1 },
  altitude: { m: 1 },
  time: { min: 1, h: 60 },
  count: { count: 1 },
} as const
export type Quantity = keyof typeof UNITS_BY_QUANTITY
export type Unit = { [Q in Quantity]: keyof (typeof UNITS_BY_QUANTITY)[Q] }[Quantity]

/** How many of the quantity's own unit one `unit` is; undefined when the unit does not measure that quantity. */
export const unitFactor = (quantity: Quantity, unit: string): number | undefined => {
  const factors: Readonly<Record<string, number>> = UNITS_BY_QUANTITY[quantity]
  return Object.hasOwn(factors, unit) ? factors[unit] : undefined
}

export const toRadians = (degrees: number): number => (degrees * Math.PI) / 180
export const toDegrees = (radians: number): number => (radians * 180) / Math.PI

/** Half up in steps of `step`, as B9 wants it for means (2.5 -> 3, -2.5 -> -2). Cleans the binary tail of decimal steps. */
export const roundHalfUp = (value: number, step = 1): number => {
  const steps = Math.floor(value / step + 0.5 + 1e-9)
  const decimals = step >= 1 ? 0 : Math.min(12, Math.ceil(-Math.log10(step)))
  return Number((steps * step).toFixed(decimals))
}

/** Rounds for print to `decimals`; never -0, so that equal results are equal text. */
export const roundTo = (value: number, decimals: number): number => {
  const factor = 10 ** decimals
  const rounded = Math.round(value * factor) / factor
  return rounded === 0 ? 0 : rounded
}
