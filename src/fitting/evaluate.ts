import type { ResolvedSetUp } from '../chair/set-up.ts'
import { type AxleAngles, axleAngles, type MeasuredCentre, type WidthAngles, widthAngles } from './angles.ts'
import { carriedKg, type LoadedFrame, loadFrame, type OnWheels, putOnWheels, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import {
  axleRule,
  cushionRule,
  depthRule,
  floorRule,
  footrestRule,
  frontRailOverMm,
  GUESSED_MASS_RESERVE_KG,
  groundClearanceMm,
  type HardRule,
  modelRule,
  needsHoleAhead,
  overallWidthMm,
  sidewaysRule,
  widthRule,
} from './rules.ts'
import {
  armrestCost,
  armrestWantedMm,
  axlePreference,
  backCost,
  backWindow,
  cushionCost,
  depthCost,
  elbowCost,
  footrestCost,
  placeCost,
  widthCost,
} from './wanted.ts'

/** One whole set-up weighed for one person: the first hard rule it breaks, and its misfit in thousandths of a point. */
export interface Evaluation {
  readonly frame: LoadedFrame
  readonly wheels: OnWheels
  readonly axleAngles: AxleAngles
  readonly widthAngles: WidthAngles
  readonly broken: Broken | undefined
  /** Least first among the places for the axle. */
  readonly preference: number
  readonly misfit: number
  readonly costs: Readonly<Record<CostKey, number>>
}

export interface Broken {
  readonly rule: HardRule
  /** How far from passing: mm, deg or kg; 0 where there is no measure of it. */
  readonly shortBy: number
}

export type CostKey =
  | 'width'
  | 'depth'
  | 'cushion'
  | 'place'
  | 'elbow'
  | 'footrestLeft'
  | 'footrestRight'
  | 'back'
  | 'armrest'

export const evaluateSetUp = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  policy: Policy,
  measured?: MeasuredCentre,
): Evaluation => {
  const { model, height, cushion, axle, back, seatWidthMm } = setUp
  const frame = loadFrame(sitter, model, height, cushion, back.valueMm)
  const wheels = putOnWheels(frame, axle)
  const onAxle = axleAngles(frame, wheels, policy, measured)
  const onWidth = widthAngles(sitter, needs, frame, wheels, seatWidthMm, policy)
  const c = frame.seat.underSeatBonesMm
  const costs = {
    width: widthCost(needs, seatWidthMm, policy),
    depth: depthCost(needs, setUp.depth.valueMm),
    cushion: cushionCost(needs, cushion),
    place: placeCost(sitter, needs, frame, wheels, height, cushion, policy),
    elbow: elbowCost(onWidth, policy),
    footrestLeft: footrestCost(needs, frame, 'left', setUp.footrestLeftMm),
    footrestRight: footrestCost(needs, frame, 'right', setUp.footrestRightMm),
    back: backCost(backWindow(sitter.person, needs, c, policy), back.valueMm),
    armrest: armrestCost(armrestWantedMm(needs, c), setUp.armrestMm),
  }
  const rule =
    modelRule(sitter, model, policy) ??
    widthRule(sitter, needs, model, seatWidthMm, policy) ??
    depthRule(needs, setUp.depth.valueMm) ??
    cushionRule(needs, cushion) ??
    floorRule(needs, model, height, cushion) ??
    axleRule(needs, onAxle) ??
    sidewaysRule(needs, onWidth) ??
    (needsHoleAhead(needs, model) && !someHoleAheadPasses(sitter, needs, setUp, frame, policy)
      ? 'one-hole-back'
      : undefined) ??
    footrestRule(needs, frame, wheels, 'left', setUp.footrestLeftMm) ??
    footrestRule(needs, frame, wheels, 'right', setUp.footrestRightMm)
  return {
    frame,
    wheels,
    axleAngles: onAxle,
    widthAngles: onWidth,
    broken: rule && { rule, shortBy: shortBy(rule, sitter, needs, setUp, policy, frame, wheels, onAxle, onWidth) },
    preference: axlePreference(needs, model, axle, wheels, policy),
    misfit: Object.values(costs).reduce((sum, cost) => sum + cost, 0),
    costs,
  }
}

