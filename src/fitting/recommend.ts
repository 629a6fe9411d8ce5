import { ageYearsOf, bodyOf, type Missing } from '../body/measurements.ts'
import { type Person, POSTURES } from '../body/person.ts'
import { doubtsOf, withoutSetAside } from '../body/plausibility.ts'
import type { CalendarDate } from '../calendar-date.ts'
import type { Catalogue } from '../chair/chair-model.ts'
import { type ResolvedSetUp, type SetUp, toSetUp } from '../chair/set-up.ts'
import type { Doubt } from '../reason.ts'
import type { Formula, SumInputs, WorkedReason } from '../sum.ts'
import { roundTo } from '../units.ts'
import { reliefNeededFor } from './cushion.ts'
import { downhillTurningNmm, pushForceN, rearLoadShare } from './effort.ts'
import { type Evaluation, evaluateSetUp } from './evaluate.ts'
import { excludedReason } from './excluded-reason.ts'
import { type Sitter, sitterOf } from './loaded-chair.ts'
import { misfitPoints } from './misfit.ts'
import { type Needs, needsOf } from './needs.ts'
import type { Policy } from './policy.ts'
import type { Hold } from './reason.ts'
import { groundClearanceMm } from './rules.ts'
import { type ExcludedRow, searchCatalogue } from './search.ts'
import type { OutOfTolerance } from './setting-parts.ts'
import { type Settings, settingsOf } from './settings.ts'
import type { TipAngle } from './stability.ts'
import { type Lever, leversFor } from './would-help.ts'

export interface Predicted {
  readonly totalKg: number
  readonly comAheadOfAxleMm: number
  readonly comHeightMm: number
  readonly comLeftMm: number
  readonly wheelbaseMm: number
  readonly rearLoadShare: number
  readonly rearTyrePivotDeg: TipAngle
  readonly rearAxlePivotDeg: TipAngle
  readonly antiTipDeg: TipAngle | null
  readonly forwardDeg: TipAngle
  readonly sidewaysDeg: TipAngle
  readonly elbowDeg: number | 'outOfReach' | null
  readonly groundClearanceMm: number | null
  /** Forces by both hands together. Their rolling part is from memory: for comparing set-ups, not for telling a person. */
  readonly effort: {
    readonly levelN: number
    readonly slopeDeg: number
    readonly upSlopeN: number
    /** Moment that turns the chair downhill on a cross slope of 2 deg, N m. */
    readonly downhillTurningNm: number
  }
  /** One standard error of each angle. Rearward and forward share most of theirs: do not add them up. */
  readonly standardErrors: {
    readonly rearTyrePivotDeg: number
    readonly rearAxlePivotDeg: number
    readonly forwardDeg: number
    readonly sidewaysDeg: number
    readonly elbowDeg: number | null
  }
}

export interface Option {
  readonly rank: number
  /** Points: 0 is a perfect fit by this rule set. */
  readonly misfit: number
  readonly chair: string
  readonly seatWidthMm: number
  readonly seatDepthMm: number
  readonly seatHeight: string
  readonly axle: string
  readonly backHeightMm: number
  readonly footrestLeftMm: number | null
  readonly footrestRightMm: number | null
  readonly armrestMm: number | null
  readonly cushion: string
  readonly setUp: SetUp
  readonly predicted: Predicted
  readonly outOfTolerance: readonly OutOfTolerance[]
  readonly settings: Settings
  readonly reasons: readonly WorkedReason[]
}

export interface Recommendation {
  readonly ruleSet: string
  readonly options: readonly Option[]
  readonly excluded: readonly (ExcludedRow & { readonly reason: WorkedReason })[]
  readonly considered: { readonly setUps: number; readonly ranked: number }
  readonly missing: readonly Missing[]
  readonly holds: readonly Hold[]
  readonly doubts: readonly Doubt[]
  /** Where tipping excludes everything: what would help, the gentlest first. Never the least bad set-up in silence. */
  readonly wouldHelp: readonly Lever[]
}

export interface RecommendOptions {
  /** How many options to work out in full; the ranking itself always weighs all. */
  readonly top?: number
  /** A person wrote why a gap of 20 to 29 mm behind the knee is right here. */
  readonly smallGapAccepted?: boolean
}

/**
 * Ranks every set-up of the catalogue for one person. An option is one chair as taken from stock (model, width, depth,
 * cushion) with the best settings for it; the set-ups that a hard rule excludes are counted with the rule and how near the
 * nearest came. Total: any subset of measures gives an answer that names what is missing; nothing is guessed in silence.
 */
