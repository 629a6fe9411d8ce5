import { growthOf, heightZ, lmsAt, statureAtZMm, THIGH_PER_STATURE, valueAtZ, zOf } from '../../../src/body/growth.ts'
import { BODY_MASS_INDEX_FOR_AGE, HEIGHT_CM_FOR_AGE, type Sex } from '../../../src/body/who-lms.ts'
import { addDays, ageInMonthsOn, toCalendarDate } from '../../../src/calendar-date.ts'
import type { PublishedRow } from './row.ts'

const WHO_2006 =
  'WHO Multicentre Growth Reference Study Group, WHO Child Growth Standards, 2006, length/height-for-age tables'
const WHO_2007 =
  'de Onis M et al., Development of a WHO growth reference for school-aged children and adolescents, Bull WHO 2007;85:660-7, height- and BMI-for-age tables'

/** Month: height M and S of boys and of girls, then BMI L, M, S of boys and of girls. WHO 2007. */
const WHO_2007_TABLE: readonly (readonly number[])[] = [
  [61, 110.2647, 0.04164, 109.6016, 0.04355, -0.7387, 15.2641, 0.0839, -0.8886, 15.2441, 0.09692],
  [72, 115.9509, 0.04249, 115.1244, 0.04447, -0.9921, 15.3062, 0.08682, -1.0794, 15.2697, 0.10195],
  [84, 121.7338, 0.04342, 120.8105, 0.04525, -1.246, 15.4832, 0.09068, -1.2565, 15.4036, 0.10746],
  [96, 127.2651, 0.04438, 126.5558, 0.04581, -1.4629, 15.7368, 0.09526, -1.388, 15.681, 0.11291],
  [108, 132.5652, 0.04535, 132.4944, 0.04612, -1.6318, 16.049, 0.10038, -1.465, 16.0964, 0.11816],
  [120, 137.7795, 0.04626, 138.6363, 0.04614, -1.7407, 16.4433, 0.10566, -1.4864, 16.6133, 0.12307],
  [132, 143.1126, 0.04703, 144.9929, 0.04584, -1.7862, 16.9392, 0.1107, -1.4606, 17.2459, 0.12748],
  [144, 149.0807, 0.04753, 151.2327, 0.04523, -1.7751, 17.5334, 0.11522, -1.4006, 17.9966, 0.13129],
  [156, 156.0426, 0.0476, 156.3748, 0.04439, -1.7168, 18.233, 0.11898, -1.3195, 18.8012, 0.13445],
  [168, 163.1816, 0.04714, 159.789, 0.04345, -1.6211, 19.005, 0.12191, -1.2266, 19.5647, 0.137],
  [180, 168.958, 0.04619, 161.6692, 0.04255, -1.4961, 19.7744, 0.12412, -1.1311, 20.2125, 0.13904],
  [192, 172.8967, 0.04495, 162.5156, 0.04176, -1.3529, 20.4951, 0.12579, -1.0368, 20.7008, 0.1407],
  [204, 175.1609, 0.04364, 162.8545, 0.04109, -1.1962, 21.1423, 0.12715, -0.9423, 21.0367, 0.14208],
  [216, 176.1449, 0.04241, 163.0595, 0.04053, -1.026, 21.7077, 0.12836, -0.8462, 21.2603, 0.1433],
  [228, 176.5432, 0.04134, 163.1548, 0.04009, -0.8419, 22.1883, 0.12948, -0.7496, 21.4269, 0.14441],
]
const WHO_2007_COLUMNS = [
  [HEIGHT_CM_FOR_AGE.male, 'm', 'height M, boys, cm'],
  [HEIGHT_CM_FOR_AGE.male, 's', 'height S, boys'],
  [HEIGHT_CM_FOR_AGE.female, 'm', 'height M, girls, cm'],
  [HEIGHT_CM_FOR_AGE.female, 's', 'height S, girls'],
  [BODY_MASS_INDEX_FOR_AGE.male, 'l', 'BMI L, boys'],
  [BODY_MASS_INDEX_FOR_AGE.male, 'm', 'BMI M, boys'],
  [BODY_MASS_INDEX_FOR_AGE.male, 's', 'BMI S, boys'],
  [BODY_MASS_INDEX_FOR_AGE.female, 'l', 'BMI L, girls'],
  [BODY_MASS_INDEX_FOR_AGE.female, 'm', 'BMI M, girls'],
  [BODY_MASS_INDEX_FOR_AGE.female, 's', 'BMI S, girls'],
] as const

const who2007Rows: readonly PublishedRow[] = WHO_2007_TABLE.flatMap(([month = Number.NaN, ...printed]) =>
  WHO_2007_COLUMNS.map(
    ([rows, part, what], index): PublishedRow => ({
      rule: 'growth table',
      source: WHO_2007,
      standing: 'read',
      what: `${what}, at ${month} months`,
      expected: printed[index] ?? Number.NaN,
      actual: () => lmsAt(rows, month)?.[part] ?? Number.NaN,
      tolerance: 1e-9,
      unit: part === 'm' ? 'cm or kg/m2' : '1',
    }),
  ),
)

