import type { Doubt, ReasonInput } from '../reason.ts'
import { roundTo } from '../units.ts'
import type { Expectation } from './expected-body.ts'
import { isPossible, type MeasureOfPerson, POSSIBLE_RANGES } from './possible-ranges.ts'
import type { Slip } from './slips.ts'

/**
 * How far from the expectation, in standard deviations of able-bodied people, a value is looked at. People who use
 * wheelchairs differ more (short or wasted legs, bent trunks, contractures), and no table of them was found. So beyond 4 SD
 * a value is questioned only where a named slip explains it; without a slip only beyond 6 SD (project value).
 */
export const SLIP_SD = 4
export const UNLIKELY_SD = 6

/** Facts that a doubt rests on, by the name of the field, with their values. */
export type Facts = Readonly<Record<string, ReasonInput>>

/** Distance from the nearest expectation in its SDs; infinite where nothing is expected. */
export const distanceSd = (value: number, expectations: readonly Expectation[]): number =>
  expectations.reduce((least, { mean, sd }) => Math.min(least, Math.abs(value - mean) / sd), Number.POSITIVE_INFINITY)

/** The slip whose correction fits best, by the misfit given. */
export const likeliest = (slips: readonly Slip[], misfit: (corrected: number) => number): Slip | undefined =>
  slips.toSorted((a, b) => misfit(a.wouldBe) - misfit(b.wouldBe))[0]

export const rangeFacts = (name: MeasureOfPerson): Facts => {
  const [least, most] = POSSIBLE_RANGES[name]
  return { least, most }
}

/** How far a value lies from the middle of what is possible, as a ratio: the only guide where nothing is expected. */
const fromMiddle = (name: MeasureOfPerson): ((value: number) => number) => {
  const [least, most] = POSSIBLE_RANGES[name]
  const middle = Math.sqrt(Math.max(least, 1) * most)
  return value => Math.abs(Math.log(Math.max(value, Number.MIN_VALUE) / middle))
}

/** A slip that brings the value home: to the expectation, else, for an impossible value, to what is possible at all. */
const slipFor = (
  name: MeasureOfPerson,
  value: number,
  expectations: readonly Expectation[],
  slipsOf: (value: number) => readonly Slip[],
): Slip | undefined => {
  const possible = slipsOf(value).filter(slip => isPossible(name, slip.wouldBe))
  const landing = possible.filter(slip => distanceSd(slip.wouldBe, expectations) <= SLIP_SD)
  return (
    likeliest(landing, corrected => distanceSd(corrected, expectations)) ??
    (isPossible(name, value) ? undefined : likeliest(possible, fromMiddle(name)))
  )
}

/**
 * One value against what is possible and what is expected from the rest of the body. Impossible values are set aside;
 * unlikely ones stay in use. `facts` are what the expectation was made from.
 */
export const judge = (
  name: MeasureOfPerson,
  value: number,
  expectations: readonly Expectation[],
  slipsOf: (value: number) => readonly Slip[],
  facts: Facts = {},
): Doubt | undefined => {
  const setAside = !isPossible(name, value)
  const distance = distanceSd(value, expectations)
  if (!setAside && (expectations.length === 0 || distance <= SLIP_SD)) return undefined
  const slip = slipFor(name, value, expectations, slipsOf)
  if (!slip && !setAside && distance <= UNLIKELY_SD) return undefined

  const meant = slip?.wouldBe ?? value
  const nearest = expectations.find(one => distanceSd(meant, [one]) === distanceSd(meant, expectations))
  const from = nearest?.sum()
  return {
    field: name,
    value,
    likely: slip?.key ?? (setAside ? 'not-possible' : 'unlikely'),
    ...(slip ? { wouldBe: slip.wouldBe } : {}),
    reason: {
      rule: setAside ? 'possible-range' : 'expected-body',
      inputs: {
        [name]: value,
        ...facts,
        ...(setAside ? rangeFacts(name) : {}),
        ...from?.inputs,
        ...(nearest ? { expected: roundTo(nearest.mean, 1), standardDeviation: roundTo(nearest.sd, 1) } : {}),
      },
      source: nearest?.source ?? 'project-value',
      ...(from ? { sum: from.formulas } : {}),
    },
    setAside,
  }
}
