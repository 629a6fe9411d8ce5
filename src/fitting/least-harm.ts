import type { Side } from '../body/person.ts'
import { stepValues } from '../chair/chair-model.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import { evaluateSetUp } from './evaluate.ts'
import { loadFrame, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import { HARD_RULES } from './rules.ts'
import { cheapest, keyed, type Pins, type Stock, valuesOr } from './search.ts'
import { armrestCost, armrestValues, armrestWantedMm, backCost, backWindow, footrestCost } from './wanted.ts'

/**
 * Settings for a chair that none makes right: those that come furthest through the hard rules, then nearest to keeping
 * the one they break. For the build sheet and the hold to name, never to recommend.
 */
export const leastHarm = (
  sitter: Sitter,
  needs: Needs,
  stock: Stock,
  pins: Pins,
  policy: Policy,
): ResolvedSetUp | undefined => {
  const { model, cushion } = stock
  const underSeatBonesMm = cushion.loadedMm - model.seatSagMm
  const window = backWindow(sitter.person, needs, underSeatBonesMm, policy)
  const backs = keyed(model.backHeights, pins.backHeight)
  const arms = valuesOr(armrestValues(model), pins.armrestMm)
  const back = backs[cheapest(backs, one => backCost(window, one.valueMm)).index]
  const armrestMm =
    arms[cheapest(arms, one => armrestCost(armrestWantedMm(needs, underSeatBonesMm), one)).index] ?? null
  if (!back) return undefined
  const plate = (side: Side, height: ResolvedSetUp['height'], pinned: number | null | undefined): number | null => {
    if (pinned !== undefined) return pinned
    if (needs.foot[side] === 'propels' || needs.foot[side] === 'no-foot') return null
    const frame = loadFrame(sitter, model, height, cushion, back.valueMm)
    const plates = stepValues(model.footrest)
    return plates[cheapest(plates, one => footrestCost(needs, frame, side, one)).index] ?? null
  }
  let best: { setUp: ResolvedSetUp; passed: number; shortBy: number } | undefined
  for (const height of keyed(model.seatHeights, pins.seatHeight))
    for (const axle of keyed(model.axlePositions, pins.axle)) {
      const footrestLeftMm = plate('left', height, pins.footrestLeftMm)
      const footrestRightMm = plate('right', height, pins.footrestRightMm)
      const setUp = { ...stock, height, axle, back, footrestLeftMm, footrestRightMm, armrestMm }
      const { broken } = evaluateSetUp(sitter, needs, setUp, policy)
      const passed = broken ? HARD_RULES.indexOf(broken.rule) : HARD_RULES.length
      const shortBy = broken?.shortBy ?? 0
      if (!best || passed > best.passed || (passed === best.passed && shortBy < best.shortBy))
        best = { setUp, passed, shortBy }
    }
  return best?.setUp
}
