import type { Ground } from '../body/person.ts'
import type { AsBuilt } from '../chair/as-built.ts'
import { CHECK_KEYS, type CheckKey } from '../chair/chair-model.ts'
import { type ResolvedSetUp, settingTexts, toSetUp } from '../chair/set-up.ts'
import { groundOr } from '../fitting/policy.ts'
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
import { type PlannedStep, planSteps } from './steps.ts'
import { pressureFor, type TyrePressure } from './tyres.ts'

export interface BuildStep {
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

/** Keys in `listed` that come before a step, also through steps that are not listed. */
const listedBefore = (
  key: string,
  afterOf: ReadonlyMap<string, readonly string[]>,
  listed: ReadonlySet<string>,
): readonly string[] => {
  const seen = new Set<string>([key])
  const walk = (at: string): readonly string[] =>
    (afterOf.get(at) ?? []).flatMap(before => {
      if (seen.has(before)) return []
      seen.add(before)
      return listed.has(before) ? [before] : walk(before)
    })
  return walk(key)
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
): BuildStep => ({
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
  makesStale: CHECK_KEYS.filter(check => step.makesStale.includes(check) && target.model.checks.includes(check)),
  after: [],
  neededBy: [],
  needsSecondName: step.cannotBeUndone,
  against,
})

/** Fills in which of the steps still to do wait for which. */
const linked = (steps: readonly BuildStep[], planned: readonly PlannedStep[]): readonly BuildStep[] => {
  const listed = new Set(steps.map(step => step.key))
  const afterOf = new Map(planned.map(step => [step.key, step.after]))
  const withAfter = steps.map(step => ({ ...step, after: listedBefore(step.key, afterOf, listed) }))
  return withAfter.map(step => ({
    ...step,
    neededBy: withAfter.filter(other => other.after.includes(step.key)).map(other => other.key),
  }))
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
  const steps = plan.steps.flatMap(step => {
    const stands = stateOfStep(step, changes, texts, model, done)
    return stands ? [stepOf(step, stands, target, stepAgainst(step, texts), groundOr(ground))] : []
  })
  const open = linked(
    steps.filter(step => step.state !== 'done'),
    plan.all,
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