/** Days of age: M in cm and S of boys, of girls. WHO 2006, standing. */
const WHO_2006_TABLE: readonly (readonly number[])[] = [
  [913, 91.9297, 0.03704, 90.6765, 0.03893],
  [1096, 96.0889, 0.03858, 95.0572, 0.04007],
  [1278, 99.8441, 0.0397, 99.0369, 0.04105],
  [1461, 103.3273, 0.04059, 102.7312, 0.04193],
  [1643, 106.6555, 0.04139, 106.1634, 0.04272],
  [1826, 109.9593, 0.04214, 109.4189, 0.04346],
]
const who2006Rows: readonly PublishedRow[] = WHO_2006_TABLE.flatMap(([days = Number.NaN, ...printed]) =>
  (['male', 'female'] as const).flatMap((sex, index) =>
    (['m', 's'] as const).map(
      (part, offset): PublishedRow => ({
        rule: 'growth table',
        source: WHO_2006,
        standing: 'read',
        what: `height ${part.toUpperCase()}, ${sex}, at ${days} days`,
        expected: printed[index * 2 + offset] ?? Number.NaN,
        actual: () => lmsAt(HEIGHT_CM_FOR_AGE[sex], days / 30.4375)?.[part] ?? Number.NaN,
        // WHO's monthly rows are its daily rows at the nearest day: at most half a day of growth, 0.012 cm.
        tolerance: part === 'm' ? 0.012 : 0.0001,
        unit: part === 'm' ? 'cm' : '1',
      }),
    ),
  ),
)

export const GROWTH_TABLE_ROWS: readonly PublishedRow[] = [...who2006Rows, ...who2007Rows]

/** Official z-scores of WHO's survey example for the 2007 reference (height-for-age), printed to 0.01. */
const OFFICIAL_Z: readonly (readonly [sex: Sex, months: number, heightCm: number, z: number])[] = [
  ['male', 166.59, 153.7, -1.13],
  ['male', 184.09, 181.7, 1.43],
  ['male', 188.57, 171.4, -0.07],
]

export const Z_ROWS: readonly PublishedRow[] = OFFICIAL_Z.map(([sex, months, heightCm, z]) => ({
  rule: 'height-for-age z',
  source: 'WHO, example survey of the 2007 reference with official z-scores (WHO AnthroPlus, 2009)',
  standing: 'read',
  what: `${sex}, ${months} months, ${heightCm} cm`,
  expected: z,
  actual: () => heightZ(sex, months, heightCm * 10) ?? Number.NaN,
  // Half-yearly rows where WHO computed from monthly ones: 0.01; and 0.005 of print.
  tolerance: 0.015,
  unit: 'z',
}))

const LINES: readonly (readonly [sex: Sex, ...cm: number[]])[] = [
  ['male', 118.66, 125.03, 131.41, 137.78, 144.15, 150.53, 156.9],
  ['female', 119.45, 125.84, 132.24, 138.64, 145.03, 151.43, 157.83],
]
export const LINE_ROWS: readonly PublishedRow[] = LINES.flatMap(([sex, ...printed]) =>
  printed.map(
    (cm, index): PublishedRow => ({
      rule: 'stature at constant z',
      source: `${WHO_2007}, at 120 months`,
      standing: 'computed',
      what: `${sex}, z ${index - 3}`,
      expected: cm,
      actual: () => (statureAtZMm(sex, 120, index - 3) ?? Number.NaN) / 10,
      tolerance: 0.006, // printed to 0.01 cm
      unit: 'cm',
    }),
  ),
)

/** Weight-for-age lines and z: the LMS formula itself where L is not 1. Boys 120 months (WHO 2007), 1826 and 365 days (2006). */
const WEIGHT_120 = { l: -0.6764, m: 31.1586, s: 0.16305 }
const WEIGHT_1826_DAYS = { l: -0.1506, m: 18.3352, s: 0.13517 }
const WEIGHT_365_DAYS = { l: 0.0645, m: 9.646, s: 0.10925 }
const formulaRow = (what: string, expected: number, actual: () => number, tolerance: number): PublishedRow => ({
  rule: 'LMS formula',
  source:
    'Cole TJ, Green PJ, Smoothing reference centile curves: the LMS method, Stat Med 1992;11:1305-19; WHO weights',
  standing: 'computed',
  what,
  expected,
  actual,
  tolerance,
  unit: 'kg or z',
})
export const FORMULA_ROWS: readonly PublishedRow[] = [
  ...[20.42, 23.21, 26.69, 31.16, 37.03, 45.04, 56.43].map((kg, index) =>
    formulaRow(`boy, 120 months, z ${index - 3}`, kg, () => valueAtZ(index - 3, WEIGHT_120), 0.006),
  ),
  ...[12.37, 14.07, 16.04, 18.34, 21.02, 24.16, 27.86].map((kg, index) =>
    formulaRow(`boy, 1826 days, z ${index - 3}`, kg, () => valueAtZ(index - 3, WEIGHT_1826_DAYS), 0.006),
  ),
  formulaRow('boy, 365 days, 8.0 kg', -1.7023, () => zOf(8, WEIGHT_365_DAYS), 0.0006),
  formulaRow('boy, 365 days, 6.0 kg', -4.28, () => zOf(6, WEIGHT_365_DAYS), 0.0006),
  formulaRow('boy, 365 days, 14.0 kg', 3.451, () => zOf(14, WEIGHT_365_DAYS), 0.0006),
]

