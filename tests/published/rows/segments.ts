import type { Body } from '../../../src/body/measurements.ts'
import { bodyOf } from '../../../src/body/measurements.ts'
import type { Person } from '../../../src/body/person.ts'
import { bodyMasses, centreOfBody, seatedJoints } from '../../../src/body/seated-body.ts'
import { ADULT_SEGMENTS, childSegments, LEG_ALONE, legParts, lostMassFraction } from '../../../src/body/segments.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { PublishedRow } from './row.ts'

const WINTER = 'Winter, Biomechanics and Motor Control of Human Movement, 2009, table 4.1 after Dempster 1955'
const JENSEN =
  'Jensen, body segment parameters of children, J Biomech 1986 and 1989: shares of head+neck, trunk, arm, thigh, leg, foot'
const row = (
  source: string,
  what: string,
  expected: number,
  actual: () => number,
  tolerance = 1e-9,
  unit = 'share',
): PublishedRow => ({
  rule: 'body segments',
  source,
  standing: 'read',
  what,
  expected,
  actual,
  tolerance,
  unit,
})

const TODAY = toCalendarDate('2026-11-25')
const bodyFor = (person: Person): Body => {
  const { body } = bodyOf(person, TODAY)
  if (!body) throw new Error('the row needs a whole body')
  return body
}

/**
 * The posture of the textbook sum: thighs level, lower legs and trunk upright, lengths of Drillis & Contini 1966 for a
 * stature of 1750 mm. Seat offsets are chosen so that hip to knee is 0.245 H, hip to shoulder 0.288 H, knee to ankle 0.246 H.
 */
const H = 1750
const TEXTBOOK: Person = {
  ageYears: 30,
  massKg: 75,
  statureMm: H,
  hipWidthMm: 370,
  thighDepthLeftMm: 0.285 * H,
  thighDepthRightMm: 0.285 * H,
  calfLengthLeftMm: 0.237 * H,
  calfLengthRightMm: 0.237 * H,
  shoeSoleMm: 0,
  shoulderHeightMm: 0.336 * H,
}
const FLAT_SEAT = {
  rearMm: 450,
  frontMm: 450,
  referenceDepthMm: 420,
  reclineDeg: 0,
  footrestForwardDeg: 0,
  backSagMm: 0,
  underSeatBonesMm: 40,
  underThighsMm: 40,
}
const fromHip = (axis: 'xMm' | 'zMm'): number => {
  const body = bodyFor(TEXTBOOK)
  const joints = seatedJoints(body, FLAT_SEAT)
  return centreOfBody(bodyMasses(TEXTBOOK, body, ADULT_SEGMENTS), joints, body.statureMm)[axis] - joints.hip[axis]
}
const sidewaysShift = (): number => {
  const person: Person = { ...TEXTBOOK, limbLoss: [{ side: 'left', level: 'transfemoral', remainingFraction: 0 }] }
  const body = bodyFor(person)
  return -centreOfBody(bodyMasses(person, body, ADULT_SEGMENTS), seatedJoints(body, FLAT_SEAT), body.statureMm).yMm
}
const midThigh = (side: 'left' | 'right') => ({ side, level: 'transfemoral' as const, remainingFraction: 0.5 })

/** Jensen's shares in percent: [head and neck, trunk, arm, forearm, hand, thigh, leg, foot]; each side counted twice. */
const JENSEN_PERCENT: readonly (readonly [
  age: number,
  shares: readonly [number, number, number, number, number, number, number, number],
])[] = [
  [6, [18.2, 43.0, 2.4, 1.3, 0.8, 8.5, 4.6, 1.9]],
  [12, [10.1, 41.7, 3.2, 1.7, 0.9, 11.0, 5.3, 2.1]],
  [15, [6.7, 41.6, 3.5, 1.7, 0.8, 12.1, 5.6, 2.1]],
]

