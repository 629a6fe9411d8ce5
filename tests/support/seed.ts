const DEFAULT_SEED = 20_260_725
const LONG_FACTOR = 40

/** Asked for by hand: properties run often, and on larger cases where that is what takes the time. */
export const IS_LONG = process.env.OUTSPOKE_LONG === '1'

/**
 * How often and from which seed a property runs: short and the same in every run; OUTSPOKE_LONG=1 runs it 40 times as
 * often, OUTSPOKE_SEED=n from another seed. fast-check prints the seed when a property fails.
 */
export const runs = (short: number): { readonly numRuns: number; readonly seed: number } => ({
  numRuns: IS_LONG ? short * LONG_FACTOR : short,
  seed: Number(process.env.OUTSPOKE_SEED ?? DEFAULT_SEED),
})
