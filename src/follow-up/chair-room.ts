import type { CaseView } from '../case/case-view.ts'
import { type ChairModel, stepValues } from '../chair/chair-model.ts'
import type { SetUp } from '../chair/set-up.ts'
import { groundOr, type Policy } from '../fitting/policy.ts'
import { toRadians } from '../units.ts'

/** How much body the chair still holds, in mm. What is not known of the chair is absent. */
export interface ChairRoom {
  /** Thigh depth beyond which the gap behind the knee is more than the policy accepts. */
  readonly thighDepthMm?: number
  /** Widest hips or thighs that the seat takes, clothing allowed for. */
  readonly hipWidthMm?: number
  /** Calf length beyond which no footrest step is near enough. */
  readonly calfLengthMm?: number
}

interface Built {
  readonly seatDepthMm: number | undefined
  readonly seatWidthMm: number | undefined
  readonly model: ChairModel | undefined
  readonly cushion: ChairModel['cushions'][number] | undefined
  readonly railFrontMm: number | undefined
}

/** As read from the real chair; where nobody read it, as chosen. */
const builtOf = (view: CaseView, model: ChairModel | undefined, setUp: SetUp | undefined): Built => {
  const { values } = view
  const heightKey = values.builtSeatHeight ?? setUp?.seatHeight
  return {
    model,
    seatDepthMm: values.builtSeatDepthMm ?? model?.seatDepths.find(depth => depth.key === setUp?.seatDepth)?.valueMm,
    seatWidthMm: values.builtSeatWidthMm ?? setUp?.seatWidthMm,
    cushion: model?.cushions.find(cushion => cushion.key === (values.builtCushion ?? setUp?.cushion)),
    railFrontMm: model?.seatHeights.find(height => height.key === heightKey)?.frontMm,
  }
}

/**
 * Longest calf a footrest still serves: cushion front + the longest step that clears the ground + half a step (nearest
 * step; the tie goes to the shorter). The tilt of a raised axle is left out: under 5 mm at the footplate.
 */
const calfRoomMm = (built: Built, leastClearanceMm: number): number | undefined => {
  const { model, cushion, railFrontMm } = built
  if (!model || !cushion || railFrontMm === undefined) return undefined
  const lean = Math.cos(toRadians(model.footrestForwardDeg))
  const clears = (footrestMm: number): boolean =>
    railFrontMm - footrestMm * lean - model.footplateDropMm >= leastClearanceMm
  const longest = stepValues(model.footrest).findLast(clears)
  if (longest === undefined) return undefined
  return longest + model.footrest.stepMm / 2 + (cushion.loadedFrontMm ?? cushion.loadedMm)
}

const isFootPropelled = (view: CaseView): boolean =>
  (view.values.propulsion ?? []).some(one => one === 'left-foot' || one === 'right-foot')

/** What the chair as built still has room for, by the limits of the policy. `setUp` is of this model or absent. */
export const chairRoomOf = (
  view: CaseView,
  policy: Policy,
  model: ChairModel | undefined,
  setUp: SetUp | undefined,
): ChairRoom => {
  const built = builtOf(view, model, setUp)
  const gapMm = isFootPropelled(view) ? policy.depth.footPropulsionGapMm[1] : policy.depth.acceptedGapMm
  const clothingMm = view.values.climate ? policy.width.clothingMm[view.values.climate] : 0
  const calfMm = calfRoomMm(built, policy.footrest.groundClearanceMm[groundOr(view.values.ground)])
  return {
    ...(built.seatDepthMm === undefined ? {} : { thighDepthMm: built.seatDepthMm + gapMm }),
    ...(built.seatWidthMm === undefined ? {} : { hipWidthMm: built.seatWidthMm - clothingMm }),
    ...(calfMm === undefined ? {} : { calfLengthMm: calfMm }),
  }
}
