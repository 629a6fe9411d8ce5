import type { Person } from '../body/person.ts'
import { seatPitch } from '../body/seated-body.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import type { Formula } from '../sum.ts'
import { roundTo, toDegrees } from '../units.ts'
import { axleAngles } from './angles.ts'
import type { Evaluation } from './evaluate.ts'
import { putOnWheels, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Setting } from './reason.ts'
import { axleRule, needsHoleAhead } from './rules.ts'
import { reasonFor, recommended, tenthMm } from './setting-parts.ts'

const DEPTH_SUM: readonly Formula[] = ['gapMm = fromMm - seatDepthMm']
const FRONT_SUM: readonly Formula[] = [
  'wantedFrontMm = calfLengthMm - underThighsMm',
  'lowestFrontMm = wantedFrontMm - lowerByMm',
]
const AFTER_ERROR: Formula = 'rearwardAfterErrorDeg = lowestRearwardDeg - standardErrors * standardErrorDeg'
const AXLE_SUM: readonly Formula[] = ['rearwardDeg = atan(comAheadOfAxleMm / comHeightMm)', AFTER_ERROR]
/** With anti-tip wheels on the ground the chair turns about them. */
const ANTI_TIP_SUM: readonly Formula[] = [
  'rearwardDeg = atan((comAheadOfAxleMm + antiTipBehindMm) / comHeightMm)',
  AFTER_ERROR,
]

export const depthSetting = (
  person: Person,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  gap: number,
): Setting => {
  const [least, most] = needs.rightGapMm
  const inputs = {
    fromMm: tenthMm(needs.depthFromMm),
    from: needs.depthFrom,
    seatDepthMm: setUp.depth.valueMm,
    gapMm: tenthMm(gap),
    rightLeastMm: least,
    rightMostMm: most,
  }
  const reasons = [
    reasonFor(
      gap > most || gap < least ? 'depth-gap-accepted' : 'depth-gap-right',
      inputs,
      'who-basic-level',
      DEPTH_SUM,
    ),
  ]
  const range = setUp.model.seatDepths
    .filter(one => needs.depthFromMm - one.valueMm >= least && needs.depthFromMm - one.valueMm <= most)
    .map(one => one.valueMm)
  // Hip flexion asked by the seat: 180 less the angle between seat and back line.
  const asked = 90 - setUp.model.backReclineDeg + toDegrees(seatPitch(evaluation.frame.seat))
  const flexion = [person.hipFlexionLeftDeg, person.hipFlexionRightDeg].filter(value => value !== undefined)
  if (flexion.some(value => value < asked))
    return {
      type: 'judge',
      value: setUp.depth.valueMm,
      reasons: [
        reasonFor(
          'hips-bend-less-than-seat',
          { hipFlexionDeg: Math.min(...flexion), seatAsksDeg: roundTo(asked, 1) },
          'who-basic-level',
        ),
        ...reasons,
      ],
    }
  return recommended(setUp.depth.valueMm, range, reasons)
}

export const seatHeightSetting = (
  needs: Needs,
  setUp: ResolvedSetUp,
  underThighsMm: number,
  policy: Policy,
): Setting => {
  const range = setUp.model.seatHeights.map(one => one.key)
  if (needs.propellingCalfMm === undefined)
    return recommended(setUp.height.key, range, [
      reasonFor(
        'seat-height-by-reach-and-effort',
        { rearMm: setUp.height.rearMm, frontMm: setUp.height.frontMm },
        'team-policy',
      ),
    ])
  const wanted = needs.propellingCalfMm - underThighsMm
  const lowerBy = policy.footrest.footPropulsionLowerMm
  const fits = setUp.model.seatHeights
    .filter(one => one.frontMm <= wanted && one.frontMm >= wanted - lowerBy)
    .map(one => one.key)
  return recommended(setUp.height.key, fits, [
    reasonFor(
      'foot-reaches-floor',
      {
        calfLengthMm: tenthMm(needs.propellingCalfMm),
        underThighsMm: tenthMm(underThighsMm),
        wantedFrontMm: tenthMm(wanted),
        lowerByMm: lowerBy,
        lowestFrontMm: tenthMm(wanted - lowerBy),
        frontMm: setUp.height.frontMm,
      },
      'who-basic-level',
      FRONT_SUM,
    ),
  ])
}

export const axleSetting = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  policy: Policy,
): Setting => {
  const { axleAngles: angles, widthAngles: across, frame, wheels } = evaluation
  const rule =
    needs.drive === 'hands'
      ? needsHoleAhead(needs, setUp.model)
        ? 'axle-one-back-of-most-forward'
        : 'axle-most-forward'
      : needs.drive === 'feet'
        ? 'axle-rearmost'
        : 'axle-nearest-rear-share'
  const one = (value: number): number => roundTo(value, 1)
  const { antiTip } = setUp.model
  const behindMm = antiTip ? wheels.axleXMm - antiTip.xMm : 0
  const passing = setUp.model.axlePositions.filter(
    axle => axleRule(needs, axleAngles(frame, putOnWheels(frame, axle), policy)) === undefined,
  )
  const reasons = [
    reasonFor(
      rule,
      {
        comAheadOfAxleMm: one(angles.rearward.comAheadMm),
        comHeightMm: one(wheels.comHeightMm),
        ...(antiTip ? { antiTipBehindMm: one(behindMm) } : {}),
        rearwardDeg: one(toDegrees(Math.atan((angles.rearward.comAheadMm + behindMm) / wheels.comHeightMm))),
        lowestRearwardDeg: one(angles.rearward.lowestDeg),
        standardErrors: policy.angles.standardErrors,
        standardErrorDeg: one(angles.rearward.errorDeg),
        rearwardAfterErrorDeg: one(angles.gate.rearwardDeg),
        leastRearwardDeg: needs.least.rearwardDeg,
        forwardAfterErrorDeg: one(angles.gate.forwardDeg),
        leastForwardDeg: needs.least.forwardDeg,
        sidewaysAfterErrorDeg: one(across.gate.sidewaysDeg),
        leastSidewaysDeg: needs.least.sidewaysDeg,
        ground: needs.ground,
        skill: needs.skill,
      },
      'team-policy',
      antiTip ? ANTI_TIP_SUM : AXLE_SUM,
    ),
  ]
  if (needs.usesRims && typeof across.elbowDeg === 'number')
    reasons.push(
      reasonFor(
        'elbow-window',
        { elbowDeg: one(across.elbowDeg), leastDeg: policy.elbowDeg[0], mostDeg: policy.elbowDeg[1] },
        'upper-limb-2005',
      ),
    )
  if (needs.antiTipAdvised || (needs.oneHoleBack && setUp.model.axlePositions.length === 1))
    reasons.push(
      reasonFor(
        'anti-tip-advised',
        { fitted: setUp.model.antiTip !== undefined, ageYears: sitter.body.ageYears ?? null },
        'project-value',
      ),
    )
  return recommended(
    setUp.axle.key,
    passing.map(axle => axle.key),
    reasons,
  )
}