export const recommend = (
  person: Person,
  catalogue: Catalogue,
  policy: Policy,
  today: CalendarDate,
  options: RecommendOptions = {},
): Recommendation => {
  const doubts = doubtsOf(person, today)
  const trusted = withoutSetAside(person, doubts)
  const { body, missing } = bodyOf(trusted, today)
  const holds = holdsOf(trusted, policy, today)
  const allMissing = [...missing, ...assumedAbout(trusted)]
  const empty = {
    ruleSet: policy.ruleSet,
    options: [],
    excluded: [],
    considered: { setUps: 0, ranked: 0 },
    missing: allMissing,
    holds,
    doubts,
    wouldHelp: [],
  }
  if (!body) return empty
  const sitter = sitterOf(trusted, body)
  const needs = needsOf(trusted, body, policy, options.smallGapAccepted === true)
  const found = searchCatalogue(sitter, needs, catalogue, policy)
  const top = found.candidates
    .slice(0, options.top ?? 10)
    .map((candidate, index) => optionOf(sitter, needs, candidate.setUp, policy, index + 1))
  return {
    ruleSet: policy.ruleSet,
    options: top,
    excluded: found.excluded.map(row => ({ ...row, reason: excludedReason(row, catalogue, needs, sitter) })),
    considered: { setUps: found.considered, ranked: found.ranked },
    missing: allMissing,
    holds,
    doubts,
    wouldHelp: found.candidates.length > 0 ? [] : leversFor(sitter, needs, catalogue, policy, found.excluded),
  }
}

/** Facts that nobody noted and the answer had to take a side on: the cautious one, named. */
const assumedAbout = (person: Person): readonly Missing[] => {
  const assumed: Missing[] = []
  const assume = (field: keyof Person, value: string): void => {
    if (person[field] === undefined) assumed.push({ field, effect: 'assumed', assumed: value })
  }
  if (!person.propulsion || person.propulsion.length === 0)
    assumed.push({ field: 'propulsion', effect: 'assumed', assumed: 'hands' })
  assume('skill', 'new')
  if (person.steepestSlopeDeg === undefined || person.ground === undefined) assume('ground', 'mixed')
  assume('posture', 'sits-well')
  if (person.posture === undefined) assume('trunkNeed', 'free')
  assume('climate', 'hot')
  if (person.skin === undefined) assumed.push({ field: 'skin', effect: 'assumed', assumed: 'no-risk-known' })
  for (const field of ['scapulaHeightMm', 'elbowHeightMm'] as const)
    if (person[field] === undefined) assumed.push({ field, effect: 'no-setting' })
  return assumed
}

const holdsOf = (person: Person, policy: Policy, today: CalendarDate): readonly Hold[] => {
  const holds: Hold[] = []
  const posture = person.posture
  if (posture && POSTURES.indexOf(posture) > POSTURES.indexOf(policy.crewCompetence))
    holds.push({
      key: 'posture-beyond-crew',
      refer: 'specialist-seating',
      reason: {
        rule: 'posture-beyond-crew',
        inputs: { posture, crewCompetence: policy.crewCompetence },
        source: 'who-2008',
      },
    })
  if (person.skin?.presentSore === true)
    holds.push({
      key: 'present-sore',
      refer: 'health',
      reason: {
        rule: 'present-sore',
        inputs: { reliefNeededFor: reliefNeededFor(person.skin).join(' ') },
        source: 'from-memory',
      },
    })
  const age = ageYearsOf(person, today)
  if (age !== undefined && age < 4)
    holds.push({
      key: 'under-four',
      refer: 'specialist-seating',
      reason: { rule: 'under-four', inputs: { ageYears: age }, source: 'jensen-1986-1989' },
    })
  return holds
}

const oneDecimal = <Value extends TipAngle | 'outOfReach' | null>(value: Value): Value =>
  (typeof value === 'number' ? roundTo(value, 1) : value) as Value

/** Cross slope at which the downhill turn is told: a usual road camber (project value). */
const CROSS_SLOPE_DEG = 2

