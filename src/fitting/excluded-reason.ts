import type { Catalogue } from '../chair/chair-model.ts'
import type { SourceKey } from '../sources.ts'
import type { Formula, SumInputs, WorkedReason } from '../sum.ts'
import { carriedKg, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import { GUESSED_MASS_RESERVE_KG, type HardRule } from './rules.ts'
import type { ExcludedRow } from './search.ts'
import { tenthMm } from './setting-parts.ts'

const CAPACITY_SUM: readonly Formula[] = ['shortByKg = carriedKg + reserveKg - capacityKg']
const NO_FORMULA: readonly Formula[] = []

/** How near the nearest came, in the unit of its rule; nothing where a rule has no measure. */
const shortInput = (rule: HardRule, shortBy: number): SumInputs => {
  switch (rule) {
    case 'capacity':
      return { shortByKg: shortBy }
    case 'rearward':
    case 'forward':
    case 'sideways':
      return { shortByDeg: shortBy }
    case 'posture-beyond-crew':
    case 'posture-beyond-model':
    case 'cushion-relief':
    case 'one-hole-back':
    case 'footplate-off':
    case 'footplate-in-the-way':
      return {}
    default:
      return { shortByMm: shortBy }
  }
}

/** Why a rule excluded set-ups of a chair: what it compares, and how near the nearest came. */
export const excludedReason = (row: ExcludedRow, catalogue: Catalogue, needs: Needs, sitter: Sitter): WorkedReason => {
  const at = (inputs: SumInputs, source: SourceKey, sum: readonly Formula[] = NO_FORMULA): WorkedReason => ({
    rule: row.rule,
    inputs: { ...inputs, ...shortInput(row.rule, row.shortBy) },
    source,
    sum,
  })
  const { ground, skill, least } = needs
  switch (row.rule) {
    case 'posture-beyond-crew':
    case 'posture-beyond-model':
      return at({ posture: sitter.person.posture ?? null }, 'who-2008')
    case 'capacity': {
      const model = catalogue.models.find(one => one.key === row.chair)
      return at(
        {
          capacityKg: model?.capacityKg ?? null,
          carriedKg: carriedKg(sitter),
          massGuessed: sitter.body.massGuessed,
          reserveKg: sitter.body.massGuessed ? GUESSED_MASS_RESERVE_KG : 0,
        },
        'chair-papers',
        CAPACITY_SUM,
      )
    }
    case 'width-too-narrow':
    case 'width-too-wide':
      return at({ wantedMm: tenthMm(needs.widthMm) }, 'who-basic-level')
    case 'door':
      return at({ narrowestDoorMm: sitter.person.narrowestDoorMm ?? null }, 'project-value')
    case 'depth-too-long':
    case 'depth-too-short':
      return at(
        {
          fromMm: tenthMm(needs.depthFromMm),
          from: needs.depthFrom,
          acceptedLeastMm: needs.acceptedGapMm[0],
          acceptedMostMm: needs.acceptedGapMm[1],
        },
        'who-basic-level',
      )
    case 'cushion-relief':
      return at({ risks: needs.reliefRisks.join(' ') }, 'from-memory')
    case 'floor-out-of-reach':
      return at({ calfLengthMm: needs.propellingCalfMm ?? null }, 'who-basic-level')
    case 'rearward':
      return at({ leastRearwardDeg: least.rearwardDeg, ground, skill }, 'team-policy')
    case 'forward':
      return at({ leastForwardDeg: least.forwardDeg, ground }, 'team-policy')
    case 'sideways':
      return at({ leastSidewaysDeg: least.sidewaysDeg, ground }, 'team-policy')
    case 'one-hole-back':
      return at(
        { limbLoss: (sitter.person.limbLoss ?? []).length > 0, ageYears: sitter.body.ageYears ?? null },
        'project-value',
      )
    case 'footplate-off':
    case 'footplate-in-the-way':
      return at({ left: needs.foot.left, right: needs.foot.right }, 'who-basic-level')
    case 'ground-clearance':
      return at({ leastGroundClearanceMm: needs.groundClearanceMm, ground }, 'project-value')
  }
}
