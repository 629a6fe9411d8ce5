import type { Person, Side } from '../body/person.ts'
import { seatPitch } from '../body/seated-body.ts'
import { stepValues } from '../chair/chair-model.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import type { Reason } from '../reason.ts'
import type { SourceKey } from '../sources.ts'
import { roundTo, toDegrees } from '../units.ts'
import { axleAngles } from './angles.ts'
import type { Evaluation } from './evaluate.ts'
import { putOnWheels, type Sitter } from './loaded-chair.ts'
import { DIMENSION_TOLERANCE_MM } from './misfit.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Setting } from './reason.ts'
import { axleRule, footrestRule, heelToCasterMm } from './rules.ts'
import { armrestWantedMm, backWindow, footrestWantedMm } from './wanted.ts'

export interface Settings {
  readonly seatWidth: Setting
  readonly seatDepth: Setting
  readonly cushion: Setting
  readonly seatHeight: Setting
  readonly axle: Setting
  readonly backHeight: Setting
  readonly footrestLeft: Setting
  readonly footrestRight: Setting
  readonly armrest: Setting
}

/** A dimension that the best set-up still misses by more than its tolerance, by how much. */
export interface OutOfTolerance {
  readonly dimension:
    | 'seatWidth'
    | 'seatDepth'
    | 'backHeight'
    | 'footrestLeft'
    | 'footrestRight'
    | 'armrest'
    | 'elbow'
    | 'heelToCaster'
  readonly by: number
  readonly unit: 'mm' | 'deg'
}

const mm = (value: number): number => roundTo(value, 1)
const reason = (rule: string, inputs: Reason['inputs'], source: SourceKey, sum?: string): Reason =>
  sum === undefined ? { rule, inputs, source } : { rule, inputs, source, sum }
const recommended = (
  value: number | string | null,
  range: readonly (number | string | null)[],
  reasons: readonly Reason[],
): Setting => ({
  type: 'recommended',
  value,
  range,
  reasons,
})

/** Everything that explains one set-up: each setting with its range and the sums it came from. */
export const settingsOf = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  policy: Policy,
): { settings: Settings; outOfTolerance: readonly OutOfTolerance[] } => {
  const { person, body } = sitter
  const { model } = setUp
  const { frame } = evaluation
  const c = frame.seat.underSeatBonesMm
  const out: OutOfTolerance[] = []
  const beyond = (dimension: OutOfTolerance['dimension'], by: number, unit: OutOfTolerance['unit'] = 'mm'): void => {
    if (by > 0) out.push({ dimension, by: roundTo(by, 1), unit })
  }
  const young = body.ageYears !== undefined && body.ageYears < 4
  const judged = (setting: Setting): Setting =>
    young && setting.type === 'recommended'
      ? {
          type: 'judge',
          value: setting.value,
          reasons: [reason('under-four', { ageYears: body.ageYears ?? 0 }, 'jensen-1986-1989'), ...setting.reasons],
        }
      : setting

  const slack = setUp.seatWidthMm - needs.widthMm
  beyond('seatWidth', slack - policy.width.rightSlackMm)
  const gap = needs.depthFromMm - setUp.depth.valueMm
  beyond('seatDepth', Math.max(gap - needs.rightGapMm[1], needs.rightGapMm[0] - gap))
  if (evaluation.widthAngles.elbowDeg !== null) {
    const elbow = evaluation.widthAngles.elbowDeg
    beyond(
      'elbow',
      elbow === 'outOfReach' ? 60 : Math.max(policy.elbowDeg[0] - elbow, elbow - policy.elbowDeg[1]),
      'deg',
    )
  }
  for (const side of ['left', 'right'] as const) {
    if (needs.foot[side] !== 'plate') continue
    const room = heelToCasterMm(frame, evaluation.wheels, side, body.statureMm)
    if (room !== undefined && !out.some(one => one.dimension === 'heelToCaster'))
      beyond('heelToCaster', policy.footrest.heelToCasterMm - room)
  }

  const settings: Settings = {
    seatWidth: judged(
      recommended(
        setUp.seatWidthMm,
        model.seatWidthsMm.filter(
          width => width >= needs.widthMm && width - needs.widthMm <= policy.width.rightSlackMm,
        ),
        [
          reason(
            'width-smallest-not-under',
            {
              hipWidthMm: body.hipWidthMm,
              clothingMm: mm(needs.widthMm - body.hipWidthMm),
              wantedMm: mm(needs.widthMm),
              slackMm: mm(slack),
            },
            'who-basic-level',
            `${mm(body.hipWidthMm)} + ${mm(needs.widthMm - body.hipWidthMm)} = ${mm(needs.widthMm)}; smallest size not under it: ${setUp.seatWidthMm}, slack ${mm(slack)}`,
          ),
        ],
      ),
    ),
    seatDepth: judged(depthSetting(person, needs, setUp, evaluation, gap)),
    cushion: judged(
      recommended(
        setUp.cushion.key,
        model.cushions
          .filter(one => needs.reliefRisks.length === 0 || one.relief === 'pressure-relief')
          .map(one => one.key),
        [
          reason(
            needs.reliefRisks.length > 0 ? 'relief-needed' : 'relief-not-needed',
            { risks: needs.reliefRisks.join(' '), relief: setUp.cushion.relief, loadedMm: setUp.cushion.loadedMm },
            'from-memory',
          ),
        ],
      ),
    ),
    seatHeight: judged(seatHeightSetting(needs, setUp, frame.seat.underThighsMm)),
    axle: judged(axleSetting(sitter, needs, setUp, evaluation, policy)),
    backHeight: judged(backSetting(person, needs, setUp, c, policy, beyond)),
    footrestLeft: judged(footrestSetting(sitter, needs, setUp, evaluation, 'left', beyond)),
    footrestRight: judged(footrestSetting(sitter, needs, setUp, evaluation, 'right', beyond)),
    armrest: judged(armrestSetting(person, setUp, c, beyond)),
  }
  return { settings, outOfTolerance: out }
}

