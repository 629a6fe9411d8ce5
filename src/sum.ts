import type { Reason, ReasonInput } from './reason.ts'

/**
 * What a sum can be made of, with the unit of each. `word`: a key that has its words in `components/text`; `text`: written
 * on the part itself. Closed, so that every language names each of them or does not compile.
 */
export const SUM_INPUTS = {
  // seat
  hipWidthMm: 'mm',
  clothingMm: 'mm',
  wantedMm: 'mm',
  seatWidthMm: 'mm',
  slackMm: 'mm',
  fromMm: 'mm',
  from: 'word',
  seatDepthMm: 'mm',
  gapMm: 'mm',
  rightLeastMm: 'mm',
  rightMostMm: 'mm',
  acceptedLeastMm: 'mm',
  acceptedMostMm: 'mm',
  hipFlexionDeg: 'deg',
  seatAsksDeg: 'deg',
  risks: 'word',
  relief: 'word',
  loadedMm: 'mm',
  rearMm: 'mm',
  frontMm: 'mm',
  calfLengthMm: 'mm',
  underThighsMm: 'mm',
  underSeatBonesMm: 'mm',
  wantedFrontMm: 'mm',
  lowerByMm: 'mm',
  lowestFrontMm: 'mm',
  // axle
  comAheadOfAxleMm: 'mm',
  comHeightMm: 'mm',
  antiTipBehindMm: 'mm',
  rearwardDeg: 'deg',
  lowestRearwardDeg: 'deg',
  standardErrors: 'number',
  standardErrorDeg: 'deg',
  rearwardAfterErrorDeg: 'deg',
  leastRearwardDeg: 'deg',
  forwardAfterErrorDeg: 'deg',
  leastForwardDeg: 'deg',
  sidewaysAfterErrorDeg: 'deg',
  leastSidewaysDeg: 'deg',
  ground: 'word',
  skill: 'word',
  elbowDeg: 'deg',
  leastDeg: 'deg',
  mostDeg: 'deg',
  fitted: 'flag',
  ageYears: 'years',
  // rests
  scapulaHeightMm: 'mm',
  axillaHeightMm: 'mm',
  ribHeightMm: 'mm',
  shoulderHeightMm: 'mm',
  belowScapulaMm: 'mm',
  axillaToScapulaMm: 'mm',
  someSupportMm: 'mm',
  belowAxillaMm: 'mm',
  leastMm: 'mm',
  mostMm: 'mm',
  side: 'word',
  leastGroundClearanceMm: 'mm',
  footplateDropMm: 'mm',
  kneeExtensionDeg: 'deg',
  hangerDeg: 'deg',
  elbowRestMm: 'mm',
  // what was excluded
  posture: 'word',
  capacityKg: 'kg',
  carriedKg: 'kg',
  reserveKg: 'kg',
  massGuessed: 'flag',
  narrowestDoorMm: 'mm',
  limbLoss: 'flag',
  left: 'word',
  right: 'word',
  shortByMm: 'mm',
  shortByDeg: 'deg',
  shortByKg: 'kg',
  // misfit
  widthPoints: 'points',
  depthPoints: 'points',
  cushionPoints: 'points',
  placePoints: 'points',
  elbowPoints: 'points',
  footrestLeftPoints: 'points',
  footrestRightPoints: 'points',
  backPoints: 'points',
  armrestPoints: 'points',
  misfitPoints: 'points',
  // tyres
  sidewallLeastKPa: 'kPa',
  sidewallMostKPa: 'kPa',
  usualLeastKPa: 'kPa',
  usualMostKPa: 'kPa',
  leastKPa: 'kPa',
  mostKPa: 'kPa',
  targetKPa: 'kPa',
  foundKPa: 'kPa',
  lossLeftKPa: 'kPa',
  lossDays: 'days',
  lossPerDay: 'number',
  filledOn: 'date',
  leftKPa: 'kPa',
  minKPa: 'kPa',
  gaugeErrorKPa: 'kPa',
  lastsDays: 'days',
  atMostMonths: 'months',
  // fasteners
  thread: 'text',
  propertyClass: 'text',
  pitchMm: 'mm',
  flankDiameterMm: 'mm',
  stressDiameterMm: 'mm',
  bearingDiameterMm: 'mm',
  stressAreaMm2: 'mm2',
  yieldMPa: 'MPa',
  yieldShare: 'number',
  friction: 'number',
  twist: 'number',
  preloadKN: 'kN',
  torqueNm: 'Nm',
  // growth
  sex: 'word',
  computedAs: 'word',
  bornOn: 'date',
  bornYearOnly: 'flag',
  statureMm: 'mm',
  statureOn: 'date',
  massKg: 'kg',
  z: 'number',
  pace: 'number',
  bodyMm: 'mm',
  roomMm: 'mm',
} as const satisfies Readonly<Record<string, string>>

export type SumInput = keyof typeof SUM_INPUTS
export type SumInputs = { readonly [Name in SumInput]?: ReasonInput }

export const isSumInput = (name: string): name is SumInput => Object.hasOwn(SUM_INPUTS, name)

/** Functions of a formula. Angles in degrees; `floor` leaves the whole part. */
export const SUM_FUNCTIONS = ['atan', 'cos', 'sqrt', 'ln', 'floor', 'min', 'max'] as const
export type SumFunction = (typeof SUM_FUNCTIONS)[number]

/**
 * One line of a sum in symbols, such as `wantedMm = hipWidthMm + clothingMm`: names of the reason's inputs, figures, the
 * signs `+ - * / ( ) ,` and the functions above. Left of `=` stands the result, an input as well.
 */
export type Formula = `${string} = ${string}`

export type SumSign = '+' | '-' | '*' | '/' | '(' | ')' | ',' | '='
export type SumSymbol =
  | { readonly type: 'input'; readonly name: string }
  | { readonly type: 'figure'; readonly value: number }
  | { readonly type: 'function'; readonly name: SumFunction }
  | { readonly type: 'sign'; readonly sign: SumSign }

const SYMBOL = /([A-Za-z]\w*)|(\d+(?:\.\d+)?)|([-+*/(),=])|(\S)/g

/** A formula as its symbols, in order. */
export const symbolsOf = (formula: Formula): readonly SumSymbol[] =>
  [...formula.matchAll(SYMBOL)].map(([, name, figure, sign, other]): SumSymbol => {
    if (other !== undefined) throw new Error(`"${other}" in the formula ${formula}`)
    if (figure !== undefined) return { type: 'figure', value: Number(figure) }
    if (sign !== undefined) return { type: 'sign', sign: sign as SumSign }
    return SUM_FUNCTIONS.includes(name as SumFunction)
      ? { type: 'function', name: name as SumFunction }
      : { type: 'input', name: name ?? '' }
  })

/** A reason that a person can open to its sum: each input has its name and unit, each formula what goes in. */
export interface WorkedReason extends Reason {
  readonly inputs: SumInputs
  readonly sum: readonly Formula[]
}
