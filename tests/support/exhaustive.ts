import { type Catalogue, stepValues } from '../../src/chair/chair-model.ts'
import type { ResolvedSetUp } from '../../src/chair/set-up.ts'
import { evaluateSetUp } from '../../src/fitting/evaluate.ts'
import type { Sitter } from '../../src/fitting/loaded-chair.ts'
import type { Needs } from '../../src/fitting/needs.ts'
import type { Policy } from '../../src/fitting/policy.ts'
import type { Candidate, ExcludedRow, Found } from '../../src/fitting/search.ts'

/** Every set-up of a catalogue, in catalogue order: nothing is left out and nothing is shared between them. */
export function* everySetUp(catalogue: Catalogue): Generator<ResolvedSetUp> {
  for (const model of catalogue.models) {
    const feet = [...stepValues(model.footrest), null]
    const arms = model.armrest ? [...stepValues(model.armrest), null] : [null]
    for (const seatWidthMm of model.seatWidthsMm)
      for (const depth of model.seatDepths)
        for (const cushion of model.cushions)
          for (const height of model.seatHeights)
            for (const back of model.backHeights)
              for (const axle of model.axlePositions)
                for (const footrestLeftMm of feet)
                  for (const footrestRightMm of feet)
                    for (const armrestMm of arms)
                      yield {
                        model,
                        seatWidthMm,
                        depth,
                        cushion,
                        height,
                        back,
                        axle,
                        footrestLeftMm,
                        footrestRightMm,
                        armrestMm,
                      }
  }
}

/** The search's question answered by visiting every set-up: slow, and nothing to get wrong. */
export const enumerateCatalogue = (sitter: Sitter, needs: Needs, catalogue: Catalogue, policy: Policy): Found => {
  const bestByStock = new Map<string, Candidate & { preference: number }>()
  const excluded = new Map<string, { chair: string; rule: ExcludedRow['rule']; setUps: number; shortBy: number }>()
  let [considered, ranked] = [0, 0]
  for (const setUp of everySetUp(catalogue)) {
    considered += 1
    const { broken, preference, misfit } = evaluateSetUp(sitter, needs, setUp, policy)
    if (broken) {
      const key = `${setUp.model.key} ${broken.rule}`
      const row = excluded.get(key)
      if (!row) excluded.set(key, { chair: setUp.model.key, rule: broken.rule, setUps: 1, shortBy: broken.shortBy })
      else {
        row.setUps += 1
        row.shortBy = Math.min(row.shortBy, broken.shortBy)
      }
      continue
    }
    ranked += 1
    const stock = `${setUp.model.key} ${setUp.seatWidthMm} ${setUp.depth.key} ${setUp.cushion.key}`
    const best = bestByStock.get(stock)
    if (!best || preference < best.preference || (preference === best.preference && misfit < best.misfit))
      bestByStock.set(stock, { setUp, misfit, preference })
  }
  const candidates = [...bestByStock.values()].map(({ setUp, misfit }) => ({ setUp, misfit }))
  // Array.sort is stable: ties stay in catalogue order of their stock.
  const stockOrder = (candidate: Candidate): number => {
    const { model, seatWidthMm, depth, cushion } = candidate.setUp
    const m = catalogue.models.indexOf(model)
    return (
      ((m * 1000 + model.seatWidthsMm.indexOf(seatWidthMm)) * 1000 + model.seatDepths.indexOf(depth)) * 1000 +
      model.cushions.indexOf(cushion)
    )
  }
  candidates.sort((a, b) => a.misfit - b.misfit || stockOrder(a) - stockOrder(b))
  return { candidates, excluded: [...excluded.values()], considered, ranked }
}
