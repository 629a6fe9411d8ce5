import type { CalendarDate } from '../../src/calendar-date.ts'
import type { WeighedDifference } from '../../src/case/differences.ts'
import { checkFieldName } from '../../src/case/fields.ts'
import type { Catalogue, CheckKey } from '../../src/chair/chair-model.ts'
import type { SetUp } from '../../src/chair/set-up.ts'
import type { Hold, HoldKey } from '../../src/fitting/reason.ts'
import { DUE_KINDS, type DueKind } from '../../src/follow-up/due.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { CheckState } from '../../src/preparation/checks.ts'
import type { ReasonInput } from '../../src/reason.ts'
import { isInTheWay, sayHold } from '../case/say-hold.ts'
import { isSetUpName, SET_UP_NAMES, type SetUpName, saySetUpValue, setUpName } from '../case/say-set-up.ts'
import { modelIn } from '../case/set-up-words.ts'
import { fieldLabel, sayValue } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'

type Scalar = string | number | boolean | null

/** One thing that the options of a difference lead to differently. */
export interface Consequence {
  readonly kind: 'setting' | 'recommended' | 'hold' | 'check' | 'due'
  readonly name: string
  /** By option: what it comes to, in words; null where it brings nothing of this kind. */
  readonly said: readonly (string | null)[]
  readonly setting?: SetUpName
  /** Comes about only together with these answers to other differences. */
  readonly onlyWith: string
  /** Holds of what is simply still to do say little here. */
  readonly standsInTheWay: boolean
}

/** What each key comes to, by option; the first option's value is what the others change from. */
interface Row {
  readonly key: string
  readonly values: readonly Scalar[]
  readonly onlyWith: string
}

const rowsOf = ({ options }: WeighedDifference): readonly Row[] => {
  const keys = [...new Set(options.flatMap(option => option.changes.map(change => change.key)))]
  return keys.map(key => {
    const changes = options.map(option => option.changes.find(change => change.key === key))
    const from = changes.find(change => change !== undefined)?.from ?? null
    const together = changes.find(change => change !== undefined && change.given.length > 0)
    return {
      key,
      values: changes.map(change => (change ? change.to : from)),
      onlyWith: currentSpeech().list(
        (together?.given ?? []).map(({ field, value }) => `${fieldLabel(field)} ${sayValue(field, value)}`),
      ),
    }
  })
}

/** The chair that each option leads to, so that its keys can be looked up; empty where it leads to none. */
const chairsOf = (
  rows: readonly Row[],
  room: string,
  count: number,
  standing: string | undefined,
): readonly string[] => {
  const row = rows.find(one => one.key === `${room}.chair`)
  return Array.from({ length: count }, (_, index) => String((row ? row.values[index] : standing) ?? ''))
}

const settingOf = (
  row: Row,
  kind: 'setting' | 'recommended',
  name: SetUpName,
  chairs: readonly string[],
  catalogue: Catalogue,
  beside: boolean,
): Consequence => ({
  kind,
  name:
    kind === 'recommended' && beside ? t('difference.asRecommended', { setting: setUpName(name) }) : setUpName(name),
  said: row.values.map((value, index) =>
    chairs[index] === ''
      ? null
      : saySetUpValue(name, value as SetUp[SetUpName], modelIn(catalogue, chairs[index] ?? '')),
  ),
  setting: name,
  onlyWith: row.onlyWith,
  standsInTheWay: true,
})

const holdOf = (row: Row, key: HoldKey, outcome: Outcome): Consequence => {
  const toHold = (value: Scalar): Hold | null =>
    typeof value === 'string'
      ? {
          key,
          reason: { rule: key, inputs: JSON.parse(value) as Record<string, ReasonInput>, source: 'team-policy' },
        }
      : null
  const holds = row.values.map(toHold)
  return {
    kind: 'hold',
    name: t('difference.handover'),
    said: holds.map(hold => hold && sayHold(hold, outcome)),
    onlyWith: row.onlyWith,
    standsInTheWay: holds.some(hold => hold !== null && isInTheWay(hold)),
  }
}

const checkOf = (row: Row, check: CheckKey): Consequence => ({
  kind: 'check',
  name: fieldLabel(checkFieldName(check)),
  said: row.values.map(state => (state === null ? null : t(`checkState.${state as CheckState['state']}`))),
  onlyWith: row.onlyWith,
  standsInTheWay: true,
})

const dueOf = (row: Row, kind: DueKind): Consequence => ({
  kind: 'due',
  name: t(`due.${kind}`),
  said: row.values.map(date => (date === null ? null : currentSpeech().date(date as CalendarDate))),
  onlyWith: row.onlyWith,
  standsInTheWay: true,
})

const KINDS: readonly Consequence['kind'][] = ['setting', 'recommended', 'hold', 'check', 'due']
const rankOf = ({ kind, setting, standsInTheWay }: Consequence): number =>
  KINDS.indexOf(kind) * 100 + (setting ? SET_UP_NAMES.indexOf(setting) : 0) + (standsInTheWay ? 0 : 1000)

/**
 * What would change with each answer to a difference, in words, what matters most first: the settings of the chair, what
 * would hold the handover, checks, follow-up. What the chosen chair and the recommendation come to alike is said once.
 */
export const consequencesOf = (
  difference: WeighedDifference,
  outcome: Outcome,
  catalogue: Catalogue,
): readonly Consequence[] => {
  const rows = rowsOf(difference)
  const count = difference.options.length
  const targetChairs = chairsOf(rows, 'target', count, outcome.target?.setUp.chair)
  const recommendedChairs = chairsOf(rows, 'recommended', count, outcome.recommendation.options[0]?.setUp.chair)
  const hasTarget = outcome.target !== null || rows.some(row => row.key.startsWith('target.'))
  const targetRow = (name: string): Row | undefined => rows.find(row => row.key === `target.${name}`)
  const found = rows.flatMap((row): readonly Consequence[] => {
    const dot = row.key.indexOf('.')
    const [room, name] = [row.key.slice(0, dot), row.key.slice(dot + 1)]
    if (room === 'target' && isSetUpName(name)) return [settingOf(row, 'setting', name, targetChairs, catalogue, false)]
    if (room === 'recommended' && isSetUpName(name)) {
      const same = targetRow(name)?.values.join() === row.values.join()
      return same ? [] : [settingOf(row, 'recommended', name, recommendedChairs, catalogue, hasTarget)]
    }
    if (room === 'hold') return [holdOf(row, name as HoldKey, outcome)]
    if (room === 'check') return [checkOf(row, name as CheckKey)]
    const kind = DUE_KINDS.find(one => name === one || name.startsWith(`${one} `))
    return room === 'due' && kind ? [dueOf(row, kind)] : []
  })
  return found.toSorted((a, b) => rankOf(a) - rankOf(b))
}

/** Settings that wait until the difference is settled; the size waits as a whole. */
export const settingsWaiting = (consequences: readonly Consequence[]): ReadonlySet<SetUpName> =>
  new Set(consequences.flatMap(({ kind, setting }) => (setting && kind !== 'hold' ? [setting] : [])))
