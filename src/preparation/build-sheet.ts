import type { Ground } from '../body/person.ts'
import type { AsBuilt } from '../chair/as-built.ts'
import { CHECK_KEYS, type CheckKey } from '../chair/chair-model.ts'
import { type ResolvedSetUp, settingTexts, toSetUp } from '../chair/set-up.ts'
import { groundOr } from '../fitting/policy.ts'
import { rememberedFor } from '../remembered.ts'
import type { SourceKey } from '../sources.ts'
import { changesFrom, isOtherChair, type SettingChange } from './built-difference.ts'
import { type Tightening, tighteningOf } from './fasteners.ts'
import {
  type Against,
  type StateOfStep,
  type StepState,
  type StepTick,
  stateOfStep,
  stepAgainst,
} from './step-state.ts'
import { type PlannedStep, planSteps, type StepPlan } from './steps.ts'
import { pressureFor, type TyrePressure } from './tyres.ts'

export interface BuildStep {
  /** Place in the whole sheet, from 1: what is done keeps its number, so that screen and paper say the same. */
  readonly number: number
  readonly key: string
  readonly title: string
  readonly source: SourceKey
  readonly state: StepState
  /** The settings that bring the step in, from what to what. Empty for what is done once for each chair. */
  readonly changes: readonly SettingChange[]
  readonly tools: readonly string[]
  readonly parts: readonly { readonly key: string; readonly title: string }[]
  readonly tightenings: readonly Tightening[]
  /** Pressures to aim for, on the step that inflates. */
  readonly pressures?: { readonly rear: TyrePressure; readonly caster: TyrePressure }
  /** Checks of this model that no longer hold once the step is done. */
  readonly makesStale: readonly CheckKey[]
  /** Keys of steps still to do that come first; and of those that wait for this one. */
  readonly after: readonly string[]
  readonly neededBy: readonly string[]
  /** It cannot be undone: not done until a second person's name stands with the tick. */
  readonly needsSecondName: boolean
  /** What to record with the tick. */
  readonly against: Against
}

/** What is wrong with the input, in words. The sheet is complete all the same. */
export interface SheetProblem {
  readonly type: 'steps-in-a-ring' | 'other-chair'
  readonly message: string
  /** The steps of the ring, or the chair that was read. */
  readonly names: readonly string[]
}

export interface BuildSheet {
  readonly chair: string
  /** What is still to do, in order. */
  readonly steps: readonly BuildStep[]
  /** What was ticked and holds for this set-up, in the same order. */
  readonly done: readonly BuildStep[]
  /** Every setting to be set, or not read yet. */
  readonly changes: readonly SettingChange[]
  readonly tools: readonly string[]
  readonly makesStale: readonly CheckKey[]
  readonly problems: readonly SheetProblem[]
}

const afterByKey = rememberedFor(
  (plan: StepPlan): ReadonlyMap<string, readonly string[]> => new Map(plan.all.map(step => [step.key, step.after])),
)

/** Keys in `listed` that come before a step, also through steps that are not listed. */
const listedBefore = (
  key: string,
  afterOf: ReadonlyMap<string, readonly string[]>,
  listed: ReadonlySet<string>,
): readonly string[] => {
  const seen = new Set<string>([key])
  const found: string[] = []
  const walk = (at: string): void => {
    for (const before of afterOf.get(at) ?? []) {
      if (seen.has(before)) continue
      seen.add(before)
      if (listed.has(before)) found.push(before)
      else walk(before)
    }
  }
  walk(key)
  return found
}

const partsOf = (step: PlannedStep, target: ResolvedSetUp): BuildStep['parts'] => {
  const keys = [...step.parts, ...(step.key === 'frame' ? (target.depth.adds ?? []) : [])]
  const parts = target.model.parts.filter(part => keys.includes(part.key))
  return step.key === 'cushion' ? [...parts, { key: target.cushion.key, title: target.cushion.title }] : parts
}

