import type { Person } from '../body/person.ts'
import { seatPitch } from '../body/seated-body.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import { roundTo, toDegrees } from '../units.ts'
import { axleAngles } from './angles.ts'
import type { Evaluation } from './evaluate.ts'
import { putOnWheels, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Setting } from './reason.ts'
import { axleRule } from './rules.ts'
import { reasonFor, recommended, tenthMm } from './setting-parts.ts'

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
      `${tenthMm(needs.depthFromMm)} - ${setUp.depth.valueMm} = ${tenthMm(gap)}; right ${least} to ${most}`,
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

export const seatHeightSetting = (needs: Needs, setUp: ResolvedSetUp, underThighsMm: number): Setting => {
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
  const fits = setUp.model.seatHeights
    .filter(one => one.frontMm <= wanted && one.frontMm >= wanted - 15)
    .map(one => one.key)
  return recommended(setUp.height.key, fits, [
    reasonFor(
      'foot-reaches-floor',
      {
        calfLengthMm: tenthMm(needs.propellingCalfMm),
        underThighsMm: tenthMm(underThighsMm),
        wantedFrontMm: tenthMm(wanted),
        frontMm: setUp.height.frontMm,
      },
      'who-basic-level',
      `${tenthMm(needs.propellingCalfMm)} - ${tenthMm(underThighsMm)} = ${tenthMm(wanted)}, down to 15 lower; rail ${setUp.height.frontMm}`,
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
      ? needs.oneHoleBack
        ? 'axle-one-back-of-most-forward'
        : 'axle-most-forward'
      : needs.drive === 'feet'
        ? 'axle-rearmost'
        : 'axle-nearest-rear-share'
  const one = (value: number): number => roundTo(value, 1)
  const passing = setUp.model.axlePositions.filter(
    axle => axleRule(needs, axleAngles(frame, putOnWheels(frame, axle), policy)) === undefined,
  )
  const reasons = [
    reasonFor(
      rule,
      {
        comAheadOfAxleMm: one(wheels.comAheadMm),
        comHeightMm: one(wheels.comHeightMm),
        rearwardAfterErrorDeg: one(angles.gate.rearwardDeg),
        leastRearwardDeg: needs.least.rearwardDeg,
        forwardAfterErrorDeg: one(angles.gate.forwardDeg),
        leastForwardDeg: needs.least.forwardDeg,
        sidewaysAfterErrorDeg: one(across.gate.sidewaysDeg),
        leastSidewaysDeg: needs.least.sidewaysDeg,
        standardErrorDeg: one(angles.errors.rearTyrePivotDeg),
        ground: needs.ground,
        skill: needs.skill,
      },
      'team-policy',
      `rearward atan(${one(wheels.comAheadMm)} / ${one(wheels.comHeightMm)}), lowest case less ${policy.angles.standardErrors} SE = ${one(angles.gate.rearwardDeg)} >= ${needs.least.rearwardDeg}`,
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
