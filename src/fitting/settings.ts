import type { ResolvedSetUp } from '../chair/set-up.ts'
import type { Formula } from '../sum.ts'
import { roundTo } from '../units.ts'
import type { Evaluation } from './evaluate.ts'
import type { Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Setting } from './reason.ts'
import { armrestSetting, backSetting, footrestSetting } from './rest-settings.ts'
import { heelToCasterMm } from './rules.ts'
import { axleSetting, depthSetting, seatHeightSetting } from './seat-settings.ts'
import { type OutOfTolerance, reasonFor, recommended, tenthMm } from './setting-parts.ts'

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

const WIDTH_SUM: readonly Formula[] = ['wantedMm = hipWidthMm + clothingMm', 'slackMm = seatWidthMm - wantedMm']

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
          reasons: [reasonFor('under-four', { ageYears: body.ageYears ?? 0 }, 'jensen-1986-1989'), ...setting.reasons],
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
          reasonFor(
            'width-smallest-not-under',
            {
              hipWidthMm: tenthMm(body.hipWidthMm),
              clothingMm: tenthMm(needs.widthMm - body.hipWidthMm),
              wantedMm: tenthMm(needs.widthMm),
              seatWidthMm: setUp.seatWidthMm,
              slackMm: tenthMm(slack),
            },
            'who-basic-level',
            WIDTH_SUM,
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
          reasonFor(
            needs.reliefRisks.length > 0 ? 'relief-needed' : 'relief-not-needed',
            { risks: needs.reliefRisks.join(' '), relief: setUp.cushion.relief, loadedMm: setUp.cushion.loadedMm },
            'from-memory',
          ),
        ],
      ),
    ),
    seatHeight: judged(seatHeightSetting(needs, setUp, frame.seat.underThighsMm, policy)),
    axle: judged(axleSetting(sitter, needs, setUp, evaluation, policy)),
    backHeight: judged(backSetting(person, needs, setUp, c, policy, beyond)),
    footrestLeft: judged(footrestSetting(sitter, needs, setUp, evaluation, 'left', beyond)),
    footrestRight: judged(footrestSetting(sitter, needs, setUp, evaluation, 'right', beyond)),
    armrest: judged(armrestSetting(needs, setUp, c, beyond)),
  }
  return { settings, outOfTolerance: out }
}
