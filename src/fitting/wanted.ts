import type { Person, Side } from '../body/person.ts'
import { seatPitch } from '../body/seated-body.ts'
import { type ChairModel, type Cushion, stepValues } from '../chair/chair-model.ts'
import { toRadians } from '../units.ts'
import type { WidthAngles } from './angles.ts'
import { pushForceN, rearLoadShare } from './effort.ts'
import type { LoadedFrame, OnWheels, Sitter } from './loaded-chair.ts'
import { DIMENSION_TOLERANCE_MM, points, MISFIT_WEIGHTS as W } from './misfit.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import { frontRailOverMm, heelToCasterMm } from './rules.ts'

/** The window in which a back height serves, from S along the post; undefined when no trunk height was measured. */
export interface BackWindow {
  readonly leastMm: number
  readonly mostMm: number
  readonly from: 'scapula' | 'axilla-stand-in' | 'axilla-to-shoulder'
  /** Which end is preferred: the highest that leaves the shoulder blades free, or the middle of the support wanted. */
  readonly prefer: 'highest' | 'middle'
}

export const backWindow = (
  person: Person,
  needs: Needs,
  underSeatBonesMm: number,
  policy: Policy,
): BackWindow | undefined => {
  const c = underSeatBonesMm
  const rules = policy.backrest
  if (needs.trunkNeed === 'high') {
    if (person.axillaHeightMm === undefined || person.shoulderHeightMm === undefined) return undefined
    return {
      leastMm: person.axillaHeightMm - rules.belowAxillaMm + c,
      mostMm: person.shoulderHeightMm + c,
      from: 'axilla-to-shoulder',
      prefer: 'middle',
    }
  }
  const standIn = person.axillaHeightMm === undefined ? undefined : person.axillaHeightMm - rules.axillaToScapulaMm
  const scapula = person.scapulaHeightMm ?? standIn
  if (scapula === undefined) return undefined
  const from = person.scapulaHeightMm === undefined ? 'axilla-stand-in' : 'scapula'
  if (needs.trunkNeed === 'some')
    return {
      leastMm: scapula + c - rules.someSupportMm,
      mostMm: scapula + c + rules.someSupportMm,
      from,
      prefer: 'middle',
    }
  const mostMm = scapula + c - rules.belowScapulaMm
  const ribs =
    person.ribHeightMm === undefined ? Number.NEGATIVE_INFINITY : person.ribHeightMm + c - rules.belowScapulaMm
  return { leastMm: Math.min(ribs, mostMm), mostMm, from, prefer: 'highest' }
}

export const widthCost = (needs: Needs, seatWidthMm: number, policy: Policy): number => {
  const slack = seatWidthMm - needs.widthMm
  return points(W.widthSlack, slack - policy.width.rightSlackMm) + points(W.near, slack)
}

/** Within the right gaps the largest size is preferred. */
export const depthCost = (needs: Needs, seatDepthMm: number): number => {
  const gap = needs.depthFromMm - seatDepthMm
  const [least, most] = needs.rightGapMm
  return points(W.depthGap, Math.max(gap - most, least - gap)) + points(W.near, Math.min(gap, most) - least)
}

export const cushionCost = (needs: Needs, cushion: Cushion): number =>
  cushion.relief === 'pressure-relief' && needs.reliefRisks.length === 0 ? points(W.reliefNotNeeded, 1) : 0

/** Hanger length wanted on a side that has a plate: calf less what lies under the thigh; beside a propelling foot what clears the low front. */
export const footrestWantedMm = (needs: Needs, frame: LoadedFrame, side: Side): number => {
  const byCalf = needs.calfMm[side] - frame.seat.underThighsMm
  if (needs.foot[side] !== 'other-propels') return byCalf
  const clear =
    (frame.seat.frontMm - needs.groundClearanceMm - frame.model.footplateDropMm) /
    Math.cos(toRadians(frame.seat.footrestForwardDeg))
  return Math.min(byCalf, clear)
}

/** A tie between two steps goes to the shorter plate (sore or no sensation: the longer); half a thousandth's worth decides. */
const tieBreak = (value: number, wanted: number, longer: boolean): number =>
  value === wanted || value > wanted === longer ? 0 : 1

export const footrestCost = (needs: Needs, frame: LoadedFrame, side: Side, footrestMm: number | null): number => {
  if (footrestMm === null) return 0
  const wanted = footrestWantedMm(needs, frame, side)
  const off = Math.abs(footrestMm - wanted)
  return (
    points(W.footrest, off - DIMENSION_TOLERANCE_MM) +
    points(W.near, off) +
    tieBreak(footrestMm, wanted, needs.longerPlateOnTie)
  )
}

