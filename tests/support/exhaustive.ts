import { type Catalogue, stepValues } from '../../src/chair/chair-model.ts'
import type { ResolvedSetUp } from '../../src/chair/set-up.ts'
import { axleAngles, widthAngles } from '../../src/fitting/angles.ts'
import { evaluateSetUp } from '../../src/fitting/evaluate.ts'
import { loadFrame, putOnWheels, type Sitter } from '../../src/fitting/loaded-chair.ts'
import type { Needs } from '../../src/fitting/needs.ts'
import type { Policy } from '../../src/fitting/policy.ts'
import {
  axleRule,
  cushionRule,
  depthRule,
  floorRule,
  footrestRule,
  modelRule,
  needsHoleAhead,
  sidewaysRule,
  widthRule,
} from '../../src/fitting/rules.ts'
import type { Candidate, ExcludedRow, Found } from '../../src/fitting/search.ts'
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
} from '../../src/fitting/wanted.ts'

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

/** Best first; ties in catalogue order of the chair as taken from stock. */
const rankedCandidates = (catalogue: Catalogue, bests: readonly Candidate[]): Candidate[] => {
  const stockOrder = ({ setUp: { model, seatWidthMm, depth, cushion } }: Candidate): number =>
    ((catalogue.models.indexOf(model) * 1000 + model.seatWidthsMm.indexOf(seatWidthMm)) * 1000 +
      model.seatDepths.indexOf(depth)) *
      1000 +
    model.cushions.indexOf(cushion)
  return bests
    .map(({ setUp, misfit }) => ({ setUp, misfit }))
    .sort((a, b) => a.misfit - b.misfit || stockOrder(a) - stockOrder(b))
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
  return {
    candidates: rankedCandidates(catalogue, [...bestByStock.values()]),
    excluded: [...excluded.values()],
    considered,
    ranked,
  }
}

/**
 * The same enumeration made as fast as one can without thinking about what depends on what: the person is posed once for
 * each frame and each angle worked out once for each axle and width; still every set-up is visited and its costs summed.
 * Gives the ranking; counts of the excluded are left to the plain enumeration.
 */
export const enumerateSharing = (sitter: Sitter, needs: Needs, catalogue: Catalogue, policy: Policy): Found => {
  const best = new Map<string, Candidate & { preference: number }>()
  let [considered, ranked] = [0, 0]
  const { person } = sitter
  for (const model of catalogue.models) {
    const feet = [...stepValues(model.footrest), null]
    const arms = model.armrest ? [...stepValues(model.armrest), null] : [null]
    const modelBroken = modelRule(sitter, model, policy)
    for (const cushion of model.cushions) {
      const c = cushion.loadedMm - model.seatSagMm
      const window = backWindow(person, needs, c, policy)
      const wantedArm = armrestWantedMm(needs, c)
      for (const height of model.seatHeights)
        for (const back of model.backHeights) {
          const frame = loadFrame(sitter, model, height, cushion, back.valueMm)
          const onAxles = model.axlePositions.map(axle => {
            const wheels = putOnWheels(frame, axle)
            return { axle, wheels, broken: axleRule(needs, axleAngles(frame, wheels, policy)) }
          })
          for (const seatWidthMm of model.seatWidthsMm) {
            const onWidths = onAxles.map(({ axle, wheels, broken }) => {
              const angles = widthAngles(sitter, needs, frame, wheels, seatWidthMm, policy)
              return { axle, wheels, angles, broken: broken ?? sidewaysRule(needs, angles) }
            })
            for (const depth of model.seatDepths)
              for (const [place, { axle, wheels, angles, broken }] of onWidths.entries()) {
                const preference = axlePreference(needs, model, axle, wheels, policy)
                const excluded =
                  modelBroken ??
                  widthRule(sitter, needs, model, seatWidthMm, policy) ??
                  depthRule(needs, depth.valueMm) ??
                  cushionRule(needs, cushion) ??
                  floorRule(needs, model, height, cushion) ??
                  broken ??
                  (needsHoleAhead(needs, model) && !onWidths.slice(place + 1).some(one => one.broken === undefined)
                    ? 'one-hole-back'
                    : undefined)
                const shared =
                  widthCost(needs, seatWidthMm, policy) +
                  depthCost(needs, depth.valueMm) +
                  cushionCost(needs, cushion) +
                  placeCost(sitter, needs, frame, wheels, height, cushion, policy) +
                  elbowCost(angles, policy) +
                  backCost(window, back.valueMm)
                for (const footrestLeftMm of feet)
                  for (const footrestRightMm of feet)
                    for (const armrestMm of arms) {
                      considered += 1
                      if (excluded) continue
                      if (footrestRule(needs, frame, wheels, 'left', footrestLeftMm)) continue
                      if (footrestRule(needs, frame, wheels, 'right', footrestRightMm)) continue
                      ranked += 1
                      const misfit =
                        shared +
                        footrestCost(needs, frame, 'left', footrestLeftMm) +
                        footrestCost(needs, frame, 'right', footrestRightMm) +
                        armrestCost(wantedArm, armrestMm)
                      const stock = `${model.key} ${seatWidthMm} ${depth.key} ${cushion.key}`
                      const known = best.get(stock)
                      if (
                        known &&
                        (known.preference < preference || (known.preference === preference && known.misfit <= misfit))
                      )
                        continue
                      const setUp = {
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
                      best.set(stock, { setUp, misfit, preference })
                    }
              }
          }
        }
    }
  }
  return { candidates: rankedCandidates(catalogue, [...best.values()]), excluded: [], considered, ranked }
}
