import { addTo, type Histogram, quantileOf } from '../../../src/statistics/histogram.ts'
import { logRank } from '../../../src/statistics/log-rank.ts'
import {
  addMeasured,
  type MeasurementError,
  measurementError,
  noAgreement,
} from '../../../src/statistics/measurement-error.ts'
import { twoSidedProbability } from '../../../src/statistics/normal.ts'
import {
  addLifetime,
  type Lifetimes,
  medianLifetime,
  noLifetimes,
  survivalOf,
} from '../../../src/statistics/survival.ts'
import { wilsonInterval } from '../../../src/statistics/wilson.ts'
import type { PublishedRow } from './row.ts'

const row = (
  rule: string,
  source: string,
  what: string,
  expected: number,
  tolerance: number,
  unit: string,
  actual: () => number | null | undefined,
  standing: PublishedRow['standing'] = 'read',
): PublishedRow => ({
  rule,
  source,
  standing,
  what: `${what}: ${expected}`,
  expected,
  actual: () => actual() ?? Number.NaN,
  tolerance,
  unit,
})

const NEWCOMBE =
  'Newcombe RG. Two-sided confidence intervals for the single proportion: comparison of seven methods. Stat Med 1998;17:857-72, table I, method 3 (as reprinted in several independent test suites)'
const PROPORTIONS = [
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
] as const

export const WILSON_ROWS: readonly PublishedRow[] = PROPORTIONS.flatMap(([count, of, low, high]) => [
  row('wilson interval', NEWCOMBE, `${count} of ${of}, low`, low, 5e-5, 'of 1', () => wilsonInterval(count, of)?.low),
  row(
    'wilson interval',
    NEWCOMBE,
    `${count} of ${of}, high`,
    high,
    5e-5,
    'of 1',
    () => wilsonInterval(count, of)?.high,
  ),
])

/** Weeks in remission of 42 children. Negative: still in remission when last seen. */
const FREIREICH =
  'Freireich EJ et al. Blood 1963;21:699-716, the remission data as in Gehan EA. Biometrika 1965;52:203-23'
const TREATED = [6, 6, 6, -6, 7, -9, 10, -10, -11, 13, 16, -17, -19, -20, 22, 23, -25, -32, -32, -34, -35]
const UNTREATED = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]

const lifetimes = (weeks: readonly number[]): Lifetimes => {
  const all = noLifetimes()
  for (const week of weeks) addLifetime(all, Math.abs(week), week > 0)
  return all
}
const treated = lifetimes(TREATED)
const untreated = lifetimes(UNTREATED)
const at = (weeks: number) => survivalOf(treated).find(({ days }) => days === weeks)

/** Week, survival, Greenwood's standard error: NAG Library manual, g12aa, example results (three places). */
const PRODUCT_LIMIT = [
  [6, 0.857, 0.076],
  [7, 0.807, 0.087],
  [10, 0.753, 0.096],
  [13, 0.69, 0.107],
  [16, 0.627, 0.114],
  [22, 0.538, 0.128],
  [23, 0.448, 0.135],
] as const
/** Week, limits by log(-log S): a statistical package's listing of the same data (four places). */
const LIMITS = [
  [6, 0.6197, 0.9516],
  [7, 0.5631, 0.9228],
] as const

export const SURVIVAL_ROWS: readonly PublishedRow[] = [
  ...PRODUCT_LIMIT.flatMap(([week, survival, error]) => [
    row('kaplan-meier', FREIREICH, `6-MP, week ${week}`, survival, 5e-4, 'of 1', () => at(week)?.survival),
    row('greenwood', FREIREICH, `6-MP, week ${week}`, error, 5e-4, 'of 1', () => at(week)?.standardError),
  ]),
  ...LIMITS.flatMap(([week, low, high]) => [
    row('log-log interval', FREIREICH, `6-MP, week ${week}, low`, low, 5e-5, 'of 1', () => at(week)?.interval?.low),
    row('log-log interval', FREIREICH, `6-MP, week ${week}, high`, high, 5e-5, 'of 1', () => at(week)?.interval?.high),
  ]),
  row('kaplan-meier', FREIREICH, '6-MP, median remission', 23, 0, 'weeks', () => medianLifetime(survivalOf(treated))),
  row(
    'kaplan-meier',
    FREIREICH,
    'placebo, median remission',
    8,
    0,
    'weeks',
    () => medianLifetime(survivalOf(untreated)),
    'from memory',
  ),
  row(
    'log-rank',
    FREIREICH,
    'chi-square',
    16.7929,
    5e-5,
    'of chi-square',
    () => logRank(treated, untreated)?.chiSquare,
  ),
  row('log-rank', FREIREICH, 'probability', 4.169e-5, 5e-9, 'of 1', () => logRank(treated, untreated)?.probability),
  row(
    'log-rank',
    FREIREICH,
    'failures expected, 6-MP',
    19.3,
    0.05,
    'failures',
    () => logRank(treated, untreated)?.expected[0],
  ),
  row(
    'log-rank',
    FREIREICH,
    'failures expected, placebo',
    10.7,
    0.05,
    'failures',
    () => logRank(treated, untreated)?.expected[1],
  ),
]