/** Age in years at which the median child of the reference grows fastest. */
export const peakAgeYears = (sex: Sex): number => {
  const gainAt = (month: number): number =>
    (statureAtZMm(sex, month + 6, 0) ?? Number.NaN) - (statureAtZMm(sex, month - 6, 0) ?? Number.NaN)
  const months = Array.from({ length: 120 }, (_, index) => 96 + index)
  return months.reduce((best, month) => (gainAt(month) > gainAt(best) ? month : best)) / 12
}
/** Its gain over the year around that age, cm. */
export const peakGainCm = (sex: Sex): number => {
  const month = peakAgeYears(sex) * 12
  return ((statureAtZMm(sex, month + 6, 0) ?? Number.NaN) - (statureAtZMm(sex, month - 6, 0) ?? Number.NaN)) / 10
}

const ABBASSI = 'Abbassi V, Growth and normal puberty, Pediatrics 1998;102:507-11'
export const PEAK_ROWS: readonly PublishedRow[] = (
  [
    ['male', 13.5],
    ['female', 11.5],
  ] as const
).map(([sex, years]) => ({
  rule: 'age at peak height velocity',
  source: ABBASSI,
  standing: 'read',
  what: sex,
  expected: years,
  actual: () => peakAgeYears(sex),
  // The median of many children who peak at different ages is flatter and earlier than any one of them: up to 0.75 year.
  tolerance: 0.75,
  unit: 'years',
}))

const BORN = toCalendarDate('2016-06-15')
const dayAtMonths = (months: number) => addDays(BORN, Math.round(months * 30.4375))
const NINE = dayAtMonths(108)
const boyOfNine = () => {
  const growth = growthOf({ sex: 'male', bornOn: BORN, statures: [{ on: NINE, mm: 1326 }], mass: { on: NINE, kg: 28 } })
  if (!growth) throw new Error('no growth for a boy of 9')
  return growth
}
const medianBoyOfNine = () => {
  const kg = 16.049 * 1.325652 ** 2
  const growth = growthOf({
    sex: 'male',
    bornOn: BORN,
    statures: [{ on: NINE, mm: 1325.652 }],
    mass: { on: NINE, kg },
  })
  if (!growth) throw new Error('no growth for a median boy of 9')
  return growth
}
const years = (months: number): number => months / 12
/** Age in years at which a boy of 9 (1326 mm, thigh 350 mm) has a thigh 35 mm longer: a gap of 40 has become 75. */
const ageThighGrewBy35 = (): number => {
  const growth = boyOfNine()
  for (let days = 0; days < 4000; days++) {
    const day = addDays(NINE, days)
    if ((growth.thighDepthMm({ on: NINE, mm: 350 }, day) ?? 0) - 350 > 35) return years(ageInMonthsOn(BORN, day))
  }
  throw new Error('the thigh never grew by 35 mm')
}

const WORKED =
  'Worked by hand from WHO 2007 and slopes regressed on Snyder RG et al., Anthropometry of Infants, Children and Youths, UM-HSRI-77-17, 1977'
const workedRow = (
  what: string,
  expected: number,
  actual: () => number,
  tolerance: number,
  unit: string,
): PublishedRow => ({
  rule: 'growth forecast',
  source: WORKED,
  standing: 'derived',
  what,
  expected,
  actual,
  tolerance,
  unit,
})

export const FORECAST_ROWS: readonly PublishedRow[] = [
  workedRow('stature gain that lengthens a boy thigh by 35 mm', 111, () => 35 / THIGH_PER_STATURE.male, 0.5, 'mm'),
  workedRow('age at which that boy of 9 has gained it', 11.1, ageThighGrewBy35, 0.05, 'years'),
  workedRow('thigh gain in a year of 5.5 cm', 17, () => 55 * THIGH_PER_STATURE.male, 0.5, 'mm'),
  workedRow('thigh gain in a year of 9.5 cm', 30, () => 95 * THIGH_PER_STATURE.male, 0.5, 'mm'),
  ...(
    [
      [120, 1.032],
      [132, 1.067],
      [144, 1.108],
    ] as const
  ).map(([months, ratio]) =>
    workedRow(
      `hip width of a median boy at ${years(months)} years against 9`,
      ratio,
      () => (medianBoyOfNine().hipWidthMm({ on: NINE, mm: 250 }, dayAtMonths(months)) ?? Number.NaN) / 250,
      0.001,
      '1',
    ),
  ),
]
