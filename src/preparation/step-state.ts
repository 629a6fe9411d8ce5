import type { CalendarDate } from '../calendar-date.ts'
import type { ChairModel, SettingKey } from '../chair/chair-model.ts'
import { raiseChanges, type SettingChange } from './built-difference.ts'
import type { PlannedStep } from './steps.ts'

/** A step that somebody ticked: the value of a `stepDone` entry. */
export interface StepTick {
  readonly step: string
  readonly on: CalendarDate
  readonly against: { readonly [Setting in SettingKey]?: string | undefined }
  readonly secondName?: string | undefined
}

export const STEP_STATES = ['to-do', 'redo', 'second-name-missing', 'contradicted', 'done'] as const
/**
 * - `to-do`: nobody did it.
 * - `redo`: it was done, for other settings.
 * - `second-name-missing`: it cannot be undone, and no second person has put a name to it: not done.
 * - `contradicted`: it was ticked for these settings, but the chair as read is different: look again.
 * - `done`: ticked for exactly these settings.
 */
export type StepState = (typeof STEP_STATES)[number]

/** What to record with the tick of a step: the settings it was done for. What is done once is done for that chair. */
export type Against = Readonly<Partial<Record<SettingKey, string>>>

export const stepAgainst = (step: PlannedStep, texts: Readonly<Record<SettingKey, string>>): Against => {
  const settings: readonly SettingKey[] = step.settings.length > 0 ? step.settings : ['size']
  return Object.fromEntries(settings.map(setting => [setting, texts[setting]]))
}

/** Settings that a tick was made for and that are now to be otherwise. */
const tickChanges = (
  step: PlannedStep,
  tick: StepTick,
  texts: Readonly<Record<SettingKey, string>>,
  model: ChairModel,
): readonly SettingChange[] =>
  (Object.keys(stepAgainst(step, texts)) as SettingKey[]).flatMap(setting => {
    const from = tick.against[setting] ?? null
    const to = texts[setting]
    const isSame = from === to || (from === null && step.settings.length === 0)
    return isSame || isLevelMove(step, setting, from, to, model) ? [] : [{ setting, from, to }]
  })

/** An axle moved without being raised or lowered leaves the frame as it stands. */
const isLevelMove = (
  step: PlannedStep,
  setting: SettingKey,
  from: string | null,
  to: string,
  model: ChairModel,
): boolean => step.onlyWhenRaiseChanges && setting === 'axle' && from !== null && !raiseChanges(model, from, to)

/** The settings, as read from the chair, that bring this step in. */
export const readChanges = (
  step: PlannedStep,
  changes: ReadonlyMap<SettingKey, SettingChange>,
  model: ChairModel,
): readonly SettingChange[] =>
  step.settings.flatMap(setting => {
    const change = changes.get(setting)
    return change === undefined || isLevelMove(step, setting, change.from, change.to, model) ? [] : [change]
  })

/** `unknown`: the caller has no record of ticks, so that only the readings speak. */
type Ticked =
  | { readonly state: 'unknown' | 'none' | 'name-missing' | 'valid' }
  | { readonly state: 'outdated'; readonly changes: readonly SettingChange[] }

/** The ticks of the last day count: what was done since for other settings undoes what was done before. */
const tickedOf = (
  step: PlannedStep,
  texts: Readonly<Record<SettingKey, string>>,
  model: ChairModel,
  done: readonly StepTick[] | undefined,
): Ticked => {
  if (done === undefined) return { state: 'unknown' }
  const ticks = done.filter(tick => tick.step === step.key)
  const last = ticks.toSorted((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : 0))[0]
  if (last === undefined) return { state: 'none' }
  const matching = ticks.filter(tick => tick.on === last.on && tickChanges(step, tick, texts, model).length === 0)
  if (matching.length === 0) return { state: 'outdated', changes: tickChanges(step, last, texts, model) }
  const isNamed = !step.cannotBeUndone || matching.some(tick => (tick.secondName ?? '').trim() !== '')
  return { state: isNamed ? 'valid' : 'name-missing' }
}

export interface StateOfStep {
  readonly state: StepState
  /** The settings that bring it in. `from` null: new, not read yet, or never ticked. */
  readonly changes: readonly SettingChange[]
}

/**
 * How a step stands, from the chair as read and from the ticks; undefined when nothing is to do or to show. A reading
 * shows the step that sets it to be done, never the steps that follow from it: those want their tick.
 */
export const stateOfStep = (
  step: PlannedStep,
  changes: ReadonlyMap<SettingKey, SettingChange>,
  texts: Readonly<Record<SettingKey, string>>,
  model: ChairModel,
  done: readonly StepTick[] | undefined,
): StateOfStep | undefined => {
  const own = readChanges(step, changes, model)
  // Something to set, or not read yet. What is done once was done if every setting of the chair could be read.
  const isOnce = step.settings.length === 0
  const isOpen = isOnce ? [...changes.values()].some(change => change.from === null) : own.length > 0
  const differs = own.some(change => change.from !== null)
  const ticked = tickedOf(step, texts, model, done)
  const never = (): readonly SettingChange[] =>
    own.length > 0 ? own : step.settings.map(setting => ({ setting, from: null, to: texts[setting] }))

  switch (ticked.state) {
    case 'unknown':
      return isOpen ? { state: 'to-do', changes: own } : undefined
    case 'valid':
      return { state: differs ? 'contradicted' : 'done', changes: own }
    case 'name-missing':
      return { state: 'second-name-missing', changes: own }
    case 'none':
      if (step.cannotBeUndone && !isOpen) return { state: 'second-name-missing', changes: never() }
      return step.sets && !isOpen ? undefined : { state: 'to-do', changes: never() }
    case 'outdated':
      if (step.sets && !isOpen && !step.cannotBeUndone) return undefined
      return { state: 'redo', changes: own.length > 0 ? own : ticked.changes }
  }
}
