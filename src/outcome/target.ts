import { bodyOf } from '../body/measurements.ts'
import type { Person } from '../body/person.ts'
import { withoutSetAside } from '../body/plausibility.ts'
import type { CalendarDate } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import type { AsBuilt } from '../chair/as-built.ts'
import type { Catalogue } from '../chair/chair-model.ts'
import { type ChosenSetUp, type ResolvedSetUp, resolveSetUp, type SetUp, toSetUp } from '../chair/set-up.ts'
import type { MeasuredCentre } from '../fitting/angles.ts'
import { type Broken, evaluateSetUp } from '../fitting/evaluate.ts'
import { leastHarm } from '../fitting/least-harm.ts'
import { sitterOf } from '../fitting/loaded-chair.ts'
import { misfitPoints } from '../fitting/misfit.ts'
import { needsOf } from '../fitting/needs.ts'
import type { Policy } from '../fitting/policy.ts'
import { type Predicted, predictedOf } from '../fitting/recommend.ts'
import { bestSettings } from '../fitting/search.ts'
import type { OutOfTolerance } from '../fitting/setting-parts.ts'
import { type Settings, settingsOf } from '../fitting/settings.ts'
import { measuredComAheadMm } from '../fitting/stability.ts'
import type { Doubt } from '../reason.ts'
import { roundTo } from '../units.ts'

/** What the chosen chair is to be built to: the settings follow the facts, except those a person pinned. */
export interface Target {
  readonly setUp: SetUp
  readonly pinned: readonly (keyof SetUp)[]
  /** The first hard rule that it breaks on today's facts; a hold. */
  readonly broken: Broken | null
  readonly misfit: number | null
  readonly predicted: Predicted | null
  readonly outOfTolerance: readonly OutOfTolerance[]
  readonly settings: Settings | null
  /** Centre of mass from two scales under the wheels, replacing the model's. */
  readonly measuredComAheadMm: number | null
}

export type TargetAnswer =
  | { readonly type: 'none' }
  | { readonly type: 'not-in-catalogue'; readonly chosen: ChosenSetUp }
  /** Chair and size are known, the settings are not: measures are missing. */
  | { readonly type: 'missing-measures'; readonly chosen: ChosenSetUp; readonly needs: readonly string[] }
  | {
      readonly type: 'target'
      readonly target: Target
      readonly resolved: ResolvedSetUp
      readonly doubts: readonly Doubt[]
    }

const PINNABLE = ['seatHeight', 'axle', 'backHeight', 'footrestLeftMm', 'footrestRightMm', 'armrestMm'] as const