export const backCost = (window: BackWindow | undefined, backHeightMm: number): number => {
  if (!window) return 0
  const aim = window.prefer === 'highest' ? window.mostMm : (window.leastMm + window.mostMm) / 2
  return (
    points(W.backAbove, backHeightMm - window.mostMm) +
    points(W.backBelow, window.leastMm - backHeightMm) +
    points(W.near, Math.abs(backHeightMm - aim))
  )
}

export const armrestWantedMm = (needs: Needs, underSeatBonesMm: number): number | undefined =>
  needs.elbowRestMm === undefined ? undefined : needs.elbowRestMm + underSeatBonesMm

/** Elbow height cannot be inferred from stature: unmeasured, the armrest stays off and its setting says what is missing. */
export const armrestCost = (wantedMm: number | undefined, armrestMm: number | null): number => {
  if (wantedMm === undefined) return armrestMm === null ? 0 : points(W.armrestOff, 1)
  if (armrestMm === null) return points(W.armrestOff, 1)
  const off = Math.abs(armrestMm - wantedMm)
  return points(W.armrest, off - DIMENSION_TOLERANCE_MM) + points(W.near, off) + tieBreak(armrestMm, wantedMm, false)
}

/** Armrest values a model offers, and none. */
export const armrestValues = (model: ChairModel): readonly (number | null)[] =>
  model.armrest ? [...stepValues(model.armrest), null] : [null]

/** Footrest values a model offers on one side, and the hanger taken off. */
export const footrestValues = (model: ChairModel): readonly (number | null)[] => [...stepValues(model.footrest), null]

/** Cost of seat height with an axle position: heel room, front rail and slope for a propelling foot, rolling force, share. */
export const placeCost = (
  sitter: Sitter,
  needs: Needs,
  frame: LoadedFrame,
  wheels: OnWheels,
  height: ChairModel['seatHeights'][number],
  cushion: Cushion,
  policy: Policy,
): number => {
  const { model } = frame
  let cost = 0
  for (const side of ['left', 'right'] as const) {
    if (needs.foot[side] !== 'plate') continue
    const room = heelToCasterMm(frame, wheels, side, sitter.body.statureMm)
    if (room !== undefined) cost += points(W.heelToCaster, policy.footrest.heelToCasterMm - room)
  }
  const over = frontRailOverMm(needs, model, height, cushion)
  if (over !== undefined) {
    cost += points(W.frontRailLow, -over - policy.footrest.footPropulsionLowerMm)
    cost += points(W.seatSlope, (seatPitch(frame.seat) * 180) / Math.PI - 2)
  }
  const force = pushForceN({
    totalKg: wheels.totalKg,
    comAheadMm: wheels.comAheadMm,
    comHeightMm: wheels.comHeightMm,
    wheelbaseMm: wheels.wheelbaseMm,
    rearWheelRadiusMm: model.rearWheelRadiusMm,
    casterRadiusMm: model.casterRadiusMm,
    ground: needs.ground,
  })
  cost += points(W.pushForce, force)
  if (needs.drive === 'pushed') {
    const share = rearLoadShare(wheels.comAheadMm, wheels.comHeightMm, wheels.wheelbaseMm)
    cost += points(W.pushedShare, Math.abs(share - policy.pushedRearShare))
  }
  return cost
}

/** An arm that cannot reach the rim costs as much as one 60 degrees outside the window. */
const OUT_OF_REACH_DEG = 60

export const elbowCost = (angles: WidthAngles, policy: Policy): number => {
  if (angles.elbowDeg === null) return 0
  const [least, most] = policy.elbowDeg
  const off =
    angles.elbowDeg === 'outOfReach' ? OUT_OF_REACH_DEG : Math.max(least - angles.elbowDeg, angles.elbowDeg - most)
  return points(W.elbow, off)
}

/**
 * Which of several allowed places for the axle is wanted, least first: hands the most forward; feet the rearmost; pushed
 * the rear share nearest the policy's. Thousandths of a millimetre or of a share, whole, so that ties are ties.
 */
export const axlePreference = (
  needs: Needs,
  model: ChairModel,
  axle: ChairModel['axlePositions'][number],
  wheels: OnWheels,
  policy: Policy,
): number => {
  const [first, last] = [model.axlePositions[0], model.axlePositions[model.axlePositions.length - 1]]
  if (needs.drive === 'feet') return Math.round((axle.xMm - (first?.xMm ?? 0)) * 1000)
  if (needs.drive === 'hands') return Math.round(((last?.xMm ?? 0) - axle.xMm) * 1000)
  const share = rearLoadShare(wheels.comAheadMm, wheels.comHeightMm, wheels.wheelbaseMm)
  return Math.round(Math.abs(share - policy.pushedRearShare) * 1000)
}
