import type { ReasonInput } from '../reason.ts'
import type { SourceKey } from '../sources.ts'
import type { Formula } from '../sum.ts'
import { roundTo } from '../units.ts'
import { statureAtZMm } from './growth.ts'
import type { Person } from './person.ts'
import type { MeasureOfPerson } from './possible-ranges.ts'
import type { Sex } from './who-lms.ts'

/** How an expectation comes about: what goes in beside the facts of the person, and the formula where there is one. */
export interface ExpectedSum {
  readonly inputs: Readonly<Record<string, ReasonInput>>
  readonly formulas: readonly Formula[]
}

/** What one measure is expected to be from others: the mean, one standard deviation of a person about it, and the sum. */
export interface Expectation {
  readonly mean: number
  readonly sd: number
  /** What it comes from; made only when a doubt is told. */
  readonly sum: () => ExpectedSum
  readonly source: SourceKey
}

/** Who the expectations are for. Not knowing sex or age leaves several, and a value need only meet one of them. */
export interface Who {
  readonly sexes: readonly Sex[]
  readonly ages: readonly ('adult' | 'child')[]
  readonly ageMonths?: number
}

/** A stature as known, or as it is spread among such people when it is not. */
interface Spread {
  readonly mm: number
  readonly sdMm: number
}

interface Line {
  readonly slope: number
  readonly interceptMm: number
  readonly sdMm: number
}

/**
 * Adults, mm on stature in mm: ANSUR II 2012 (thigh = buttock-popliteal length, calf = popliteal height barefoot, upper arm =
 * shoulder-elbow length). Thigh, calf, elbow and upper arm from all 6,068 people, the others from half of them (3,034).
 */
const ADULT_LINES = {
  thighDepth: {
    male: { slope: 0.3051, interceptMm: -32.9, sdMm: 17.7 },
    female: { slope: 0.3267, interceptMm: -47, sdMm: 19.6 },
  },
  calfLength: {
    male: { slope: 0.3056, interceptMm: -107, sdMm: 13.3 },
    female: { slope: 0.2962, interceptMm: -94.1, sdMm: 14 },
  },
  ribHeight: {
    male: { slope: 0.1296, interceptMm: 55.1, sdMm: 18.8 },
    female: { slope: 0.1206, interceptMm: 88.1, sdMm: 16.6 },
  },
  axillaHeight: {
    male: { slope: 0.2513, interceptMm: 49.7, sdMm: 20.6 },
    female: { slope: 0.2194, interceptMm: 110.1, sdMm: 20.4 },
  },
  shoulderHeight: {
    male: { slope: 0.2988, interceptMm: 78, sdMm: 23.6 },
    female: { slope: 0.261, interceptMm: 138.5, sdMm: 21.5 },
  },
  elbowHeight: {
    male: { slope: 0.0733, interceptMm: 116.3, sdMm: 28.2 },
    female: { slope: 0.0471, interceptMm: 155.7, sdMm: 26.1 },
  },
  upperArm: {
    male: { slope: 0.2169, interceptMm: -17.2, sdMm: 10.5 },
    female: { slope: 0.2204, interceptMm: -24.6, sdMm: 9.9 },
  },
  forearmGrip: {
    male: { slope: 0.1989, interceptMm: -0.2, sdMm: 11.8 },
    female: { slope: 0.2071, interceptMm: -19.3, sdMm: 12.7 },
  },
  biacromial: {
    male: { slope: 0.1434, interceptMm: 163.8, sdMm: 16.4 },
    female: { slope: 0.1657, interceptMm: 95.8, sdMm: 15.2 },
  },
} as const satisfies Readonly<Record<string, Readonly<Record<Sex, Line>>>>
type Segment = keyof typeof ADULT_LINES | 'scapulaHeight'

