import * as z from 'zod'
import type { Catalogue, ChairModel, SettingKey } from './chair-model.ts'

const key = z.string().min(1).max(40)
const mmOrOff = z.number().nullable()

/** One chair model, its size and every setting. `null` millimetres: that part is taken off or the model has none. */
export const setUpSchema = z.strictObject({
  chair: key,
  seatWidthMm: z.number(),
  seatDepth: key,
  seatHeight: key,
  axle: key,
  backHeight: key,
  cushion: key,
  footrestLeftMm: mmOrOff,
  footrestRightMm: mmOrOff,
  armrestMm: mmOrOff,
})
export type SetUp = z.infer<typeof setUpSchema>

/**
 * What a person decides on: the chair, its size and cushion, as taken from stock. Settings named here are pinned by that
 * person; every other setting follows the recommendation for this chair, so that new facts move it and the checks made
 * for the old one go stale.
 */
export const chosenSetUpSchema = setUpSchema.partial().required({
  chair: true,
  seatWidthMm: true,
  seatDepth: true,
  cushion: true,
})
export type ChosenSetUp = z.infer<typeof chosenSetUpSchema>

/**
 * Each setting as text: what a check or a finished step was made for, and is compared with later. The size names the
 * chair, so that nothing made for one chair counts for another that happens to have the same settings.
 */
export const settingTexts = (setUp: SetUp): Readonly<Record<SettingKey, string>> => ({
  size: `${setUp.chair} ${setUp.seatWidthMm} x ${setUp.seatDepth}`,
  seatHeight: setUp.seatHeight,
  axle: setUp.axle,
  backHeight: setUp.backHeight,
  cushion: setUp.cushion,
  footrestLeft: textOfMm(setUp.footrestLeftMm),
  footrestRight: textOfMm(setUp.footrestRightMm),
  armrest: textOfMm(setUp.armrestMm),
})

const textOfMm = (value: number | null): string => (value === null ? 'off' : `${value}`)

/** The same set-up with its keys looked up: what mechanics and build sheets work on. */
export interface ResolvedSetUp {
  readonly model: ChairModel
  readonly seatWidthMm: number
  readonly depth: ChairModel['seatDepths'][number]
  readonly height: ChairModel['seatHeights'][number]
  readonly axle: ChairModel['axlePositions'][number]
  readonly back: ChairModel['backHeights'][number]
  readonly cushion: ChairModel['cushions'][number]
  readonly footrestLeftMm: number | null
  readonly footrestRightMm: number | null
  readonly armrestMm: number | null
}

/** Undefined when the catalogue does not (or no longer) offer this set-up. */
export const resolveSetUp = (catalogue: Catalogue, setUp: SetUp): ResolvedSetUp | undefined => {
  const model = catalogue.models.find(one => one.key === setUp.chair)
  const depth = model?.seatDepths.find(one => one.key === setUp.seatDepth)
  const height = model?.seatHeights.find(one => one.key === setUp.seatHeight)
  const axle = model?.axlePositions.find(one => one.key === setUp.axle)
  const back = model?.backHeights.find(one => one.key === setUp.backHeight)
  const cushion = model?.cushions.find(one => one.key === setUp.cushion)
  if (!model || !depth || !height || !axle || !back || !cushion) return undefined
  if (!model.seatWidthsMm.includes(setUp.seatWidthMm)) return undefined
  const { seatWidthMm, footrestLeftMm, footrestRightMm, armrestMm } = setUp
  return { model, seatWidthMm, depth, height, axle, back, cushion, footrestLeftMm, footrestRightMm, armrestMm }
}

/** The same set-up by its keys: what is kept, printed and compared. */
export const toSetUp = (resolved: ResolvedSetUp): SetUp => ({
  chair: resolved.model.key,
  seatWidthMm: resolved.seatWidthMm,
  seatDepth: resolved.depth.key,
  seatHeight: resolved.height.key,
  axle: resolved.axle.key,
  backHeight: resolved.back.key,
  cushion: resolved.cushion.key,
  footrestLeftMm: resolved.footrestLeftMm,
  footrestRightMm: resolved.footrestRightMm,
  armrestMm: resolved.armrestMm,
})
