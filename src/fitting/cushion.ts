import type { Skin } from '../body/person.ts'
import type { Cushion } from '../chair/chair-model.ts'

/**
 * The skin risks for which a pressure-relief cushion is needed: a present or past sore, no or reduced sensation, cannot
 * move to relieve, moisture. Guidance recalled from memory of teaching material; the cautious reading is taken.
 */
export const RELIEF_RISKS = ['presentSore', 'pastSore', 'reducedSensation', 'cannotReposition', 'moisture'] as const
export type ReliefRisk = (typeof RELIEF_RISKS)[number]

export const reliefNeededFor = (skin: Skin | undefined): readonly ReliefRisk[] =>
  RELIEF_RISKS.filter(risk => skin?.[risk] === true)

export const relievesEnough = (cushion: Cushion, risks: readonly ReliefRisk[]): boolean =>
  cushion.relief === 'pressure-relief' || risks.length === 0