type Beyond = (dimension: OutOfTolerance['dimension'], by: number) => void

const depthSetting = (
  person: Person,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  gap: number,
): Setting => {
  const [least, most] = needs.rightGapMm
  const inputs = {
    fromMm: mm(needs.depthFromMm),
    from: needs.depthFrom,
    seatDepthMm: setUp.depth.valueMm,
    gapMm: mm(gap),
    rightLeastMm: least,
    rightMostMm: most,
  }
  const reasons = [
    reason(
      gap > most || gap < least ? 'depth-gap-accepted' : 'depth-gap-right',
      inputs,
      'who-basic-level',
      `${mm(needs.depthFromMm)} - ${setUp.depth.valueMm} = ${mm(gap)}; right ${least} to ${most}`,
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
        reason(
          'hips-bend-less-than-seat',
          { hipFlexionDeg: Math.min(...flexion), seatAsksDeg: roundTo(asked, 1) },
          'who-basic-level',
        ),
        ...reasons,
      ],
    }
  return recommended(setUp.depth.valueMm, range, reasons)
}

const seatHeightSetting = (needs: Needs, setUp: ResolvedSetUp, underThighsMm: number): Setting => {
  const range = setUp.model.seatHeights.map(one => one.key)
  if (needs.propellingCalfMm === undefined)
    return recommended(setUp.height.key, range, [
      reason(
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
    reason(
      'foot-reaches-floor',
      {
        calfLengthMm: mm(needs.propellingCalfMm),
        underThighsMm: mm(underThighsMm),
        wantedFrontMm: mm(wanted),
        frontMm: setUp.height.frontMm,
      },
      'who-basic-level',
      `${mm(needs.propellingCalfMm)} - ${mm(underThighsMm)} = ${mm(wanted)}, down to 15 lower; rail ${setUp.height.frontMm}`,
    ),
  ])
}

const axleSetting = (
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
    reason(
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
      reason(
        'elbow-window',
        { elbowDeg: one(across.elbowDeg), leastDeg: policy.elbowDeg[0], mostDeg: policy.elbowDeg[1] },
        'upper-limb-2005',
      ),
    )
  if (needs.antiTipAdvised || (needs.oneHoleBack && setUp.model.axlePositions.length === 1))
    reasons.push(
      reason(
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

const backSetting = (
  person: Person,
  needs: Needs,
  setUp: ResolvedSetUp,
  c: number,
  policy: Policy,
  beyond: Beyond,
): Setting => {
  const window = backWindow(person, needs, c, policy)
  if (!window)
    return {
      type: 'missing',
      needs: needs.trunkNeed === 'high' ? ['axillaHeightMm', 'shoulderHeightMm'] : ['scapulaHeightMm'],
    }
  const value = setUp.back.valueMm
  const reasons = [
    reason(
      `backrest-${needs.trunkNeed}`,
      {
        scapulaHeightMm: person.scapulaHeightMm ?? null,
        axillaHeightMm: person.axillaHeightMm ?? null,
        ribHeightMm: person.ribHeightMm ?? null,
        underSeatBonesMm: mm(c),
        from: window.from,
        leastMm: Number.isFinite(window.leastMm) ? mm(window.leastMm) : null,
        mostMm: mm(window.mostMm),
      },
      window.from === 'axilla-stand-in' ? 'project-value' : 'who-basic-level',
      `at most ${mm(window.mostMm)}${Number.isFinite(window.leastMm) ? `, at least ${mm(window.leastMm)}` : ''}`,
    ),
  ]
  const off = Math.max(value - window.mostMm, window.leastMm - value)
  beyond('backHeight', off)
  const range = setUp.model.backHeights
    .map(one => one.valueMm)
    .filter(one => one >= window.leastMm && one <= window.mostMm)
  if (off > 0)
    return {
      type: 'outOfReach',
      wanted: mm(window.prefer === 'highest' ? window.mostMm : (window.leastMm + window.mostMm) / 2),
      nearest: value,
      reasons,
    }
  return recommended(value, range, reasons)
}

const footrestSetting = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  side: Side,
  beyond: Beyond,
): Setting => {
  const { frame, wheels } = evaluation
  const value = side === 'left' ? setUp.footrestLeftMm : setUp.footrestRightMm
  const support = needs.foot[side]
  if (support === 'propels' || support === 'no-foot')
    return recommended(
      null,
      [null],
      [
        reason(
          support === 'propels' ? 'plate-off-for-propelling-foot' : 'no-foot-to-support',
          { side },
          'who-basic-level',
        ),
      ],
    )
  const wanted = footrestWantedMm(needs, frame, side)
  const reasons = [
    reason(
      'footrest-by-calf',
      {
        side,
        calfLengthMm: mm(needs.calfMm[side]),
        underThighsMm: mm(frame.seat.underThighsMm),
        wantedMm: mm(wanted),
        leastGroundClearanceMm: needs.groundClearanceMm,
      },
      'who-basic-level',
      `${mm(needs.calfMm[side])} - ${mm(frame.seat.underThighsMm)} = ${mm(needs.calfMm[side] - frame.seat.underThighsMm)}`,
    ),
  ]
  const knee = side === 'left' ? sitter.person.kneeExtensionLeftDeg : sitter.person.kneeExtensionRightDeg
  if (knee !== undefined && knee < setUp.model.footrestForwardDeg)
    return {
      type: 'judge',
      value,
      reasons: [
        reason(
          'knee-straightens-less-than-hanger',
          { side, kneeExtensionDeg: knee, hangerDeg: setUp.model.footrestForwardDeg },
          'who-basic-level',
        ),
        ...reasons,
      ],
    }
  if (support === 'other-propels')
    return {
      type: 'judge',
      value,
      reasons: [reason('plate-beside-propelling-foot', { side }, 'project-value'), ...reasons],
    }
  const off = value === null ? 0 : Math.abs(value - wanted)
  beyond(side === 'left' ? 'footrestLeft' : 'footrestRight', off - DIMENSION_TOLERANCE_MM)
  if (off > DIMENSION_TOLERANCE_MM) return { type: 'outOfReach', wanted: mm(wanted), nearest: value, reasons }
  const range = stepValues(setUp.model.footrest).filter(
    step =>
      Math.abs(step - wanted) <= DIMENSION_TOLERANCE_MM && footrestRule(needs, frame, wheels, side, step) === undefined,
  )
  return recommended(value, range, reasons)
}

const armrestSetting = (person: Person, setUp: ResolvedSetUp, c: number, beyond: Beyond): Setting => {
  const wanted = armrestWantedMm(person, c)
  if (!setUp.model.armrest)
    return recommended(null, [null], [reason('model-without-armrest', { chair: setUp.model.key }, 'chair-papers')])
  if (wanted === undefined || person.elbowHeightMm === undefined) return { type: 'missing', needs: ['elbowHeightMm'] }
  const value = setUp.armrestMm
  const reasons = [
    reason(
      'armrest-by-elbow',
      { elbowHeightMm: person.elbowHeightMm, underSeatBonesMm: mm(c), wantedMm: mm(wanted) },
      'who-basic-level',
      `${person.elbowHeightMm} + ${mm(c)} = ${mm(wanted)}`,
    ),
  ]
  const steps = stepValues(setUp.model.armrest)
  const nearest = steps.reduce(
    (best, step) => (Math.abs(step - wanted) < Math.abs(best - wanted) ? step : best),
    steps[0] ?? 0,
  )
  const off = Math.abs((value ?? nearest) - wanted)
  beyond('armrest', off - DIMENSION_TOLERANCE_MM)
  if (value === null || off > DIMENSION_TOLERANCE_MM)
    return { type: 'outOfReach', wanted: mm(wanted), nearest: value ?? nearest, reasons }
  return recommended(
    value,
    steps.filter(step => Math.abs(step - wanted) <= DIMENSION_TOLERANCE_MM),
    reasons,
  )
}