/** ANSUR II 2012, all: mean and SD of stature; hip breadth sitting on mass (SD = 30.2 sqrt(1 - 0.883^2), 32.7 sqrt(1 - 0.830^2)). */
const ADULT_STATURE: Readonly<Record<Sex, Spread>> = {
  male: { mm: 1756.2, sdMm: 68.6 },
  female: { mm: 1628.5, sdMm: 64.2 },
}
const ADULT_HIP_ON_MASS = {
  male: { slopeMmPerKg: 1.875, interceptMm: 219, sdMm: 14.2 },
  female: { slopeMmPerKg: 2.474, interceptMm: 231.3, sdMm: 18.2 },
} as const

/** The bottom of the scapula is taken 100 mm below the axilla, SD 25 mm beside the axilla's own (project value). */
const AXILLA_TO_SCAPULA_MM = 100
const AXILLA_TO_SCAPULA_SD_MM = 25

/**
 * Children of 2-17 years: thigh = rump-knee length (Snyder 1977: 0.3812 H - 73, SD 14.5 boys; 0.3901 H - 78, SD 15.0 girls)
 * less 0.065 H (SD 0.005 H); calf = knee height (Snyder 1977: 0.3532 H - 54; 0.3325 H - 33) less 0.073 H, the adult thickness of
 * the knee above the fold (ANSUR II means). The SD of the calf is not printed: 15 mm, project value.
 */
const CHILD_LINES = {
  thighDepth: {
    male: { slope: 0.3812 - 0.065, interceptMm: -73, sdMm: 16 },
    female: { slope: 0.3901 - 0.065, interceptMm: -78, sdMm: 16.5 },
  },
  calfLength: {
    male: { slope: 0.3532 - 0.073, interceptMm: -54, sdMm: 15 },
    female: { slope: 0.3325 - 0.073, interceptMm: -33, sdMm: 15 },
  },
} as const satisfies Readonly<Record<string, Readonly<Record<Sex, Line>>>>

/** No table of a child's trunk and arms was found: the adult share of stature, SD a sixteenth of it (project value). */
const CHILD_SHARE_SD = 1 / 16

/** Hip = k sqrt(mass / stature in m): k 54.5 (SD 2.1) men, 62.1 (2.8) women in ANSUR II; waists keep theirs from 2 to 17 years (Snyder 1977). */
const CHILD_HIP = { male: { k: 54.5, sd: 2.1 }, female: { k: 62.1, sd: 2.8 } } as const

/** Adults' stature from shoulder height, thigh depth and calf barefoot, mm: ANSUR II 2012, half of the people. */
const ADULT_STATURE_FROM = {
  male: { shoulder: 0.914, thigh: 0.594, calf: 1.447, interceptMm: 285, sdMm: 22 },
  female: { shoulder: 1.041, thigh: 0.749, calf: 1.163, interceptMm: 228, sdMm: 23 },
} as const

/** Measured in the field through clothes, not on a bench: added to the spread of bodies (project value). */
const FIELD_ERROR_MM = 10
/** Shoes of unknown sole: 20 mm, give or take 10 (project value). */
const UNKNOWN_SOLE: Spread = { mm: 20, sdMm: 10 }
/** A guessed mass is good to 15 kg (project value). */
const GUESS_ERROR_KG = 15

const SEGMENT_OF = {
  thighDepthLeftMm: 'thighDepth',
  thighDepthRightMm: 'thighDepth',
  calfLengthLeftMm: 'calfLength',
  calfLengthRightMm: 'calfLength',
  ribHeightMm: 'ribHeight',
  scapulaHeightMm: 'scapulaHeight',
  axillaHeightMm: 'axillaHeight',
  shoulderHeightMm: 'shoulderHeight',
  elbowHeightMm: 'elbowHeight',
  upperArmMm: 'upperArm',
  forearmGripMm: 'forearmGrip',
  biacromialMm: 'biacromial',
} as const satisfies { readonly [Name in MeasureOfPerson]?: Segment }
/** Measures that follow stature. */
export type SegmentName = keyof typeof SEGMENT_OF
export const SEGMENT_NAMES = Object.keys(SEGMENT_OF) as readonly SegmentName[]

const spreadOf = (...parts: readonly number[]): number => Math.hypot(...parts)

