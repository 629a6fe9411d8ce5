import { expectedHips, expectedSegments, type SegmentName } from '../../../src/body/expected-body.ts'
import type { PublishedRow } from './row.ts'

const SOURCE =
  'Gordon CC et al. 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007, 2014: means of its public data'

/**
 * A regression passes through the means of its sample: at the mean stature (men 1756.2, women 1628.5 mm) or mass (85.5,
 * 67.8 kg) each line must give the mean of the dimension, as published apart from the line. Lines of the half-sample are
 * held to the mean of acromial height, the only one of theirs that is printed for everybody.
 */
const MEAN_STATURE = { male: 1756.2, female: 1628.5 } as const
const MEAN_MASS = { male: 85.5, female: 67.8 } as const
type Sex = keyof typeof MEAN_STATURE

/** Four decimals of slope times 1,756 mm: a tenth of a millimetre each way, and the mean's own decimal. */
const ROUNDING_MM = 0.3

const segment = (name: SegmentName, sex: Sex, expected: number, tolerance = ROUNDING_MM): PublishedRow => ({
  rule: 'plausibility: segment on stature',
  source: SOURCE,
  standing: 'computed',
  what: `${name} of the mean ${sex === 'male' ? 'man' : 'woman'}`,
  expected,
  actual: () =>
    expectedSegments(name, { sexes: [sex], ages: ['adult'] }, MEAN_STATURE[sex], 0).at(0)?.mean ?? Number.NaN,
  tolerance,
  unit: 'mm',
})

const hip = (sex: Sex, expected: number): PublishedRow => ({
  rule: 'plausibility: hips on mass',
  source: SOURCE,
  standing: 'computed',
  what: `hip breadth sitting of the mean ${sex === 'male' ? 'man' : 'woman'}`,
  expected,
  actual: () =>
    expectedHips({ massKg: MEAN_MASS[sex] }, { sexes: [sex], ages: ['adult'] }, undefined).at(0)?.mean ?? Number.NaN,
  tolerance: ROUNDING_MM,
  unit: 'mm',
})

export const PLAUSIBILITY_ROWS: readonly PublishedRow[] = [
  segment('thighDepthLeftMm', 'male', 502.9),
  segment('thighDepthLeftMm', 'female', 485.1),
  segment('calfLengthLeftMm', 'male', 429.8),
  segment('calfLengthLeftMm', 'female', 388.2),
  segment('upperArmMm', 'male', 363.7),
  segment('upperArmMm', 'female', 334.3),
  segment('elbowHeightMm', 'male', 245.0),
  segment('elbowHeightMm', 'female', 232.4),
  // Sitting acromial height = 918.3 - (1756.2 - 1440.7); 856.6 - (1628.5 - 1335.1). Half the people: SD 25 / sqrt(1005) x 3.
  segment('shoulderHeightMm', 'male', 602.8, 2.4),
  segment('shoulderHeightMm', 'female', 563.2, 2.4),
  hip('male', 379.3),
  hip('female', 399.0),
]