/** Of the same 42 times, as a statistical package summarises them (definition 7 of Hyndman and Fan 1996). */
const times = (): Histogram => {
  const histogram: Histogram = new Map()
  for (const week of [...TREATED, ...UNTREATED]) addTo(histogram, Math.abs(week))
  return histogram
}
export const QUANTILE_ROWS: readonly PublishedRow[] = [
  row('quartiles', FREIREICH, 'lower quarter of 42 times', 6, 0, 'weeks', () => quantileOf(times(), 0.25)),
  row('quartiles', FREIREICH, 'median of 42 times', 10.5, 0, 'weeks', () => quantileOf(times(), 0.5)),
  row('quartiles', FREIREICH, 'upper quarter of 42 times', 18.5, 0, 'weeks', () => quantileOf(times(), 0.75)),
]

const ULIJASZEK =
  'Ulijaszek SJ, Kerr DA. Anthropometric measurement error and the assessment of nutritional status. Br J Nutr 1999;82:165-77, the example of stature, four observers, ten subjects (values as reprinted in a package of data)'
/** Millimetres. */
const STATURES = [
  [865, 863, 863, 864],
  [1023, 1023, 1027, 1025],
  [982, 980, 989, 985],
  [817, 816, 812, 817],
  [901, 894, 900, 903],
  [880, 876, 881, 881],
  [948, 947, 947, 946],
  [906, 905, 907, 908],
  [924, 924, 926, 924],
  [989, 987, 1002, 993],
]
const SMART =
  'Standardized Monitoring and Assessment of Relief and Transitions, standardisation test, sample data: weights by the supervisor, twice (computed by an independent package)'
/** Tenths of a kilogram. */
const WEIGHTS = [
  [159, 160],
  [142, 143],
  [167, 167],
  [141, 142],
  [148, 146],
  [162, 161],
  [105, 105],
  [165, 164],
  [141, 143],
  [135, 135],
]
const errorOf = (measured: readonly (readonly number[])[]): MeasurementError | null => {
  const agreement = noAgreement()
  for (const values of measured) addMeasured(agreement, values)
  return measurementError(agreement)
}

const ERROR = 'technical error of measurement'
export const MEASUREMENT_ROWS: readonly PublishedRow[] = [
  row(ERROR, ULIJASZEK, 'stature by four', 3.063223, 1e-6, 'mm', () => errorOf(STATURES)?.error, 'computed'),
  row(ERROR, SMART, 'weight, twice', 0.8062258, 1e-6, '0.1 kg', () => errorOf(WEIGHTS)?.error, 'computed'),
  row(
    ERROR,
    SMART,
    'weight, twice, of the mean',
    0.550137,
    1e-6,
    '%',
    () => errorOf(WEIGHTS)?.relativePercent,
    'computed',
  ),
]

/** Standard normal tables: 5 %, 1 % and 0.1 % on two sides. */
const TABLES = 'Standard normal distribution, two-sided percentage points to six places (from memory)'
export const NORMAL_ROWS: readonly PublishedRow[] = (
  [
    [1.959964, 0.05],
    [2.575829, 0.01],
    [3.290527, 0.001],
    [0.67449, 0.5],
  ] as const
).map(([z, p]) =>
  row('normal tail', TABLES, `beyond ${z}`, p, p * 1e-5, 'of 1', () => twoSidedProbability(z), 'from memory'),
)