const adultLine = (segment: Segment, sex: Sex): Line => {
  if (segment !== 'scapulaHeight') return ADULT_LINES[segment][sex]
  const axilla = ADULT_LINES.axillaHeight[sex]
  return {
    slope: axilla.slope,
    interceptMm: axilla.interceptMm - AXILLA_TO_SCAPULA_MM,
    sdMm: spreadOf(axilla.sdMm, AXILLA_TO_SCAPULA_SD_MM),
  }
}

/** A child's line, and whether it was read for children or taken from the adult's share of stature. */
const childLine = (segment: Segment, sex: Sex, stature: Spread): { line: Line; source: SourceKey } => {
  if (segment === 'thighDepth' || segment === 'calfLength')
    return { line: CHILD_LINES[segment][sex], source: 'snyder-1977' }
  const adult = adultLine(segment, sex)
  const share = adult.slope + adult.interceptMm / ADULT_STATURE[sex].mm
  return {
    line: { slope: share, interceptMm: 0, sdMm: share * stature.mm * CHILD_SHARE_SD },
    source: 'project-value',
  }
}

/** Stature of such people: WHO height-for-age for a child, ANSUR II for an adult. */
const statureSpread = (sex: Sex, age: 'adult' | 'child', ageMonths: number | undefined): Spread | undefined => {
  if (age === 'adult') return ADULT_STATURE[sex]
  if (ageMonths === undefined) return undefined
  const [median, above] = [statureAtZMm(sex, ageMonths, 0), statureAtZMm(sex, ageMonths, 1)]
  return median === undefined || above === undefined ? undefined : { mm: median, sdMm: above - median }
}

/** One expectation for each kind of person it may be; none at all where one kind leaves it open. */
const eachKind = (
  who: Who,
  expect: (sex: Sex, age: 'adult' | 'child') => Expectation | undefined,
): readonly Expectation[] => {
  const kinds = who.sexes.flatMap(sex => who.ages.map(age => expect(sex, age)))
  const known = kinds.filter(kind => kind !== undefined)
  return known.length === kinds.length ? known : []
}

/** Stature from sex and age alone. Empty where age is not known or no table reaches it. */
export const expectedStatures = (who: Who): readonly Expectation[] =>
  eachKind(who, (sex, age) => {
    const spread = statureSpread(sex, age, who.ageMonths)
    if (!spread) return undefined
    const source = age === 'adult' ? 'ansur-ii-2012' : 'who-2006-2007'
    const sum = (): ExpectedSum => ({ inputs: { computedAs: sex, ageGroup: age }, formulas: [] })
    return { mean: spread.mm, sd: spread.sdMm, sum, source }
  })

/** An adult's stature from shoulder height and the longer thigh and calf. Empty where one of the three is missing. */
export const expectedStaturesFromSegments = (person: Person, who: Who): readonly Expectation[] => {
  const longer = (left: number | undefined, right: number | undefined): number => Math.max(left ?? 0, right ?? 0)
  const shoulderMm = person.shoulderHeightMm ?? 0
  const thighMm = longer(person.thighDepthLeftMm, person.thighDepthRightMm)
  const calfMm = longer(person.calfLengthLeftMm, person.calfLengthRightMm)
  if (shoulderMm === 0 || thighMm === 0 || calfMm === 0) return []
  const sole = person.shoeSoleMm === undefined ? UNKNOWN_SOLE : { mm: person.shoeSoleMm, sdMm: 0 }
  return eachKind(who, (sex, age) => {
    if (age === 'child') return undefined
    const { shoulder, thigh, calf, interceptMm, sdMm } = ADULT_STATURE_FROM[sex]
    const errors = [shoulder, thigh, calf].map(slope => slope * FIELD_ERROR_MM)
    return {
      mean: shoulder * shoulderMm + thigh * thighMm + calf * (calfMm - sole.mm) + interceptMm,
      sd: spreadOf(sdMm, calf * sole.sdMm, ...errors),
      sum: () => ({
        inputs: { computedAs: sex, shoulderHeightMm: shoulderMm, thighMm, calfMm, soleMm: sole.mm },
        formulas: [
          `expected = ${shoulder} * shoulderHeightMm + ${thigh} * thighMm + ${calf} * (calfMm - soleMm) + ${interceptMm}`,
        ],
      }),
      source: 'ansur-ii-2012',
    }
  })
}

