import { POSTURES, type Side } from '../body/person.ts'
import { type Point, seatPitch } from '../body/seated-body.ts'
import type { ChairModel, Cushion } from '../chair/chair-model.ts'
import { toRadians } from '../units.ts'
import type { AxleAngles, WidthAngles } from './angles.ts'
import { relievesEnough } from './cushion.ts'
import { carriedKg, type LoadedFrame, type OnWheels, type Sitter, turnAboutCaster } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'

/**
 * Hard rules, in the order in which they are asked: a set-up is excluded by the first it breaks, so that the excluded and
 * the ranked add up to all that the catalogue offers.
 */
export const HARD_RULES = [
  'posture-beyond-crew',
  'posture-beyond-model',
  'capacity',
  'width-too-narrow',
  'width-too-wide',
  'door',
  'depth-too-long',
  'depth-too-short',
  'cushion-relief',
  'floor-out-of-reach',
  'rearward',
  'forward',
  'sideways',
  'one-hole-back',
  'footplate-off',
  'footplate-in-the-way',
  'ground-clearance',
] as const
export type HardRule = (typeof HARD_RULES)[number]

const postureRank = (posture: (typeof POSTURES)[number]): number => POSTURES.indexOf(posture)
/** A model that does not say what postures it holds is taken to serve people who sit well. */
const DEFAULT_POSTURES: readonly (typeof POSTURES)[number][] = ['sits-well']

/** How near a guessed mass may come to the limit: within 20 kg of it a guess does not count (fitting review, part 4). */
export const GUESSED_MASS_RESERVE_KG = 20

export const modelRule = (sitter: Sitter, model: ChairModel, policy: Policy): HardRule | undefined => {
  const posture = sitter.person.posture
  if (posture && postureRank(posture) > postureRank(policy.crewCompetence)) return 'posture-beyond-crew'
  const holds = model.postures ?? DEFAULT_POSTURES
  if (posture && !holds.includes(posture) && postureRank(posture) > Math.max(...holds.map(postureRank)))
    return 'posture-beyond-model'
  const reserve = sitter.body.massGuessed ? GUESSED_MASS_RESERVE_KG : 0
  return carriedKg(sitter) + reserve > model.capacityKg ? 'capacity' : undefined
}

export const widthRule = (
  sitter: Sitter,
  needs: Needs,
  model: ChairModel,
  seatWidthMm: number,
  policy: Policy,
): HardRule | undefined => {
  if (seatWidthMm < needs.widthMm) return 'width-too-narrow'
  if (seatWidthMm - needs.widthMm > policy.width.greatestSlackMm) return 'width-too-wide'
  const door = sitter.person.narrowestDoorMm
  return door !== undefined && overallWidthMm(model, seatWidthMm, policy) > door ? 'door' : undefined
}

/** Overall width with the hands beside the rims. */
export const overallWidthMm = (model: ChairModel, seatWidthMm: number, policy: Policy): number =>
  seatWidthMm + model.overallWidthAddMm + policy.width.doorKnucklesMm

export const depthRule = (needs: Needs, seatDepthMm: number): HardRule | undefined => {
  const gap = needs.depthFromMm - seatDepthMm
  if (gap < needs.acceptedGapMm[0]) return 'depth-too-long'
  return gap > needs.acceptedGapMm[1] ? 'depth-too-short' : undefined
}

export const cushionRule = (needs: Needs, cushion: Cushion): HardRule | undefined =>
  relievesEnough(cushion, needs.reliefRisks) ? undefined : 'cushion-relief'

const underThighs = (model: ChairModel, cushion: Cushion): number =>
  (cushion.loadedFrontMm ?? cushion.loadedMm) - model.seatSagMm

/** Front rail above what a propelling foot asks (calf less what lies under the thigh), mm; negative: lower. */
export const frontRailOverMm = (
  needs: Needs,
  model: ChairModel,
  height: ChairModel['seatHeights'][number],
  cushion: Cushion,
): number | undefined =>
  needs.propellingCalfMm === undefined
    ? undefined
    : height.frontMm - (needs.propellingCalfMm - underThighs(model, cushion))

export const floorRule = (
  needs: Needs,
  model: ChairModel,
  height: ChairModel['seatHeights'][number],
  cushion: Cushion,
): HardRule | undefined => {
  const over = frontRailOverMm(needs, model, height, cushion)
  return over !== undefined && over > 0 ? 'floor-out-of-reach' : undefined
}

