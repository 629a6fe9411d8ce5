import type { Person } from '../body/person.ts'
import type { CalendarDate } from '../calendar-date.ts'
import { addMonths, completedMonths, earliest } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import { type FlatOutcome, type WeighedDifference, weighDifferences } from '../case/differences.ts'
import { fieldOf } from '../case/fields.ts'
import { personOf } from '../case/person-of.ts'
import { type CaseStage, stageOf } from '../case/stage.ts'
import type { Catalogue } from '../chair/chair-model.ts'
import type { Policy } from '../fitting/policy.ts'
import type { Hold } from '../fitting/reason.ts'
import { type Recommendation, recommend } from '../fitting/recommend.ts'
import { type Dues, dues } from '../follow-up/dues.ts'
import { type BuildSheet, buildSheet } from '../preparation/build-sheet.ts'
import { type CheckState, checkStates } from '../preparation/checks.ts'
import type { Doubt } from '../reason.ts'
import { FitMemory } from './fit-memory.ts'
import { differenceHolds, holdsOf } from './holds.ts'
import { asBuiltOf, type Target, type TargetAnswer, targetOf } from './target.ts'

/** Counts up whenever the same facts may give another outcome: devices say it on meeting, a handover states it. */
export const RULES_VERSION = 3

/** What an outcome takes from the casebook around the case. */
export interface CasebookContext {
  readonly catalogue: Catalogue
  readonly policy: Policy
}

/**
 * Everything derived from one case on one day. Never stored as truth, never entered: the same entries, context, date and
 * rules version give the same JSON text on every device.
 */
export interface Outcome {
  readonly rulesVersion: number
  readonly today: CalendarDate
  readonly stage: CaseStage['stage']
  /** Sections that still lack something before handover. */
  readonly next: CaseStage['next']
  /** What stands in the way of handing over, or asks for the person to be seen again. Empty: nothing does. */
  readonly holds: readonly Hold[]
  readonly recommendation: Recommendation
  /** The chosen chair with its settings as of today's facts. */
  readonly target: Target | null
  readonly build: BuildSheet | null
  /** Checks that the chosen chair asks for. */
  readonly checks: readonly CheckState[]
  readonly dues: Omit<Dues, 'changesOn' | 'doubts' | 'missing'>
  readonly differences: readonly WeighedDifference[]
  readonly doubts: readonly Doubt[]
  readonly missing: readonly string[]
  readonly newer: CaseView['newer']
  readonly unknownFields: CaseView['unknownFields']
  /** The next day on which this answer differs though nothing is added. Null: never. */
  readonly changesOn: CalendarDate | null
}

/** How many recommended set-ups an outcome carries; the command line and the choosing screen ask for more. */
const OPTIONS_KEPT = 3

interface Derived {
  readonly person: Person
  readonly recommendation: Recommendation
  readonly target: TargetAnswer
  readonly build: BuildSheet | null
  readonly checks: readonly CheckState[]
  readonly dues: Dues
  readonly holds: readonly Hold[]
}

/** Ticks dated after today do not count yet. */
const sheetOf = (
  view: CaseView,
  { resolved, target }: Extract<TargetAnswer, { type: 'target' }>,
  { catalogue, policy }: CasebookContext,
  today: CalendarDate,
  memory: FitMemory,
): BuildSheet => {
  const ticks = view.events.stepDone.map(event => event.value).filter(tick => tick.on <= today)
  const asBuilt = asBuiltOf(view)
  const { ground } = view.values
  return memory.remember('sheet', catalogue, policy, JSON.stringify([target.setUp, asBuilt, ticks, ground]), () =>
    buildSheet(resolved, asBuilt, ticks, ground),
  )
}

