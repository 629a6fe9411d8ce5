import {
  CHECK_KEYS,
  type ChairModel,
  type CheckKey,
  type Fastener,
  type ModelStep,
  SETTING_KEYS,
  type SettingKey,
  type StandardStepKey,
} from '../chair/chair-model.ts'
import { rememberedFor } from '../remembered.ts'
import type { SourceKey } from '../sources.ts'
import { SETTINGS_OF_CHECK } from './check-settings.ts'
import { USUAL_AXLE_SPANNER_MM, USUAL_FRAME_SPANNER_MM } from './fasteners.ts'
import { orderSteps } from './step-order.ts'

/** Only chairs with this part need the step. */
type OnlyWith = 'armrest' | 'anti-tip' | 'pneumatic' | 'folding'

interface StandardStep {
  readonly key: StandardStepKey
  readonly title: string
  /** The settings that bring the step in; empty: once for each new chair. */
  readonly settings: readonly SettingKey[]
  readonly after: readonly StandardStepKey[]
  readonly tools: readonly string[]
  /** Spanner for the bolts of this step where the model names none. */
  readonly usualSpannerMm?: number
  /** Beyond the checks that depend on the settings this step sets. */
  readonly makesStale?: readonly CheckKey[]
  readonly onlyWith?: OnlyWith
  /** This step sets its setting: a reading of it from the chair shows that the step was done. Of others it shows nothing. */
  readonly sets?: true
  /** The axle brings this step in only when its height in the frame changes: then the frame turns. */
  readonly onlyWhenRaiseChanges?: true
}

/** The step between adjusting and trying. */
const TIGHTEN: StandardStepKey = 'tighten'

const ADJUSTED: readonly SettingKey[] = SETTING_KEYS.filter(setting => setting !== 'cushion')