export const SEGMENT_ROWS: readonly PublishedRow[] = [
  row(WINTER, 'head+arms+trunk, share of mass', 0.678, () => ADULT_SEGMENTS.headArmsTrunk.massFraction),
  row(WINTER, 'head+arms+trunk, centre from hip', 0.626, () => ADULT_SEGMENTS.headArmsTrunk.centreFraction),
  row(WINTER, 'thigh, share of mass', 0.1, () => ADULT_SEGMENTS.thigh.massFraction),
  row(WINTER, 'thigh, centre from hip', 0.433, () => ADULT_SEGMENTS.thigh.centreFraction),
  row(WINTER, 'leg and foot, share of mass', 0.061, () => ADULT_SEGMENTS.legAndFoot.massFraction),
  row(WINTER, 'leg and foot, centre from knee', 0.606, () => ADULT_SEGMENTS.legAndFoot.centreFraction),
  row(
    WINTER,
    'leg without foot, share of mass (ankle disarticulation leaves it)',
    0.0465,
    () => legParts(ADULT_SEGMENTS, { side: 'left', level: 'ankle-disarticulation' }).leg.massFraction,
  ),
  row(WINTER, 'leg without foot, centre from knee', 0.433, () => LEG_ALONE.centreFraction),
  row(WINTER, 'whole leg lost at the hip', 0.161, () =>
    lostMassFraction(ADULT_SEGMENTS, [{ side: 'left', level: 'hip-disarticulation' }], []),
  ),
  row(WINTER, 'foot lost at the ankle', 0.0145, () =>
    lostMassFraction(ADULT_SEGMENTS, [{ side: 'right', level: 'ankle-disarticulation' }], []),
  ),
  row(WINTER, 'whole arm and a forearm with hand lost', 0.072, () =>
    lostMassFraction(
      ADULT_SEGMENTS,
      [],
      [
        { side: 'left', level: 'whole-arm' },
        { side: 'right', level: 'below-elbow' },
      ],
    ),
  ),
  row(
    WINTER,
    'all segments add up to the body',
    1,
    () =>
      ADULT_SEGMENTS.headArmsTrunk.massFraction +
      2 * (ADULT_SEGMENTS.thigh.massFraction + ADULT_SEGMENTS.legAndFoot.massFraction),
  ),
  {
    ...row(
      'Segment shares of Winter 2009: both legs lost at mid-thigh, about 22 % of body mass',
      'mass lost',
      0.22,
      () => lostMassFraction(ADULT_SEGMENTS, [midThigh('left'), midThigh('right')], []),
      0.005,
    ),
    standing: 'from memory',
  },
  // Worked out by hand from the two textbook tables, x = (0.2 x 0.433 x 0.245 + 0.122 x 0.245) H and so on: 89.4 and 182.1 mm.
  {
    ...row(
      `${WINTER}; lengths of Drillis & Contini 1966, fig. 4.1`,
      'centre of mass ahead of the hip, seated upright, 1750 mm',
      89.4,
      () => fromHip('xMm'),
      0.1,
      'mm',
    ),
    standing: 'derived',
  },
  {
    ...row(
      `${WINTER}; lengths of Drillis & Contini 1966, fig. 4.1`,
      'centre of mass above the hip, seated upright, 1750 mm',
      182.1,
      () => fromHip('zMm'),
      0.1,
      'mm',
    ),
    standing: 'derived',
  },
  // 0.161 of the mass is gone at 0.05 H: 0.161 x 87.5 / 0.839 = 16.8 mm of the body; with a chair of 16 kg about 14.
  {
    ...row(WINTER, 'one leg lost at the hip side: the centre moves to the sound side', 16.8, sidewaysShift, 0.1, 'mm'),
    standing: 'derived',
  },
  ...JENSEN_PERCENT.flatMap(([age, [head, trunk, arm, forearm, hand, thigh, leg, foot]]): PublishedRow[] => {
    // The shares as printed add up to 100.0 within rounding (0.2); the set is rescaled to 1.
    const set = childSegments(age)
    return [
      row(
        JENSEN,
        `head, arms and trunk at ${age} years`,
        (head + trunk + 2 * (arm + forearm + hand)) / 100,
        () => set.headArmsTrunk.massFraction,
        0.003,
      ),
      row(JENSEN, `thigh at ${age} years`, thigh / 100, () => set.thigh.massFraction, 0.002),
      row(JENSEN, `leg and foot at ${age} years`, (leg + foot) / 100, () => set.legAndFoot.massFraction, 0.002),
    ]
  }),
]