export const axleRule = (needs: Needs, angles: AxleAngles): HardRule | undefined => {
  if (angles.gate.rearwardDeg < needs.least.rearwardDeg) return 'rearward'
  return angles.gate.forwardDeg < needs.least.forwardDeg ? 'forward' : undefined
}

export const sidewaysRule = (needs: Needs, angles: WidthAngles): HardRule | undefined =>
  angles.gate.sidewaysDeg < needs.least.sidewaysDeg ? 'sideways' : undefined

/**
 * Limb loss or a child under 12 driving alone: one hole further back than the angles allow, or anti-tip wheels. A model
 * with a single hole has none to give; the advice for anti-tip wheels then stands in its reasons.
 */
export const needsHoleAhead = (needs: Needs, model: ChairModel): boolean =>
  needs.oneHoleBack && model.antiTip === undefined && model.axlePositions.length > 1

/** The plate's heel support at the end of its hanger, or `dropMm` below it, after a raised hole has turned the frame. */
export const plateAt = (frame: LoadedFrame, wheels: OnWheels, footrestMm: number, dropMm = 0): Point => {
  const { model, seat } = frame
  const pitch = seatPitch(seat)
  const lean = toRadians(seat.footrestForwardDeg)
  return turnAboutCaster(model, wheels.turn, {
    xMm: seat.referenceDepthMm * Math.cos(pitch) + footrestMm * Math.sin(lean),
    zMm: seat.frontMm - footrestMm * Math.cos(lean) - dropMm,
  })
}

/** Lowest point of plate or tube above the ground. */
export const groundClearanceMm = (frame: LoadedFrame, wheels: OnWheels, footrestMm: number): number =>
  plateAt(frame, wheels, footrestMm, frame.model.footplateDropMm).zMm

export const footrestRule = (
  needs: Needs,
  frame: LoadedFrame,
  wheels: OnWheels,
  side: Side,
  footrestMm: number | null,
): HardRule | undefined => {
  const support = needs.foot[side]
  const wantsPlate = support === 'plate' || support === 'other-propels'
  if (footrestMm === null) return wantsPlate ? 'footplate-off' : undefined
  if (!wantsPlate) return 'footplate-in-the-way'
  return groundClearanceMm(frame, wheels, footrestMm) < needs.groundClearanceMm ? 'ground-clearance' : undefined
}

/** Length of the foot as a share of stature (Drillis & Contini 1966). */
const FOOT_SHARE = 0.152

/** A foot beside the casters: heel and toe, height of its sole, and the space that a caster swings through, mm from S. */
export interface FootByCaster {
  readonly heelXMm: number
  readonly toeXMm: number
  readonly soleZMm: number
  readonly swingRearXMm: number
  readonly swingFrontXMm: number
}

/**
 * The heel lies 0.04 H behind the ankle and the sole 0.039 H below it (fitting review, part 3). A swung caster reaches
 * trail + radius either way from its stem.
 */
export const footByCaster = (frame: LoadedFrame, wheels: OnWheels, side: Side, statureMm: number): FootByCaster => {
  const { model } = frame
  const ankle = turnAboutCaster(model, wheels.turn, frame.joints.ankle[side])
  const heelXMm = ankle.xMm - 0.04 * statureMm
  const stemXMm = model.casterContactXMm + model.casterTrailMm
  const swingMm = model.casterTrailMm + model.casterRadiusMm
  return {
    heelXMm,
    toeXMm: heelXMm + FOOT_SHARE * statureMm,
    soleZMm: ankle.zMm - 0.039 * statureMm,
    swingRearXMm: stemXMm - swingMm,
    swingFrontXMm: stemXMm + swingMm,
  }
}

/**
 * Room between the foot and the space a caster swings through, mm; undefined where the foot stands above the casters: the
 * heel clears it in front, or the toes stay behind it on a chair whose casters stand ahead of the feet.
 */
export const heelToCasterMm = (
  frame: LoadedFrame,
  wheels: OnWheels,
  side: Side,
  statureMm: number,
): number | undefined => {
  const foot = footByCaster(frame, wheels, side, statureMm)
  if (foot.soleZMm >= 2 * frame.model.casterRadiusMm) return undefined
  return Math.max(foot.heelXMm - foot.swingFrontXMm, foot.swingRearXMm - foot.toeXMm)
}
