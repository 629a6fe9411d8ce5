import type { CalendarDate } from '../calendar-date.ts'
import type { CaseView, Head } from '../case/case-view.ts'
import { type Check, checkFieldName } from '../case/fields.ts'
import { CHECK_KEYS, type ChairModel, type CheckKey, SETTING_KEYS, type SettingKey } from '../chair/chair-model.ts'
import { type SetUp, settingTexts } from '../chair/set-up.ts'
import { rememberedFor } from '../remembered.ts'
import { SETTINGS_OF_CHECK } from './check-settings.ts'
import { planSteps } from './steps.ts'

/** The table's settings and those of the model's own steps that make this check stale, in one order. */
export const settingsOfCheck = (model: ChairModel, check: CheckKey): readonly SettingKey[] => {
  const own = model.steps.filter(step => step.makesStale?.includes(check)).flatMap(step => step.settings)
  const all = new Set([...SETTINGS_OF_CHECK[check], ...own])
  return SETTING_KEYS.filter(setting => all.has(setting))
}

/** What there is to know of each check of this model before looking at a chair; in the fixed order. */
const checksOfModel = rememberedFor((model: ChairModel) => {
  const { steps } = planSteps(model)
  return CHECK_KEYS.map(check => ({
    check,
    field: checkFieldName(check),
    applies: model.checks.includes(check),
    settings: settingsOfCheck(model, check),
    undoing: new Set(steps.filter(step => step.makesStale.includes(check)).map(step => step.key)),
  }))
})

/** A setting that is no longer what the check was made for; `from` null: the check does not say. */
export interface ChangedSetting {
  readonly setting: SettingKey
  readonly from: string | null
  readonly to: string
}

/** A check that was made, but not for what the chair now is or is to be. */
export interface StaleCheck {
  readonly check: CheckKey
  readonly state: 'stale'
  readonly changed: readonly ChangedSetting[]
  /** Steps that undo this check, done on a later day than it: the chair was worked on since. */
  readonly workedOnSince: readonly { readonly step: string; readonly on: CalendarDate }[]
}
interface PlainCheck<State extends string> {
  readonly check: CheckKey
  readonly state: State
}
export type CheckState = PlainCheck<'not-done' | 'passed' | 'failed' | 'not-applicable'> | StaleCheck

/** Settings of `against` that differ from the target's, or that it lacks. */
const changedSettings = (
  settings: readonly SettingKey[],
  against: Check['against'],
  target: Readonly<Record<SettingKey, string>>,
): readonly ChangedSetting[] =>
  settings
    .map(setting => ({ setting, from: against[setting] ?? null, to: target[setting] }))
    .filter(change => change.from !== change.to)

/** What a check has to be recorded against when it is made on this set-up: the settings it depends on, as text. */
export const checkAgainst = (model: ChairModel, check: CheckKey, target: SetUp): Check['against'] => {
  const texts = settingTexts(target)
  return Object.fromEntries(settingsOfCheck(model, check).map(setting => [setting, texts[setting]]))
}

type Standing = PlainCheck<'passed'> | PlainCheck<'not-applicable'> | StaleCheck

/** The one of several standing statements that still holds best: fresh before stale, then fewest changes, then latest. */
const bestOf = (standing: readonly Standing[]): Standing | undefined =>
  standing.toSorted((a, b) => unsettled(a) - unsettled(b))[0]
const unsettled = (one: Standing): number => {
  if (one.state === 'passed') return 0
  return one.state === 'not-applicable' ? 1 : 2 + one.changed.length + one.workedOnSince.length
}

/**
 * How each check stands for the set-up aimed at, in a fixed order. A check that the model does not name is
 * `not-applicable`. A fail holds whatever changed since, also beside a pass made apart from it. A pass counts only for
 * exactly the settings it was made for, and only until a step that undoes it was done on a later day (work of the same
 * day cannot be told apart: the day's check is taken as the last act). So no change of set-up ever makes a check passed
 * that nobody made for it. Steps dated after `today` are not counted yet.
 */
export const checkStates = (
  view: CaseView,
  model: ChairModel,
  target: SetUp,
  today?: CalendarDate,
): readonly CheckState[] => {
  const texts = settingTexts(target)
  const done = view.events.stepDone.map(event => event.value).filter(tick => today === undefined || tick.on <= today)

  return checksOfModel(model).map(({ check, field, applies, settings, undoing }): CheckState => {
    if (!applies) return { check, state: 'not-applicable' }
    const heads = (view.heads[field] ?? []) as readonly Head<Check>[]
    if (heads.some(head => head.value.result === 'fail')) return { check, state: 'failed' }

    const standing = heads.map(({ value }): Standing => {
      const changed = changedSettings(settings, value.against, texts)
      const workedOnSince = done
        .filter(tick => tick.on > value.on && undoing.has(tick.step))
        .map(tick => ({ step: tick.step, on: tick.on }))
      if (changed.length > 0 || workedOnSince.length > 0) return { check, state: 'stale', changed, workedOnSince }
      return value.result === 'pass' ? { check, state: 'passed' } : { check, state: 'not-applicable' }
    })
    return bestOf(standing) ?? { check, state: 'not-done' }
  })
}
