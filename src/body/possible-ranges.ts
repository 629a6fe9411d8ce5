/**
 * Least and most that a measure can be, from a child of four to the largest adult (project values, around the extremes of
 * ANSUR II 2012 and Snyder 1977). Outside it the value is no measure of a person and is not computed with. Lengths mm,
 * masses kg, angles degrees. Sharper expectations, by age, stature and mass, stand in `expected-body.ts`.
 */
export const POSSIBLE_RANGES = {
  massKg: [5, 250],
  statureMm: [600, 2150],
  hipWidthMm: [150, 700],
  thighDepthLeftMm: [150, 700],
  thighDepthRightMm: [150, 700],
  calfLengthLeftMm: [120, 620],
  calfLengthRightMm: [120, 620],
  shoeSoleMm: [0, 120],
  ribHeightMm: [90, 480],
  scapulaHeightMm: [140, 650],
  axillaHeightMm: [160, 680],
  shoulderHeightMm: [220, 800],
  elbowHeightMm: [80, 380],
  upperArmMm: [130, 480],
  forearmGripMm: [110, 460],
  biacromialMm: [160, 520],
  hipFlexionLeftDeg: [-60, 160],
  hipFlexionRightDeg: [-60, 160],
  kneeExtensionLeftDeg: [-60, 160],
  kneeExtensionRightDeg: [-60, 160],
  steepestSlopeDeg: [0, 30],
  narrowestDoorMm: [350, 2000],
} as const satisfies Readonly<Record<string, readonly [least: number, most: number]>>

export type MeasureOfPerson = keyof typeof POSSIBLE_RANGES

export const MEASURES_OF_PERSON = Object.keys(POSSIBLE_RANGES) as readonly MeasureOfPerson[]

export const isPossible = (name: MeasureOfPerson, value: number): boolean => {
  const [least, most] = POSSIBLE_RANGES[name]
  return value >= least && value <= most
}
