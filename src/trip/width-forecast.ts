import type { Sex } from '../body/who-lms.ts'
import type { Policy } from '../fitting/policy.ts'
import { chanceOfMore, type Demand, meanOf, normalShareUpTo, piecesFor } from './chances.ts'

/**
 * Hip breadth sitting of adults, mm: ANSUR II 2012, Gordon et al. 2014, all 4,082 men and 1,986 women. Soldiers: a
 * village is smaller and more mixed, which is why a crew's own people outweigh it as soon as there are some.
 */
const HIP_BREADTH = {
  male: { meanMm: 379.3, sdMm: 30.2 },
  female: { meanMm: 399, sdMm: 32.7 },
} as const satisfies Readonly<Record<Sex, { meanMm: number; sdMm: number }>>

/** The published bodies count as much as this many people of the crew's own (project value). */
export const PUBLISHED_COUNTS_AS = 20
/** So likely may a size run out before more of it is packed (project value). */
export const RUN_OUT_CHANCE = 0.1

export interface WidthForecastInput {
  /** Sizes of the model to be packed, mm. */
  readonly seatWidthsMm: readonly number[]
  /** Hips of people measured before, children too: who they were before their size is known. */
  readonly measuredHipsMm: readonly number[]
  /** How many of the people not yet measured will come: an exact number, or about so many. */
  readonly expected: { readonly people: number } | { readonly about: number }
  /** Of the adults. Half where it is not known. */
  readonly womenShare?: number
  readonly policy: Policy['width']
}

export interface WidthForecast {
  readonly seatWidthMm: number
  /** Of all who come, 0 to 1: own people and published bodies together. */
  readonly share: number
  readonly meanWanted: number
  /** The fewest that run out with a chance of at most `RUN_OUT_CHANCE`. */
  readonly pack: number
  /** With that many. */
  readonly runOutChance: number
}

export interface WidthsForecast {
  readonly widths: readonly WidthForecast[]
  /** Share of people for whom this model has no width: too wide, or so narrow that the slack excludes it. */
  readonly noneShare: number
  readonly measured: number
}

/** The smallest width that holds these hips, within the slack that the policy allows; undefined: none does. */
const widthFor = (wantedMm: number, sorted: readonly number[], policy: Policy['width']): number | undefined => {
  const width = sorted.find(one => one >= wantedMm)
  return width !== undefined && width - wantedMm <= policy.greatestSlackMm ? width : undefined
}

/** Share of published adults whose wanted width lies above `fromMm`, up to `toMm`. */
const publishedShare = (fromMm: number, toMm: number, womenShare: number, addMm: number): number => {
  const between = ({ meanMm, sdMm }: (typeof HIP_BREADTH)[Sex]): number =>
    normalShareUpTo((toMm - addMm - meanMm) / sdMm) - normalShareUpTo((fromMm - addMm - meanMm) / sdMm)
  // Far out both shares are the same to within rounding: their difference must not fall below 0.
  return Math.max(0, (1 - womenShare) * between(HIP_BREADTH.male) + womenShare * between(HIP_BREADTH.female))
}

/**
 * Which seat widths of one model people will want whom nobody has measured. The share of a width is that among the
 * crew's own people and the published bodies together, the latter as `PUBLISHED_COUNTS_AS` people (mean of a Dirichlet
 * posterior). The chance of running out takes the share as known: with few people measured it is really higher.
 */
export const forecastWidths = (input: WidthForecastInput): WidthsForecast => {
  const { measuredHipsMm, expected, womenShare = 0.5, policy } = input
  const sorted = [...new Set(input.seatWidthsMm)].sort((a, b) => a - b)
  const counts = new Map<number | undefined, number>()
  for (const hip of measuredHipsMm) {
    const width = widthFor(hip + policy.addMm, sorted, policy)
    counts.set(width, (counts.get(width) ?? 0) + 1)
  }
  const people = measuredHipsMm.length + PUBLISHED_COUNTS_AS
  const widths = sorted.map((seatWidthMm, index): WidthForecast => {
    const least = Math.max(sorted[index - 1] ?? 0, seatWidthMm - policy.greatestSlackMm)
    const published = publishedShare(least, seatWidthMm, womenShare, policy.addMm)
    const share = ((counts.get(seatWidthMm) ?? 0) + PUBLISHED_COUNTS_AS * published) / people
    const demand: Demand =
      'people' in expected
        ? { type: 'of-people', people: expected.people, share }
        : { type: 'about', mean: expected.about * share }
    const pack = piecesFor(demand, RUN_OUT_CHANCE)
    return { seatWidthMm, share, meanWanted: meanOf(demand), pack, runOutChance: chanceOfMore(demand, pack) }
  })
  return {
    widths,
    noneShare: Math.max(0, 1 - widths.reduce((sum, { share }) => sum + share, 0)),
    measured: measuredHipsMm.length,
  }
}