export const predictedOf = (needs: Needs, setUp: ResolvedSetUp, evaluation: Evaluation): Predicted => {
  const { wheels, axleAngles, widthAngles, frame } = evaluation
  const clearances = [setUp.footrestLeftMm, setUp.footrestRightMm]
    .filter(value => value !== null)
    .map(value => groundClearanceMm(frame, wheels, value))
  return {
    totalKg: roundTo(wheels.totalKg, 1),
    comAheadOfAxleMm: roundTo(wheels.comAheadMm, 1),
    comHeightMm: roundTo(wheels.comHeightMm, 1),
    comLeftMm: roundTo(wheels.comLeftMm, 1),
    wheelbaseMm: roundTo(wheels.wheelbaseMm, 1),
    rearLoadShare: roundTo(rearLoadShare(wheels.comAheadMm, wheels.comHeightMm, wheels.wheelbaseMm), 3),
    rearTyrePivotDeg: oneDecimal(axleAngles.rearTyrePivotDeg),
    rearAxlePivotDeg: oneDecimal(axleAngles.rearAxlePivotDeg),
    antiTipDeg: oneDecimal(axleAngles.antiTipDeg),
    forwardDeg: oneDecimal(axleAngles.forwardDeg),
    sidewaysDeg: oneDecimal(widthAngles.sidewaysDeg),
    elbowDeg: oneDecimal(widthAngles.elbowDeg),
    groundClearanceMm: clearances.length > 0 ? roundTo(Math.min(...clearances), 1) : null,
    effort: effortOf(needs, setUp, evaluation),
    standardErrors: {
      rearTyrePivotDeg: roundTo(axleAngles.errors.rearTyrePivotDeg, 1),
      rearAxlePivotDeg: roundTo(axleAngles.errors.rearAxlePivotDeg, 1),
      forwardDeg: roundTo(axleAngles.errors.forwardDeg, 1),
      sidewaysDeg: roundTo(widthAngles.errors.sidewaysDeg, 1),
      elbowDeg: oneDecimal(widthAngles.errors.elbowDeg),
    },
  }
}

const effortOf = (needs: Needs, setUp: ResolvedSetUp, { wheels }: Evaluation): Predicted['effort'] => {
  const inputs = {
    totalKg: wheels.totalKg,
    comAheadMm: wheels.comAheadMm,
    comHeightMm: wheels.comHeightMm,
    wheelbaseMm: wheels.wheelbaseMm,
    rearWheelRadiusMm: setUp.model.rearWheelRadiusMm,
    casterRadiusMm: setUp.model.casterRadiusMm,
    ground: needs.ground,
  }
  return {
    levelN: roundTo(pushForceN(inputs), 0),
    slopeDeg: needs.slopeDeg,
    upSlopeN: roundTo(pushForceN({ ...inputs, slopeDeg: needs.slopeDeg }), 0),
    downhillTurningNm: roundTo(downhillTurningNmm(wheels.totalKg, CROSS_SLOPE_DEG, wheels.comAheadMm) / 1000, 1),
  }
}

const MISFIT_SUM: readonly Formula[] = [
  'misfitPoints = widthPoints + depthPoints + cushionPoints + placePoints + elbowPoints + footrestLeftPoints + footrestRightPoints + backPoints + armrestPoints',
]

const misfitInputs = ({ costs, misfit }: Evaluation): SumInputs => ({
  widthPoints: misfitPoints(costs.width),
  depthPoints: misfitPoints(costs.depth),
  cushionPoints: misfitPoints(costs.cushion),
  placePoints: misfitPoints(costs.place),
  elbowPoints: misfitPoints(costs.elbow),
  footrestLeftPoints: misfitPoints(costs.footrestLeft),
  footrestRightPoints: misfitPoints(costs.footrestRight),
  backPoints: misfitPoints(costs.back),
  armrestPoints: misfitPoints(costs.armrest),
  misfitPoints: misfitPoints(misfit),
})

const optionOf = (sitter: Sitter, needs: Needs, setUp: ResolvedSetUp, policy: Policy, rank: number): Option => {
  const evaluation = evaluateSetUp(sitter, needs, setUp, policy)
  const { settings, outOfTolerance } = settingsOf(sitter, needs, setUp, evaluation, policy)
  return {
    rank,
    misfit: misfitPoints(evaluation.misfit),
    chair: setUp.model.key,
    seatWidthMm: setUp.seatWidthMm,
    seatDepthMm: setUp.depth.valueMm,
    seatHeight: setUp.height.key,
    axle: setUp.axle.key,
    backHeightMm: setUp.back.valueMm,
    footrestLeftMm: setUp.footrestLeftMm,
    footrestRightMm: setUp.footrestRightMm,
    armrestMm: setUp.armrestMm,
    cushion: setUp.cushion.key,
    setUp: toSetUp(setUp),
    predicted: predictedOf(needs, setUp, evaluation),
    outOfTolerance,
    settings,
    reasons: [
      {
        rule: 'misfit',
        inputs: misfitInputs(evaluation),
        source: 'team-policy',
        sum: MISFIT_SUM,
      },
    ],
  }
}
