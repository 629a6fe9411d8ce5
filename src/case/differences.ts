import type { CaseView, Difference, DifferenceOption, ResolvedValues } from './case-view.ts'
import type { Reading } from './fields.ts'

type JsonScalar = string | number | boolean | null

/** What an outcome comes to, flat: `{ 'setting.axle': 'r3', 'hold.present-sore': true }`. A key left out reads as null. */
export type FlatOutcome = Readonly<Record<string, JsonScalar>>

/** One answer to an open difference. */
export interface Answer {
  readonly field: Difference['field']
  readonly option: DifferenceOption
}

/** Something in the outcome that becomes another when this option is right instead of the first one. */
export interface Change {
  readonly key: string
  readonly from: JsonScalar
  readonly to: JsonScalar
  /** Which other differences must come out other than first for it; empty: this one alone brings it about. */
  readonly given: readonly { readonly field: Difference['field']; readonly value: unknown }[]
}

export interface WeighedDifference {
  readonly field: Difference['field']
  /** `none`: whichever is right, nothing changes. `too-many`: too many open at once to try them all; each holds. */
  readonly effect: 'none' | 'changes' | 'too-many'
  readonly options: readonly (DifferenceOption & { readonly changes: readonly Change[] })[]
}

export interface Weighing {
  /** As by `withFirstAnswers`: what is shown meanwhile. */
  readonly base: CaseView
  readonly differences: readonly WeighedDifference[]
}

/** Above this many combinations none is tried and every difference that can matter holds (B10). */
export const MOST_COMBINATIONS = 64

/** The view as it would be if these options were right. Every statement stays in `heads`; only the answer is filled in. */
export const withValues = (view: CaseView, answers: readonly Answer[]): CaseView => {
  if (answers.length === 0) return view
  const values: Record<string, unknown> = { ...view.values }
  for (const { field, option } of answers) values[field] = option.value
  const mass = answers.find(answer => answer.field === 'massKg')
  return {
    ...view,
    // The options came from valid statements of the same fields.
    values: values as ResolvedValues,
    differences: view.differences.filter(difference => !answers.some(answer => answer.field === difference.field)),
    massGuessed: mass ? mass.option.heads.some(head => (head.value as Reading).how === 'guessed') : view.massGuessed,
  }
}

/** One combination of options: which option of each difference, and what the outcome is with it. */
interface Trial {
  readonly digits: readonly number[]
  readonly outcome: FlatOutcome
}

const optionAt = ({ field, options }: Difference, index: number): DifferenceOption => {
  const option = options[index]
  if (!option) throw new Error(`difference of ${field} has no option ${index}`)
  return option
}

const answersOf = (differences: readonly Difference[], digits: readonly number[]): readonly Answer[] =>
  differences.map((difference, place) => ({
    field: difference.field,
    option: optionAt(difference, digits[place] ?? 0),
  }))

/** The view in which each difference is answered by its first option: what stands until somebody settles it. */
export const withFirstAnswers = (view: CaseView): CaseView => withValues(view, answersOf(view.differences, []))

/** All combinations, the last difference turning fastest; the first is all first options. */
const combinations = (differences: readonly Difference[]): readonly (readonly number[])[] =>
  differences.reduce<readonly (readonly number[])[]>(
    (rows, { options }) => rows.flatMap(row => options.map((_, index) => [...row, index])),
    [[]],
  )

const valueAt = (outcome: FlatOutcome, key: string): JsonScalar =>
  Object.hasOwn(outcome, key) ? (outcome[key] ?? null) : null

const keysThatDiffer = (a: FlatOutcome, b: FlatOutcome): readonly string[] =>
  [...new Set([...Object.keys(a), ...Object.keys(b)])].filter(key => valueAt(a, key) !== valueAt(b, key)).sort()

/**
 * What option `index` of the difference at `place` changes against the first option, all else equal, in any company of
 * the other options. Each key once, in the plainest company that shows it.
 */
const changesOf = (
  differences: readonly Difference[],
  trials: ReadonlyMap<string, Trial>,
  place: number,
  index: number,
): readonly Change[] => {
  const changes = new Map<string, Change>()
  for (const { digits, outcome } of trials.values()) {
    if (digits[place] !== index) continue
    const first = trials.get(digits.with(place, 0).join())
    if (!first) throw new Error(`combination ${digits.with(place, 0).join()} was not tried`)
    const given = answersOf(differences, digits)
      .filter((_, other) => other !== place && digits[other] !== 0)
      .map(({ field, option }) => ({ field, value: option.value }))
    for (const key of keysThatDiffer(first.outcome, outcome)) {
      const known = changes.get(key)
      if (!known || given.length < known.given.length)
        changes.set(key, { key, from: valueAt(first.outcome, key), to: valueAt(outcome, key), given })
    }
  }
  return [...changes.keys()].sort().map(key => changes.get(key) as Change)
}

/**
 * B10: does a difference matter? The outcome is computed once for each combination of the options that can matter, since
 * two differences may matter only together. `relevant` names the fields that feed the outcome at all; others stay
 * listed, without effect, and do not multiply the work.
 */
export const weighDifferences = (
  view: CaseView,
  evaluate: (view: CaseView) => FlatOutcome,
  relevant: (field: Difference['field']) => boolean = () => true,
): Weighing => {
  const all = view.differences
  const base = withFirstAnswers(view)
  const weighed = all.filter(difference => relevant(difference.field))
  const count = weighed.reduce((product, { options }) => product * options.length, 1)
  const tooMany = count > MOST_COMBINATIONS

  const trials = new Map<string, Trial>()
  if (!tooMany && weighed.length > 0)
    for (const digits of combinations(weighed)) {
      // All first options are the base itself, which the caller works out as well.
      const tried = digits.every(digit => digit === 0) ? base : withValues(base, answersOf(weighed, digits))
      trials.set(digits.join(), { digits, outcome: evaluate(tried) })
    }

  const differences = all.map((difference): WeighedDifference => {
    const place = weighed.indexOf(difference)
    const options = difference.options.map((option, index) => ({
      ...option,
      changes: place < 0 || tooMany ? [] : changesOf(weighed, trials, place, index),
    }))
    const changes = options.some(option => option.changes.length > 0)
    const effect = place < 0 ? 'none' : tooMany ? 'too-many' : changes ? 'changes' : 'none'
    return { field: difference.field, effect, options }
  })
  return { base, differences }
}