/** What is added to a product, with its sign; nothing for 0. */
const plus = (mm: number): string => (mm === 0 ? '' : mm < 0 ? ` - ${roundTo(-mm, 1)}` : ` + ${roundTo(mm, 1)}`)

/** A measure that follows stature; with stature unknown, from how it is spread among such people. */
export const expectedSegments = (
  name: SegmentName,
  who: Who,
  statureMm: number | undefined,
  shoeSoleMm: number | undefined,
): readonly Expectation[] =>
  eachKind(who, (sex, age) => {
    const stature = statureMm === undefined ? statureSpread(sex, age, who.ageMonths) : { mm: statureMm, sdMm: 0 }
    if (!stature) return undefined
    const segment = SEGMENT_OF[name]
    const adult = { line: adultLine(segment, sex), source: 'ansur-ii-2012' as const }
    const { line, source } = age === 'adult' ? adult : childLine(segment, sex, stature)
    const knownSole = shoeSoleMm === undefined ? UNKNOWN_SOLE : { mm: shoeSoleMm, sdMm: 0 }
    const sole = segment === 'calfLength' ? knownSole : { mm: 0, sdMm: 0 }
    return {
      mean: line.slope * stature.mm + line.interceptMm + sole.mm,
      sd: spreadOf(line.sdMm, line.slope * stature.sdMm, sole.sdMm, FIELD_ERROR_MM),
      sum: () => ({
        inputs: {
          computedAs: sex,
          ageGroup: age,
          ...(statureMm === undefined ? { usualStatureMm: roundTo(stature.mm, 1) } : {}),
          ...(segment === 'calfLength' ? { soleMm: sole.mm } : {}),
        },
        formulas: [
          `expected = ${roundTo(line.slope, 6)} * ${statureMm === undefined ? 'usualStatureMm' : 'statureMm'}${plus(line.interceptMm)}${segment === 'calfLength' ? ' + soleMm' : ''}`,
        ],
      }),
      source,
    }
  })

/** Nobody's hips follow a mass from which a limb is missing. */
const hasLoss = ({ limbLoss, armLoss }: Person): boolean => [...(limbLoss ?? []), ...(armLoss ?? [])].length > 0

/** Hip width from mass (adult), or from mass and stature (child). Empty after limb loss: mass says too little then. */
export const expectedHips = (person: Person, who: Who, statureMm: number | undefined): readonly Expectation[] => {
  const { massKg } = person
  if (massKg === undefined || hasLoss(person)) return []
  const guessKg = person.massGuessed ? GUESS_ERROR_KG : 0
  return eachKind(who, (sex, age) => {
    if (age === 'adult') {
      const { slopeMmPerKg, interceptMm, sdMm } = ADULT_HIP_ON_MASS[sex]
      return {
        mean: slopeMmPerKg * massKg + interceptMm,
        sd: spreadOf(sdMm, slopeMmPerKg * guessKg, FIELD_ERROR_MM),
        sum: () => ({
          inputs: { computedAs: sex },
          formulas: [`expected = ${slopeMmPerKg} * massKg + ${interceptMm}`],
        }),
        source: 'ansur-ii-2012',
      }
    }
    if (statureMm === undefined) return undefined
    const { k, sd } = CHILD_HIP[sex]
    const root = Math.sqrt(massKg / (statureMm / 1000))
    const guessMm = (k * root * guessKg) / massKg / 2
    return {
      mean: k * root,
      sd: spreadOf(sd * root, guessMm, FIELD_ERROR_MM),
      sum: () => ({
        inputs: { computedAs: sex, statureMm },
        formulas: [`expected = ${k} * sqrt(massKg / (statureMm / 1000))`],
      }),
      source: 'snyder-1977',
    }
  })
}