/** One view without open differences, worked through. */
const derive = (view: CaseView, context: CasebookContext, today: CalendarDate, memory: FitMemory): Derived => {
  const { catalogue, policy } = context
  const person = personOf(view, today)
  const smallGapAccepted = view.values.acceptedGapWhy !== undefined
  const inputs = JSON.stringify([person, smallGapAccepted, today])
  const recommendation = memory.remember('fit', catalogue, policy, inputs, () =>
    recommend(person, catalogue, policy, today, { top: OPTIONS_KEPT, smallGapAccepted }),
  )
  const { chosenSetUp, scaleFrontKg, scaleRearKg } = view.values
  const target = memory.remember(
    'target',
    catalogue,
    policy,
    `${inputs} ${JSON.stringify([chosenSetUp, scaleFrontKg, scaleRearKg])}`,
    () => targetOf(view, person, recommendation.doubts, catalogue, policy, today),
  )
  const build = target.type === 'target' ? sheetOf(view, target, context, today, memory) : null
  const checks =
    target.type === 'target'
      ? checkStates(view, target.resolved.model, target.target.setUp, today).filter(one =>
          target.resolved.model.checks.includes(one.check),
        )
      : []
  const due = dues(
    view,
    { policy, catalogue, ...(target.type === 'target' ? { builtSetUp: target.target.setUp } : {}) },
    today,
  )
  return {
    person,
    recommendation,
    target,
    build,
    checks,
    dues: due,
    holds: holdsOf({ view, recommendation, target, build, checks }),
  }
}

/** The outcome as flat text: what a difference is weighed by. Settings, holds, dues; what it would change is read off the keys. */
const flat = ({ recommendation, target, holds, checks, dues: due }: Derived): FlatOutcome => {
  const [first] = recommendation.options
  const entries: [string, string | number | boolean | null][] = []
  if (first) for (const [key, value] of Object.entries(first.setUp)) entries.push([`recommended.${key}`, value])
  if (target.type === 'target')
    for (const [key, value] of Object.entries(target.target.setUp)) entries.push([`target.${key}`, value])
  for (const one of holds) entries.push([`hold.${one.key}`, JSON.stringify(one.reason.inputs)])
  for (const one of checks) entries.push([`check.${one.check}`, one.state])
  for (const one of due.items) entries.push([`due.${one.key}`, one.date])
  return Object.fromEntries(entries)
}

/** Free text feeds no rule; every other field may. */
const feedsOutcome = (field: WeighedDifference['field']): boolean => fieldOf(field).kind !== 'text'

/**
 * The one function recomputed after every merge. Differences are weighed by working the case through with each value
 * (B10); meanwhile the first option of each is shown. `memory` only saves time.
 */
export const outcome = (
  view: CaseView,
  context: CasebookContext,
  today: CalendarDate,
  memory: FitMemory = new FitMemory(),
): Outcome => {
  const tried = new Map<CaseView, Derived>()
  const evaluate = (one: CaseView): FlatOutcome => {
    const made = derive(one, context, today, memory)
    tried.set(one, made)
    return flat(made)
  }
  const { base, differences } = weighDifferences(view, evaluate, feedsOutcome)
  const derived = tried.get(base) ?? derive(base, context, today, memory)
  const { recommendation, target, dues: due } = derived
  const { changesOn: duesChangeOn, doubts: dueDoubts, missing: dueMissing, ...duesKept } = due
  const model = target.type === 'target' ? target.resolved.model : undefined
  const { stage, next } = stageOf(base, model?.checks)
  return {
    rulesVersion: RULES_VERSION,
    today,
    stage,
    next,
    holds: [...derived.holds, ...differenceHolds(differences)],
    recommendation,
    target: target.type === 'target' ? target.target : null,
    build: derived.build,
    checks: derived.checks,
    dues: duesKept,
    differences,
    doubts: [...recommendation.doubts, ...(target.type === 'target' ? target.doubts : []), ...dueDoubts],
    missing: [...new Set([...recommendation.missing.map(one => one.field), ...dueMissing])],
    newer: view.newer,
    unknownFields: view.unknownFields,
    changesOn:
      earliest(
        [duesChangeOn, nextAgeChange(derived.person, today), nextCheckChange(base, today)].filter(
          date => date !== null,
        ),
      ) ?? null,
  }
}

/** Fitting and plausibility read a child's age in whole months: the next day on which it is one more, up to 19 years. */
const nextAgeChange = ({ dateOfBirth }: Person, today: CalendarDate): CalendarDate | null => {
  if (dateOfBirth === undefined) return null
  if (dateOfBirth > today) return dateOfBirth
  const months = completedMonths(dateOfBirth, today)
  return months < 19 * 12 ? addMonths(dateOfBirth, months + 1) : null
}

/** Steps dated after today do not undo a check yet. */
const nextCheckChange = (view: CaseView, today: CalendarDate): CalendarDate | null =>
  earliest(view.events.stepDone.map(event => event.value.on).filter(day => day > today)) ?? null