const someHoleAheadPasses = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  frame: LoadedFrame,
  policy: Policy,
): boolean => {
  const at = setUp.model.axlePositions.indexOf(setUp.axle)
  return setUp.model.axlePositions.slice(at + 1).some(axle => {
    const wheels = putOnWheels(frame, axle)
    return (
      axleRule(needs, axleAngles(frame, wheels, policy)) === undefined &&
      sidewaysRule(needs, widthAngles(sitter, needs, frame, wheels, setUp.seatWidthMm, policy)) === undefined
    )
  })
}

/** Rounded to hundredths, so that the nearest of many is the same number however it was come by. */
const hundredths = (value: number): number => (Number.isFinite(value) ? Math.round(value * 100) / 100 : 999)

export const shortOfModel = (rule: HardRule, sitter: Sitter, capacityKg: number): number =>
  rule === 'capacity'
    ? hundredths(carriedKg(sitter) + (sitter.body.massGuessed ? GUESSED_MASS_RESERVE_KG : 0) - capacityKg)
    : 0

export const shortOfWidth = (
  rule: HardRule,
  sitter: Sitter,
  needs: Needs,
  model: ResolvedSetUp['model'],
  seatWidthMm: number,
  policy: Policy,
): number => {
  if (rule === 'width-too-narrow') return hundredths(needs.widthMm - seatWidthMm)
  if (rule === 'width-too-wide') return hundredths(seatWidthMm - needs.widthMm - policy.width.greatestSlackMm)
  return hundredths(overallWidthMm(model, seatWidthMm, policy) - (sitter.person.narrowestDoorMm ?? 0))
}

export const shortOfDepth = (rule: HardRule, needs: Needs, seatDepthMm: number): number => {
  const gap = needs.depthFromMm - seatDepthMm
  return hundredths(rule === 'depth-too-long' ? needs.acceptedGapMm[0] - gap : gap - needs.acceptedGapMm[1])
}

export const shortOfAngle = (
  rule: HardRule,
  needs: Needs,
  onAxle: AxleAngles,
  onWidth: WidthAngles | undefined,
): number => {
  if (rule === 'rearward') return hundredths(needs.least.rearwardDeg - onAxle.gate.rearwardDeg)
  if (rule === 'forward') return hundredths(needs.least.forwardDeg - onAxle.gate.forwardDeg)
  return rule === 'sideways' && onWidth ? hundredths(needs.least.sidewaysDeg - onWidth.gate.sidewaysDeg) : 0
}

export const shortOfFloor = (needs: Needs, setUp: Pick<ResolvedSetUp, 'model' | 'height' | 'cushion'>): number =>
  hundredths(frontRailOverMm(needs, setUp.model, setUp.height, setUp.cushion) ?? 0)

export const shortOfClearance = (
  rule: HardRule,
  needs: Needs,
  frame: LoadedFrame,
  wheels: OnWheels,
  footrestMm: number | null,
): number =>
  rule === 'ground-clearance' && footrestMm !== null
    ? hundredths(needs.groundClearanceMm - groundClearanceMm(frame, wheels, footrestMm))
    : 0

const shortBy = (
  rule: HardRule,
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  policy: Policy,
  frame: LoadedFrame,
  wheels: OnWheels,
  onAxle: AxleAngles,
  onWidth: WidthAngles,
): number => {
  switch (rule) {
    case 'posture-beyond-crew':
    case 'posture-beyond-model':
    case 'capacity':
      return shortOfModel(rule, sitter, setUp.model.capacityKg)
    case 'width-too-narrow':
    case 'width-too-wide':
    case 'door':
      return shortOfWidth(rule, sitter, needs, setUp.model, setUp.seatWidthMm, policy)
    case 'depth-too-long':
    case 'depth-too-short':
      return shortOfDepth(rule, needs, setUp.depth.valueMm)
    case 'floor-out-of-reach':
      return shortOfFloor(needs, setUp)
    case 'rearward':
    case 'forward':
    case 'sideways':
      return shortOfAngle(rule, needs, onAxle, onWidth)
    case 'footplate-off':
    case 'footplate-in-the-way':
    case 'ground-clearance': {
      const left = footrestRule(needs, frame, wheels, 'left', setUp.footrestLeftMm)
      return shortOfClearance(rule, needs, frame, wheels, left ? setUp.footrestLeftMm : setUp.footrestRightMm)
    }
    case 'cushion-relief':
    case 'one-hole-back':
      return 0
  }
}
