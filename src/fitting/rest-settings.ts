import type { Person, Side } from '../body/person.ts'
import { stepValues } from '../chair/chair-model.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import type { Formula, SumInputs } from '../sum.ts'
import type { Evaluation } from './evaluate.ts'
import type { Sitter } from './loaded-chair.ts'
import { DIMENSION_TOLERANCE_MM } from './misfit.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Setting } from './reason.ts'
import { footrestRule } from './rules.ts'
import { type OutOfTolerance, reasonFor, recommended, tenthMm } from './setting-parts.ts'
import { armrestWantedMm, type BackWindow, backWindow, footrestWantedMm } from './wanted.ts'

type Beyond = (dimension: OutOfTolerance['dimension'], by: number) => void

const FREE_SUM = {
  scapula: 'mostMm = scapulaHeightMm + underSeatBonesMm - belowScapulaMm',
  'axilla-stand-in': 'mostMm = axillaHeightMm - axillaToScapulaMm + underSeatBonesMm - belowScapulaMm',
} as const
const RIBS_SUM: Formula = 'leastMm = min(ribHeightMm + underSeatBonesMm - belowScapulaMm, mostMm)'
const SOME_SUM = {
  scapula: [
    'leastMm = scapulaHeightMm + underSeatBonesMm - someSupportMm',
    'mostMm = scapulaHeightMm + underSeatBonesMm + someSupportMm',
  ],
  'axilla-stand-in': [
    'leastMm = axillaHeightMm - axillaToScapulaMm + underSeatBonesMm - someSupportMm',
    'mostMm = axillaHeightMm - axillaToScapulaMm + underSeatBonesMm + someSupportMm',
  ],
} as const
const HIGH_SUM: readonly Formula[] = [
  'leastMm = axillaHeightMm - belowAxillaMm + underSeatBonesMm',
  'mostMm = shoulderHeightMm + underSeatBonesMm',
]

/** How the ends of the window come about, as `backWindow` has them. */
const backSum = ({ trunkNeed }: Needs, { from, leastMm }: BackWindow): readonly Formula[] => {
  if (from === 'axilla-to-shoulder') return HIGH_SUM
  if (trunkNeed === 'some') return SOME_SUM[from]
  return Number.isFinite(leastMm) ? [FREE_SUM[from], RIBS_SUM] : [FREE_SUM[from]]
}

const backInputs = (person: Person, { trunkNeed }: Needs, { from, leastMm }: BackWindow, policy: Policy): SumInputs => {
  const { scapulaHeightMm = null, axillaHeightMm = null, ribHeightMm = null, shoulderHeightMm = null } = person
  const { belowScapulaMm, axillaToScapulaMm, someSupportMm, belowAxillaMm } = policy.backrest
  if (from === 'axilla-to-shoulder') return { axillaHeightMm, shoulderHeightMm, belowAxillaMm }
  return {
    ...(from === 'scapula' ? { scapulaHeightMm } : { axillaHeightMm, axillaToScapulaMm }),
    ...(trunkNeed === 'some' ? { someSupportMm } : { belowScapulaMm }),
    ...(trunkNeed !== 'some' && Number.isFinite(leastMm) ? { ribHeightMm } : {}),
  }
}

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
        ...backInputs(person, needs, window, policy),
        underSeatBonesMm: tenthMm(c),
        from: window.from,
        ...(Number.isFinite(window.leastMm) ? { leastMm: tenthMm(window.leastMm) } : {}),
        mostMm: tenthMm(window.mostMm),
      },
      window.from === 'axilla-stand-in' ? 'project-value' : 'who-basic-level',
      backSum(needs, window),
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

const FOOTREST_SUM: readonly Formula[] = ['wantedMm = calfLengthMm - underThighsMm']
/** Beside a propelling foot, no longer than what clears the low front. */
const BESIDE_FOOT_SUM: readonly Formula[] = [
  'wantedMm = min(calfLengthMm - underThighsMm, (frontMm - leastGroundClearanceMm - footplateDropMm) / cos(hangerDeg))',
]

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
        ...(support === 'other-propels'
          ? {
              frontMm: tenthMm(frame.seat.frontMm),
              footplateDropMm: setUp.model.footplateDropMm,
              hangerDeg: frame.seat.footrestForwardDeg,
            }
          : {}),
        wantedMm: tenthMm(wanted),
        leastGroundClearanceMm: needs.groundClearanceMm,
      },
      'who-basic-level',
      support === 'other-propels' ? BESIDE_FOOT_SUM : FOOTREST_SUM,
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

const ARMREST_SUM: readonly Formula[] = ['wantedMm = elbowRestMm + underSeatBonesMm']

export const armrestSetting = (needs: Needs, setUp: ResolvedSetUp, c: number, beyond: Beyond): Setting => {
  const wanted = armrestWantedMm(needs, c)
  if (!setUp.model.armrest) return recommended(null, [null], [reasonFor('model-without-armrest', {}, 'chair-papers')])
  if (wanted === undefined || needs.elbowRestMm === undefined) return { type: 'missing', needs: ['elbowHeightMm'] }
  const value = setUp.armrestMm
  const reasons = [
    reasonFor(
      'armrest-by-elbow',
      { elbowRestMm: tenthMm(needs.elbowRestMm), underSeatBonesMm: tenthMm(c), wantedMm: tenthMm(wanted) },
      'who-basic-level',
      ARMREST_SUM,
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