/** Works out the target of a case from the chosen chair and today's facts. */
export const targetOf = (
  view: CaseView,
  person: Person,
  doubts: readonly Doubt[],
  catalogue: Catalogue,
  policy: Policy,
  today: CalendarDate,
): TargetAnswer => {
  const chosen = view.values.chosenSetUp
  if (!chosen) return { type: 'none' }
  const model = catalogue.models.find(one => one.key === chosen.chair)
  const depth = model?.seatDepths.find(one => one.key === chosen.seatDepth)
  const cushion = model?.cushions.find(one => one.key === chosen.cushion)
  const known = (rows: readonly { readonly key: string }[] | undefined, key: string | undefined): boolean =>
    key === undefined || (rows ?? []).some(row => row.key === key)
  if (
    !model ||
    !depth ||
    !cushion ||
    !model.seatWidthsMm.includes(chosen.seatWidthMm) ||
    !known(model.seatHeights, chosen.seatHeight) ||
    !known(model.axlePositions, chosen.axle) ||
    !known(model.backHeights, chosen.backHeight)
  )
    return { type: 'not-in-catalogue', chosen }
  const pinned = PINNABLE.filter(key => chosen[key] !== undefined)
  const trusted = withoutSetAside(person, doubts)
  const { body, missing } = bodyOf(trusted, today)
  const stock = { model, depth, cushion, seatWidthMm: chosen.seatWidthMm }
  if (!body) {
    const whole = pinned.length === PINNABLE.length ? resolveSetUp(catalogue, chosen as SetUp) : undefined
    const needs = missing.filter(one => one.effect === 'no-options').map(one => one.field)
    if (!whole) return { type: 'missing-measures', chosen, needs }
    const target: Target = {
      setUp: toSetUp(whole),
      pinned,
      broken: null,
      misfit: null,
      predicted: null,
      outOfTolerance: [],
      settings: null,
      measuredComAheadMm: null,
    }
    return { type: 'target', target, resolved: whole, doubts: [] }
  }
  const sitter = sitterOf(trusted, body)
  const needs = needsOf(trusted, body, policy, view.values.acceptedGapWhy !== undefined)
  const { seatHeight, axle, backHeight, footrestLeftMm, footrestRightMm, armrestMm } = chosen
  const pins = Object.fromEntries(
    Object.entries({ seatHeight, axle, backHeight, footrestLeftMm, footrestRightMm, armrestMm }).filter(
      ([, value]) => value !== undefined,
    ),
  )
  const resolved = bestSettings(sitter, needs, stock, pins, policy) ?? leastHarm(sitter, needs, stock, pins, policy)
  if (!resolved) return { type: 'not-in-catalogue', chosen }
  const modelled = evaluateSetUp(sitter, needs, resolved, policy)
  const centre = measuredCentre(view, modelled.wheels.wheelbaseMm)
  const evaluation = centre ? evaluateSetUp(sitter, needs, resolved, policy, centre) : modelled
  const { settings, outOfTolerance } = settingsOf(sitter, needs, resolved, evaluation, policy)
  return {
    type: 'target',
    resolved,
    doubts: centre
      ? centreDoubts(
          centre,
          modelled.wheels.comAheadMm,
          modelled.axleAngles.errors.rearTyrePivotDeg,
          modelled.wheels.comHeightMm,
        )
      : [],
    target: {
      setUp: toSetUp(resolved),
      pinned,
      broken: evaluation.broken ?? null,
      misfit: misfitPoints(evaluation.misfit),
      predicted: predictedOf(needs, resolved, evaluation),
      outOfTolerance,
      settings,
      measuredComAheadMm: centre ? roundTo(centre.comAheadOfAxleMm, 1) : null,
    },
  }
}

const measuredCentre = (view: CaseView, wheelbaseMm: number): MeasuredCentre | undefined => {
  const { scaleFrontKg, scaleRearKg } = view.values
  if (scaleFrontKg === undefined || scaleRearKg === undefined || scaleFrontKg + scaleRearKg <= 0) return undefined
  return { comAheadOfAxleMm: measuredComAheadMm(wheelbaseMm, scaleRearKg, scaleFrontKg) }
}

/** A measured centre more than two standard errors from the model's says that something about body or chair is not as recorded. */
const centreDoubts = (
  centre: MeasuredCentre,
  modelMm: number,
  errorDeg: number,
  comHeightMm: number,
): readonly Doubt[] => {
  // One degree of the tyre pivot is about h pi / 180 of centre, x being small against h.
  const errorMm = (errorDeg * Math.PI * comHeightMm) / 180
  const gap = centre.comAheadOfAxleMm - modelMm
  if (Math.abs(gap) <= 2 * errorMm) return []
  return [
    {
      field: 'scaleRearKg',
      value: roundTo(centre.comAheadOfAxleMm, 1),
      likely: 'centre-differs-from-model',
      wouldBe: roundTo(modelMm, 1),
      setAside: false,
      reason: {
        rule: 'centre-differs-from-model',
        inputs: {
          measuredMm: roundTo(centre.comAheadOfAxleMm, 1),
          modelMm: roundTo(modelMm, 1),
          errorMm: roundTo(errorMm, 1),
        },
        source: 'statics',
      },
    },
  ]
}

/** What was read from the real chair. */
export const asBuiltOf = ({ values }: CaseView): AsBuilt => {
  const read: AsBuilt = {
    chair: values.builtChair,
    seatWidthMm: values.builtSeatWidthMm,
    seatDepthMm: values.builtSeatDepthMm,
    seatHeight: values.builtSeatHeight,
    axle: values.builtAxle,
    backHeightMm: values.builtBackHeightMm,
    cushion: values.builtCushion,
    footrestLeftMm: values.builtFootrestLeftMm,
    footrestRightMm: values.builtFootrestRightMm,
    armrestMm: values.builtArmrestMm,
    serialNumber: values.serialNumber,
  }
  return Object.fromEntries(Object.entries(read).filter(([, value]) => value !== undefined)) as AsBuilt
}
