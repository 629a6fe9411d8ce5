import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { chanceOfMore, normalShareUpTo } from '../../../src/trip/chances.ts'
import { forecastWidths } from '../../../src/trip/width-forecast.ts'
import type { PublishedRow } from './row.ts'

/** Tables of four decimals: half of the last one. */
const FOUR = 0.00005

const normal = (z: number, expected: number): PublishedRow => ({
  rule: 'normal share',
  source: 'Abramowitz M, Stegun IA. Handbook of Mathematical Functions. 1964, table 26.1',
  standing: 'from memory',
  what: `up to z = ${z}`,
  expected,
  actual: () => normalShareUpTo(z),
  tolerance: 1e-9,
  unit: 'share',
})

const binomial = (people: number, share: number, pieces: number, expected: number): PublishedRow => ({
  rule: 'chance by the binomial',
  source: 'Cumulative binomial probabilities, as tabulated to four decimals (SciPy 1.17, scipy.stats.binom)',
  standing: 'computed',
  what: `at most ${pieces} of ${people}, each with ${share}`,
  expected,
  actual: () => 1 - chanceOfMore({ type: 'of-people', people, share }, pieces),
  tolerance: FOUR,
  unit: 'chance',
})

const poisson = (mean: number, pieces: number, expected: number): PublishedRow => ({
  rule: 'chance by Poisson',
  source: 'Cumulative Poisson probabilities, as tabulated to four decimals (SciPy 1.17, scipy.stats.poisson)',
  standing: 'computed',
  what: `at most ${pieces} where ${mean} are usual`,
  expected,
  actual: () => 1 - chanceOfMore({ type: 'about', mean }, pieces),
  tolerance: FOUR,
  unit: 'chance',
})

const shareUpTo = (limitMm: number, womenShare: number): number =>
  forecastWidths({
    seatWidthsMm: [limitMm],
    measuredHipsMm: [],
    expected: { people: 1 },
    womenShare,
    policy: { ...DEFAULT_POLICY.width, greatestSlackMm: 1000 },
  }).widths[0]?.share ?? Number.NaN

/** Printed percentiles of people, against the normal curve of the printed mean and SD: bodies are a little skewed. */
const ansur = (sex: 'men' | 'women', percentile: number, hipMm: number): PublishedRow => ({
  rule: 'share of hips up to a width',
  source: 'Gordon CC et al. 2012 Anthropometric Survey of U.S. Army Personnel, 2014, hip breadth sitting',
  standing: 'read',
  what: `${sex}, ${hipMm} mm is percentile ${percentile}`,
  expected: percentile / 100,
  actual: () => shareUpTo(hipMm, sex === 'women' ? 1 : 0),
  tolerance: 0.025,
  unit: 'share',
})

export const CHANCE_ROWS: readonly PublishedRow[] = [
  normal(0, 0.5),
  normal(1, 0.841344746),
  normal(1.96, 0.975002105),
  normal(-2.5, 0.006209665),
  normal(3.29, 0.999499063),
  binomial(10, 0.3, 3, 0.6496),
  binomial(20, 0.1, 2, 0.6769),
  binomial(5, 0.5, 2, 0.5),
  binomial(15, 0.4, 8, 0.905),
  binomial(100, 0.25, 30, 0.8962),
  poisson(2, 3, 0.8571),
  poisson(4.5, 6, 0.8311),
  poisson(10, 14, 0.9165),
  poisson(0.1, 0, 0.9048),
  poisson(100, 120, 0.9773),
  ansur('men', 5, 333),
  ansur('men', 50, 378),
  ansur('men', 95, 431),
  ansur('women', 5, 348),
  ansur('women', 50, 397),
  ansur('women', 95, 456),
]