const problemsOf = (target: ResolvedSetUp, built: AsBuilt | undefined, ring: readonly string[]): SheetProblem[] => {
  const problems: SheetProblem[] = []
  if (ring.length > 0)
    problems.push({
      type: 'steps-in-a-ring',
      message: `The catalogue lets these steps of "${target.model.key}" wait for each other: ${ring.join(', ')}. All steps are listed; take these in the order that the chair allows, and have the catalogue put right.`,
      names: ring,
    })
  if (isOtherChair(target, built) && built?.chair !== undefined)
    problems.push({
      type: 'other-chair',
      message: `The chair read is "${built.chair}", the one chosen "${target.model.key}". What was read stays in the record; this sheet starts from a new chair.`,
      names: [built.chair],
    })
  return problems
}

const stepOf = (
  step: PlannedStep,
  stands: StateOfStep,
  target: ResolvedSetUp,
  against: Against,
  ground: Ground,
): Omit<BuildStep, 'number'> => ({
  key: step.key,
  title: step.title,
  source: step.source,
  ...stands,
  tools: step.tools,
  parts: partsOf(step, target),
  tightenings: step.fasteners.map(tighteningOf),
  ...(step.key === 'tyre-pressures' && {
    pressures: {
      rear: pressureFor(target.model.tyres.rear, ground),
      caster: pressureFor(target.model.tyres.caster, ground),
    },
  }),
  makesStale: step.makesStale,
  after: [],
  neededBy: [],
  needsSecondName: step.cannotBeUndone,
  against,
})

/** Fills in which of the steps still to do wait for which. */
const linked = (steps: readonly BuildStep[], plan: StepPlan): readonly BuildStep[] => {
  const afterOf = afterByKey(plan)
  const neededBy = new Map<string, string[]>(steps.map(step => [step.key, []]))
  const listed = new Set(neededBy.keys())
  const afters = steps.map(step => listedBefore(step.key, afterOf, listed))
  for (const [index, step] of steps.entries())
    for (const before of afters[index] ?? []) neededBy.get(before)?.push(step.key)
  return steps.map((step, index) => ({ ...step, after: afters[index] ?? [], neededBy: neededBy.get(step.key) ?? [] }))
}

const unique = <Item>(items: readonly Item[]): readonly Item[] => [...new Set(items)]

/**
 * The ordered work that makes this set-up of a chair. With `asBuilt` only the difference to the chair as read, whatever
 * was read; a setting not read yet is work. `done` are the ticks on record up to today (the
 * caller leaves out what is dated later): with them a step that follows from a setting
 * stays on the sheet until it is ticked for the settings aimed at; without them only the readings speak. Ground unknown:
 * pressures as for mixed ground. Total: any reading and any catalogue that passes its schema gives a sheet.
 */
export const buildSheet = (
  target: ResolvedSetUp,
  asBuilt?: AsBuilt,
  done?: readonly StepTick[],
  ground?: Ground,
): BuildSheet => {
  const { model } = target
  const texts = settingTexts(toSetUp(target))
  const changes = changesFrom(target, asBuilt)
  const plan = planSteps(model)
  const steps = plan.steps
    .flatMap(step => {
      const stands = stateOfStep(step, changes, texts, model, done)
      return stands ? [stepOf(step, stands, target, stepAgainst(step, texts), groundOr(ground))] : []
    })
    .map((step, index): BuildStep => ({ ...step, number: index + 1 }))
  const open = linked(
    steps.filter(step => step.state !== 'done'),
    plan,
  )
  return {
    chair: model.key,
    steps: open,
    done: steps.filter(step => step.state === 'done'),
    changes: [...changes.values()],
    tools: unique(open.flatMap(step => step.tools)),
    makesStale: CHECK_KEYS.filter(check => open.some(step => step.makesStale.includes(check))),
    problems: problemsOf(target, asBuilt, plan.ring),
  }
}
