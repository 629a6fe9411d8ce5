import { slopeForceN } from '../../../src/fitting/effort.ts'
import { elbowIncludedAngleDeg } from '../../../src/fitting/reach.ts'
import { comparableDeg, measuredComAheadMm, type TipInputs, tipAngles } from '../../../src/fitting/stability.ts'
import { toDegrees } from '../../../src/units.ts'
import type { PublishedRow } from './row.ts'

const BASE: TipInputs = {
  comAheadOfAxleMm: 150,
  comHeightMm: 650,
  comLeftMm: 0,
  rearWheelRadiusMm: 300,
  wheelbaseMm: 450,
  rearTrackMm: 580,
  frontTrackMm: 580,
}
const tip = (change: Partial<TipInputs>) => {
  const angles = tipAngles({ ...BASE, ...change })
  return {
    tyre: comparableDeg(angles.rearTyrePivotDeg),
    axle: comparableDeg(angles.rearAxlePivotDeg),
    forward: comparableDeg(angles.forwardDeg),
    sideways: comparableDeg(angles.sidewaysDeg),
  }
}

const GEOMETRY = 'Plane statics: a body tips when its weight line passes the pivot; arctangents worked by hand'
const MAJAESS =
  'Majaess, Kirby, Ackroyd-Stolarz, Charlebois. Seat position and wheelchair stability. Arch Phys Med Rehabil 1993;74:977-82'
const UPPER_LIMB =
  'Preservation of upper limb function following spinal cord injury. J Spinal Cord Med 2005;28:434-70, fig. 2; law of cosines'
const ADA = 'ADA Standards 1991, 4.8.2: ramp of 1:12'

/** The chair of that study: centre 176 mm ahead of the axle and 684 mm high, from its published angles and slopes; wheels of 24 inches. */
const STUDY: TipInputs = {
  ...BASE,
  comAheadOfAxleMm: 176,
  comHeightMm: 684,
  rearWheelRadiusMm: 305,
  wheelbaseMm: 176 + 684 * Math.tan((15.52 * Math.PI) / 180),
}
/** Degrees for each centimetre that the seat (and with it the centre) moves forward, in the middle of -5..+5 cm. */
const perCm = (pick: (angles: ReturnType<typeof tip>) => number): number => {
  const [ahead, behind] = [tip({ ...STUDY, comAheadOfAxleMm: 186 }), tip({ ...STUDY, comAheadOfAxleMm: 166 })]
  return (pick(ahead) - pick(behind)) / 2
}

const row = (
  rule: string,
  source: string,
  standing: PublishedRow['standing'],
  what: string,
  expected: number,
  actual: () => number,
  tolerance: number,
  unit = 'deg',
): PublishedRow => ({ rule, source, standing, what, expected, actual, tolerance, unit })

const elbowAt = (distanceMm: number): number => {
  const angle = elbowIncludedAngleDeg({
    shoulderXMm: 0,
    shoulderZMm: distanceMm,
    gripXMm: 0,
    gripZMm: 0,
    lateralMm: 0,
    upperArmMm: 300,
    forearmGripMm: 350,
  })
  return angle === 'outOfReach' ? Number.NaN : angle
}

export const MECHANICS_ROWS: readonly PublishedRow[] = [
  ...(
    [
      [100, 8.75],
      [150, 12.99],
      [200, 17.1],
    ] as const
  ).map(([x, deg]) =>
    row(
      'rearward, tyre pivot',
      GEOMETRY,
      'derived',
      `centre ${x} mm ahead of the axle, 650 mm high`,
      deg,
      () => tip({ comAheadOfAxleMm: x }).tyre,
      0.005,
    ),
  ),
  row(
    'rearward, axle pivot',
    GEOMETRY,
    'derived',
    'centre 150 mm ahead of and 350 mm above the axle',
    23.2,
    () => tip({}).axle,
    0.005,
  ),
  // The study does not state its wheel radius: 305 mm is the usual one, 6 mm of it are 0.35 deg.
  row(
    'rearward, axle pivot',
    MAJAESS,
    'read',
    'rear stability in the middle position',
    24.55,
    () => tip(STUDY).axle,
    0.5,
  ),
  // Not independent: the study's height is itself worked out from its slopes; kept to hold the two pivots together.
  row(
    'rearward, tyre pivot',
    MAJAESS,
    'derived',
    'the same chair, wheels locked (a model result)',
    14.4,
    () => tip(STUDY).tyre,
    0.1,
  ),
  row(
    'forward',
    GEOMETRY,
    'derived',
    'wheelbase 450 mm, centre 150 mm ahead of the axle, 650 mm high: atan(300 / 650)',
    24.78,
    () => tip({}).forward,
    0.005,
  ),
  // The study moved the seat with the person, not the whole mass: its slopes are ours times the same moved share, 1.11 / 0.70.
  row(
    'rearward against forward',
    MAJAESS,
    'read',
    'rear slope over forward slope, each per cm of seat',
    1.11 / 0.7,
    () => perCm(one => one.axle) / -perCm(one => one.forward),
    0.04,
    'ratio',
  ),
  row(
    'sideways',
    GEOMETRY,
    'derived',
    'half track 290 mm, height 650 mm: atan(290 / 650)',
    24.04,
    () => tip({}).sideways,
    0.005,
  ),
  row(
    'sideways',
    GEOMETRY,
    'derived',
    'the same, centre 30 mm to the left: atan(260 / 650)',
    21.8,
    () => tip({ comLeftMm: 30 }).sideways,
    0.005,
  ),
  row(
    'elbow angle',
    UPPER_LIMB,
    'derived',
    'links 300 and 350 mm, shoulder to hand 499.0 mm',
    100,
    () => elbowAt(499.0),
    0.02,
  ),
  row(
    'elbow angle',
    UPPER_LIMB,
    'derived',
    'links 300 and 350 mm, shoulder to hand 533.2 mm',
    110,
    () => elbowAt(533.2),
    0.02,
  ),
  row(
    'elbow angle',
    UPPER_LIMB,
    'derived',
    'links 300 and 350 mm, shoulder to hand 563.5 mm',
    120,
    () => elbowAt(563.5),
    0.02,
  ),
  row('slope', ADA, 'read', '1:12 in degrees', 4.764, () => toDegrees(Math.atan(1 / 12)), 0.001),
  row(
    'slope force',
    `${ADA}; m g sin`,
    'derived',
    '90 kg on 1:12',
    73.3,
    () => slopeForceN(90, toDegrees(Math.atan(1 / 12))),
    0.05,
    'N',
  ),
  row(
    'two scales',
    GEOMETRY,
    'derived',
    'wheelbase 400 mm, 60 kg rear and 40 kg front: moments about the axle',
    160,
    () => measuredComAheadMm(400, 60, 40),
    1e-9,
    'mm',
  ),
]
