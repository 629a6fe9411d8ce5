import type { Person, Side } from '../body/person.ts'
import { stepValues } from '../chair/chair-model.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import type { Evaluation } from './evaluate.ts'
import type { Sitter } from './loaded-chair.ts'
import { DIMENSION_TOLERANCE_MM } from './misfit.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Setting } from './reason.ts'
import { footrestRule } from './rules.ts'
import { type OutOfTolerance, reasonFor, recommended, tenthMm } from './setting-parts.ts'
import { armrestWantedMm, backWindow, footrestWantedMm } from './wanted.ts'

type Beyond = (dimension: OutOfTolerance['dimension'], by: number) => void

export const backSetting = (
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
    reasonFor(
      `backrest-${needs.trunkNeed}`,
      {
        scapulaHeightMm: person.scapulaHeightMm ?? null,
        axillaHeightMm: person.axillaHeightMm ?? null,
        ribHeightMm: person.ribHeightMm ?? null,
        underSeatBonesMm: tenthMm(c),
        from: window.from,
        leastMm: Number.isFinite(window.leastMm) ? tenthMm(window.leastMm) : null,
        mostMm: tenthMm(window.mostMm),
      },
      window.from === 'axilla-stand-in' ? 'project-value' : 'who-basic-level',
      `at most ${tenthMm(window.mostMm)}${Number.isFinite(window.leastMm) ? `, at least ${tenthMm(window.leastMm)}` : ''}`,
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
      wanted: tenthMm(window.prefer === 'highest' ? window.mostMm : (window.leastMm + window.mostMm) / 2),
      nearest: value,
      reasons,
    }
  return recommended(value, range, reasons)
}

export const footrestSetting = (
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
        reasonFor(
          support === 'propels' ? 'plate-off-for-propelling-foot' : 'no-foot-to-support',
          { side },
          'who-basic-level',
        ),
      ],
    )
  const wanted = footrestWantedMm(needs, frame, side)
  const reasons = [
    reasonFor(
      'footrest-by-calf',
      {
        side,
        calfLengthMm: tenthMm(needs.calfMm[side]),
        underThighsMm: tenthMm(frame.seat.underThighsMm),
        wantedMm: tenthMm(wanted),
        leastGroundClearanceMm: needs.groundClearanceMm,
      },
      'who-basic-level',
      `${tenthMm(needs.calfMm[side])} - ${tenthMm(frame.seat.underThighsMm)} = ${tenthMm(needs.calfMm[side] - frame.seat.underThighsMm)}`,
    ),
  ]
  const knee = side === 'left' ? sitter.person.kneeExtensionLeftDeg : sitter.person.kneeExtensionRightDeg
  if (knee !== undefined && knee < setUp.model.footrestForwardDeg)
    return {
      type: 'judge',
      value,
      reasons: [
        reasonFor(
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
      reasons: [reasonFor('plate-beside-propelling-foot', { side }, 'project-value'), ...reasons],
    }
  const off = value === null ? 0 : Math.abs(value - wanted)
  beyond(side === 'left' ? 'footrestLeft' : 'footrestRight', off - DIMENSION_TOLERANCE_MM)
  if (off > DIMENSION_TOLERANCE_MM) return { type: 'outOfReach', wanted: tenthMm(wanted), nearest: value, reasons }
  const range = stepValues(setUp.model.footrest).filter(
    step =>
      Math.abs(step - wanted) <= DIMENSION_TOLERANCE_MM && footrestRule(needs, frame, wheels, side, step) === undefined,
  )
  return recommended(value, range, reasons)
}

export const armrestSetting = (needs: Needs, setUp: ResolvedSetUp, c: number, beyond: Beyond): Setting => {
  const wanted = armrestWantedMm(needs, c)
  if (!setUp.model.armrest)
    return recommended(null, [null], [reasonFor('model-without-armrest', { chair: setUp.model.key }, 'chair-papers')])
  if (wanted === undefined || needs.elbowRestMm === undefined) return { type: 'missing', needs: ['elbowHeightMm'] }
  const value = setUp.armrestMm
  const reasons = [
    reasonFor(
      'armrest-by-elbow',
      { elbowRestMm: tenthMm(needs.elbowRestMm), underSeatBonesMm: tenthMm(c), wantedMm: tenthMm(wanted) },
      'who-basic-level',
      `${tenthMm(needs.elbowRestMm)} + ${tenthMm(c)} = ${tenthMm(wanted)}`,
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
    return { type: 'outOfReach', wanted: tenthMm(wanted), nearest: value ?? nearest, reasons }
  return recommended(
    value,
    steps.filter(step => Math.abs(step - wanted) <= DIMENSION_TOLERANCE_MM),
    reasons,
  )
}