/** The usual preparation of a chair (common practice, no source), in the order in which it is usually done. */
const STANDARD_STEPS: readonly StandardStep[] = [
  {
    key: 'unpack',
    title: 'Unpack, count the parts against the list, look for damage',
    settings: [],
    after: [],
    tools: ['knife'],
  },
  {
    key: 'frame',
    title: 'Build the frame to this seat width and depth',
    settings: ['size'],
    after: ['unpack'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    sets: true,
  },
  {
    key: 'seat-height',
    title: 'Set the seat height at the rear wheels and at the casters',
    settings: ['seatHeight'],
    after: ['frame'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    sets: true,
  },
  {
    key: 'rear-axle',
    title: 'Set the rear axle, the same hole on both sides',
    settings: ['axle'],
    after: ['frame', 'seat-height'],
    tools: ['tape'],
    usualSpannerMm: USUAL_AXLE_SPANNER_MM,
    sets: true,
  },
  {
    key: 'rear-wheels',
    title: 'Put the rear wheels on; tightened, they turn freely and do not rock',
    settings: ['axle'],
    after: ['rear-axle'],
    tools: [],
    usualSpannerMm: USUAL_AXLE_SPANNER_MM,
    makesStale: ['wheelsTurnFreely', 'axleNutsTight'],
  },
  {
    key: 'caster-stems',
    title: 'Set the caster stems upright again',
    settings: ['seatHeight', 'axle'],
    after: ['seat-height', 'rear-axle', 'rear-wheels'],
    tools: ['spirit level'],
    usualSpannerMm: USUAL_AXLE_SPANNER_MM,
    makesStale: ['castersTurnFreely', 'casterStemsUpright', 'rollsStraight'],
    onlyWhenRaiseChanges: true,
  },
  {
    key: 'tyre-pressures',
    title: 'Bring the tyres to pressure by gauge; valves straight and capped',
    settings: ['seatHeight', 'axle'],
    after: ['rear-wheels'],
    tools: ['pump', 'pressure gauge'],
    onlyWith: 'pneumatic',
  },
  {
    key: 'brakes',
    title: 'Set both brakes to the tyres: each goes on with one hand and holds',
    settings: ['seatHeight', 'axle'],
    // A soft tyre lies further from the brake than a hard one.
    after: ['rear-axle', 'rear-wheels', 'tyre-pressures'],
    tools: [],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    makesStale: ['brakesHold'],
  },
  {
    key: 'anti-tip',
    title: 'Set the anti-tip wheels, both sides alike',
    settings: ['seatHeight', 'axle'],
    after: ['rear-axle', 'rear-wheels', 'caster-stems'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    makesStale: ['antiTipSet', 'testRide', 'fitWhileMoving'],
    onlyWith: 'anti-tip',
  },
  {
    key: 'back-height',
    title: 'Set the back to its height',
    settings: ['backHeight'],
    after: ['frame'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    sets: true,
  },
  {
    key: 'back-tension',
    title: 'Tension the back straps evenly in the open chair, so that it still opens fully',
    settings: ['size', 'backHeight'],
    after: ['back-height'],
    tools: [],
    makesStale: ['backTensionEven', 'foldsAndOpens'],
  },
  {
    key: 'cushion',
    title: 'Lay the cushion in, front to the front, cover smooth',
    settings: ['cushion'],
    after: ['frame', 'back-tension'],
    tools: [],
    sets: true,
  },
  {
    key: 'footrest-left',
    title: 'Set the left footrest',
    settings: ['footrestLeft'],
    after: ['cushion', 'seat-height'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    sets: true,
  },
  {
    key: 'footrest-right',
    title: 'Set the right footrest',
    settings: ['footrestRight'],
    after: ['cushion', 'seat-height'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    sets: true,
  },
  {
    key: 'footrest-clearance',
    title: 'Measure the footrests to the ground and the heels to the turning casters',
    settings: ['seatHeight', 'axle', 'footrestLeft', 'footrestRight'],
    after: ['footrest-left', 'footrest-right', 'caster-stems', 'rear-wheels'],
    tools: ['tape'],
    makesStale: ['footrestsFirmAndClear'],
    onlyWhenRaiseChanges: true,
  },
  {
    key: 'armrest',
    title: 'Set both armrests to their height',
    settings: ['armrest'],
    after: ['frame', 'cushion'],
    tools: ['tape'],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
    onlyWith: 'armrest',
    sets: true,
  },
  {
    key: 'label',
    title: "Label the chair with the person's name and the serial number",
    settings: [],
    after: ['frame'],
    tools: ['marker'],
  },
  {
    key: 'tighten',
    title: 'Go over every bolt and nut that was touched',
    settings: ADJUSTED,
    after: [],
    tools: [],
    usualSpannerMm: USUAL_FRAME_SPANNER_MM,
  },
  {
    key: 'spin-and-roll',
    title: 'Spin each wheel and caster: free after tightening, no play; the chair rolls straight',
    settings: ['seatHeight', 'axle'],
    after: ['tighten'],
    tools: [],
  },
  {
    key: 'fold-and-open',
    title: 'Fold and open the chair fully, twice; nothing catches, nothing is sharp',
    settings: ADJUSTED,
    after: ['spin-and-roll'],
    tools: [],
    onlyWith: 'folding',
  },
  {
    key: 'test-ride',
    title: 'Test ride with a spotter behind the chair',
    settings: [...SETTING_KEYS],
    after: ['fold-and-open'],
    tools: [],
  },
]

const checksOf = (settings: readonly SettingKey[]): readonly CheckKey[] =>
  CHECK_KEYS.filter(check => settings.some(setting => SETTINGS_OF_CHECK[check].includes(setting)))

/** One step of preparing this chair model: the usual step, refined by the model's own, or the model's own alone. */
export interface PlannedStep {
  readonly key: string
  readonly title: string
  readonly source: SourceKey
  readonly settings: readonly SettingKey[]
  readonly after: readonly string[]
  readonly tools: readonly string[]
  readonly fasteners: readonly Fastener[]
  readonly parts: readonly string[]
  /** Checks of this model that no longer hold once the step is done, in the fixed order. */
  readonly makesStale: readonly CheckKey[]
  readonly cannotBeUndone: boolean
  /** Needs this chair to have the part that the step is about. */
  readonly applies: boolean
  readonly sets: boolean
  readonly onlyWhenRaiseChanges: boolean
}

const has = (model: ChairModel, part: OnlyWith | undefined): boolean => {
  if (part === 'armrest') return model.armrest !== undefined
  if (part === 'anti-tip') return model.antiTip !== undefined
  if (part === 'pneumatic') return model.tyres.rear !== 'solid' || model.tyres.caster !== 'solid'
  return part !== 'folding' || model.frame === 'folding'
}

const union = <Item>(...lists: readonly (readonly Item[] | undefined)[]): readonly Item[] => [
  ...new Set(lists.flatMap(list => list ?? [])),
]

const spannersOf = (fasteners: readonly Fastener[], usualMm: number | undefined): readonly string[] => {
  const sizes = fasteners.length > 0 ? fasteners.map(one => one.acrossFlatsMm) : usualMm ? [usualMm] : []
  return union(
    sizes.toSorted((a, b) => a - b).map(size => `spanner ${size} mm`),
    fasteners.length > 0 ? ['torque wrench'] : [],
  )
}

const fastenersOf = (model: ChairModel, own: ModelStep | undefined): readonly Fastener[] =>
  model.fasteners.filter(fastener => own?.fasteners?.includes(fastener.key))

/** The model's own step of the same key adds to the usual one; it takes nothing away. */
const refined = (model: ChairModel, usual: StandardStep, own: ModelStep | undefined): PlannedStep => {
  const settings = union(usual.settings, own?.settings)
  const fasteners = fastenersOf(model, own)
  return {
    key: usual.key,
    title: own?.title ?? usual.title,
    source: own ? 'chair-papers' : 'common-practice',
    settings,
    after: union(usual.after, own?.after),
    tools: union(usual.tools, own?.tools, spannersOf(fasteners, usual.usualSpannerMm)),
    fasteners,
    parts: own?.parts ?? [],
    makesStale: union(usual.sets ? checksOf(usual.settings) : [], usual.makesStale, own?.makesStale),
    cannotBeUndone: own?.cannotBeUndone ?? false,
    applies: own !== undefined || has(model, usual.onlyWith),
    sets: usual.sets ?? false,
    onlyWhenRaiseChanges: usual.onlyWhenRaiseChanges ?? false,
  }
}

/** A step that only this model has comes after unpacking, and before tightening unless it is to follow that. */
const ownAlone = (model: ChairModel, own: ModelStep): PlannedStep => {
  const fasteners = fastenersOf(model, own)
  return {
    key: own.key,
    title: own.title,
    source: 'chair-papers',
    settings: own.settings,
    after: union(['unpack'], own.after),
    tools: union(own.tools, spannersOf(fasteners, undefined)),
    fasteners,
    parts: own.parts ?? [],
    makesStale: own.makesStale ?? [],
    cannotBeUndone: own.cannotBeUndone ?? false,
    applies: true,
    sets: false,
    onlyWhenRaiseChanges: false,
  }
}

/** Keys of the steps that come after `first`, directly or not. */
const keysAfter = (first: string, steps: readonly PlannedStep[]): ReadonlySet<string> => {
  const late = new Set<string>()
  let found: readonly PlannedStep[] = steps
  while (found.length > 0) {
    found = steps.filter(step => !late.has(step.key) && step.after.some(key => key === first || late.has(key)))
    for (const step of found) late.add(step.key)
  }
  return late
}

/**
 * Every step that preparing this model may take, usual and own, those that do not apply too; not yet in order. Tightening
 * waits for all that is adjusted; what names it, or a step after it, follows.
 */
const allSteps = (model: ChairModel): readonly PlannedStep[] => {
  const usualKeys = new Set<string>(STANDARD_STEPS.map(step => step.key))
  const ownByKey = new Map(model.steps.map(step => [step.key, step]))
  const steps = [
    ...STANDARD_STEPS.map(usual => refined(model, usual, ownByKey.get(usual.key))),
    ...model.steps.filter(step => !usualKeys.has(step.key)).map(step => ownAlone(model, step)),
  ]
  const late = keysAfter(TIGHTEN, steps)
  const early = steps.map(step => step.key).filter(key => key !== TIGHTEN && !late.has(key))
  return steps.map(step => (step.key === TIGHTEN ? { ...step, after: union(step.after, early) } : step))
}

export interface StepPlan {
  /** Each step's prerequisites before it. */
  readonly steps: readonly PlannedStep[]
  /** With the steps for parts that this chair does not have: what comes before what is known through them too. */
  readonly all: readonly PlannedStep[]
  /** Keys of steps that wait for each other in a ring: a fault of the catalogue. Empty when all is well. */
  readonly ring: readonly string[]
}

/** The steps of preparing this chair model, in order. Remembered for each model. */
export const planSteps = rememberedFor((model: ChairModel): StepPlan => {
  const { ordered, ring } = orderSteps(allSteps(model))
  const all = ordered.map(step => ({
    ...step,
    makesStale: CHECK_KEYS.filter(check => step.makesStale.includes(check) && model.checks.includes(check)),
  }))
  return { steps: all.filter(step => step.applies), all, ring }
})
