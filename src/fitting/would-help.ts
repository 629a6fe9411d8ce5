import type { Catalogue, ChairModel } from '../chair/chair-model.ts'
import { roundTo } from '../units.ts'
import { axleAngles } from './angles.ts'
import { loadFrame, putOnWheels, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import { cushionRule } from './rules.ts'
import type { ExcludedRow } from './search.ts'

export const LEVERS = ['thinner-cushion', 'less-recline', 'tighter-back', 'anti-tip', 'other-model'] as const

/** A change that would raise the rearward angle of the model that came nearest, and by how much. */
export interface Lever {
  readonly lever: (typeof LEVERS)[number]
  readonly chair: string
  /** By how much; null where it is another part or chair. */
  readonly by: { readonly mm: number } | { readonly deg: number } | null
  readonly gainDeg: number | null
  readonly shortByDeg: number
}

/** Sizes of the changes tried: project values, what a workshop can do. Anti-tip wheels are tried 200 mm behind the rearmost hole. */
const THINNER_MM = 20
const LESS_RECLINE_DEG = 4
const TIGHTER_BACK_MM = 15
const ANTI_TIP_BEHIND_MM = 200

/**
 * What would help when rearward tipping leaves no set-up, in the order in which to try it. Worked out on the model that
 * came nearest, with its rearmost hole, first seat height and the thinnest cushion that serves.
 */
export const leversFor = (
  sitter: Sitter,
  needs: Needs,
  catalogue: Catalogue,
  policy: Policy,
  excluded: readonly ExcludedRow[],
): readonly Lever[] => {
  const rows = excluded.filter(row => row.rule === 'rearward')
  const nearest = rows.reduce<ExcludedRow | undefined>(
    (best, row) => (best === undefined || row.shortBy < best.shortBy ? row : best),
    undefined,
  )
  const model = nearest && catalogue.models.find(one => one.key === nearest.chair)
  if (!nearest || !model) return []
  const serving = model.cushions.filter(cushion => cushionRule(needs, cushion) === undefined)
  const cushion = serving.reduce((thin, one) => (thin && thin.loadedMm <= one.loadedMm ? thin : one), serving[0])
  const [height, axle, back] = [model.seatHeights[0], model.axlePositions[0], model.backHeights[0]]
  if (!cushion || !height || !axle || !back) return []
  const gate = (changed: ChairModel, cut = 0): number => {
    const thinner = {
      ...cushion,
      loadedMm: Math.max(0, cushion.loadedMm - cut),
      loadedFrontMm: Math.max(0, (cushion.loadedFrontMm ?? cushion.loadedMm) - cut),
    }
    const frame = loadFrame(sitter, changed, height, thinner, back.valueMm)
    return axleAngles(frame, putOnWheels(frame, axle), policy).gate.rearwardDeg
  }
  const now = gate(model)
  const lever = (name: Lever['lever'], by: Lever['by'], after: number): Lever => ({
    lever: name,
    chair: model.key,
    by,
    gainDeg: Number.isFinite(after - now) ? roundTo(after - now, 1) : null,
    shortByDeg: nearest.shortBy,
  })
  const levers = [
    lever('thinner-cushion', { mm: THINNER_MM }, gate(model, THINNER_MM)),
    lever(
      'less-recline',
      { deg: LESS_RECLINE_DEG },
      gate({ ...model, backReclineDeg: model.backReclineDeg - LESS_RECLINE_DEG }),
    ),
    lever('tighter-back', { mm: TIGHTER_BACK_MM }, gate({ ...model, backSagMm: model.backSagMm - TIGHTER_BACK_MM })),
  ]
  if (!model.antiTip)
    levers.push(
      lever(
        'anti-tip',
        { mm: ANTI_TIP_BEHIND_MM },
        gate({ ...model, antiTip: { xMm: axle.xMm - ANTI_TIP_BEHIND_MM, clearanceMm: 40 } }),
      ),
    )
  return [
    ...levers,
    {
      lever: 'other-model',
      chair: model.key,
      by: null,
      gainDeg: null,
      shortByDeg: nearest.shortBy,
    },
  ]
}
