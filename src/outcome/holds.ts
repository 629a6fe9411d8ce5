import type { CaseView } from '../case/case-view.ts'
import type { WeighedDifference } from '../case/differences.ts'
import { FIELDS, type FieldName, type NamesOfKind } from '../case/fields.ts'
import { hasOpenHandover } from '../case/stage.ts'
import type { Hold, HoldKey } from '../fitting/reason.ts'
import type { Recommendation } from '../fitting/recommend.ts'
import type { BuildSheet } from '../preparation/build-sheet.ts'
import type { CheckState } from '../preparation/checks.ts'
import type { Reason, ReasonInput } from '../reason.ts'
import type { SourceKey } from '../sources.ts'
import type { TargetAnswer } from './target.ts'

const hold = (key: HoldKey, inputs: Record<string, ReasonInput>, source: SourceKey, refer?: Hold['refer']): Hold => {
  const reason: Reason = { rule: key, inputs, source }
  return refer ? { key, reason, refer } : { key, reason }
}

/** Red flags are held and referred; the others hold until a person settles them with what was seen or done (B6). */
const RISK_HOLDS = [
  ['newWeakness', 'health'],
  ['breathingTrouble', 'health'],
  ['swallowingTrouble', 'health'],
  ['uncontrolledSpasms', 'health'],
  ['recentSurgery', 'health'],
  ['fracture', 'health'],
  ['seizures'],
  ['pregnancy'],
  ['weightChanging'],
] as const satisfies readonly (readonly [NamesOfKind<'risk'>, Hold['refer']?])[]

const riskHolds = ({ values }: CaseView): Hold[] =>
  RISK_HOLDS.filter(([risk]) => values[risk] === true).map(([risk, refer]) =>
    hold(`risk-${kebab(risk)}`, { risk }, 'common-practice', refer),
  )

type Kebab<Name extends string> = Name extends `${infer First}${infer Rest}`
  ? `${First extends Lowercase<First> ? First : `-${Lowercase<First>}`}${Kebab<Rest>}`
  : ''
const kebab = <Name extends string>(name: Name): Kebab<Name> =>
  name.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`) as Kebab<Name>

/** What the fitting with the person showed: each in the order size, posture, pressure, moving. */
const fittingHolds = ({ values }: CaseView): Hold[] => {
  const holds: Hold[] = []
  const problem = (field: 'fitSize' | 'fitPosture' | 'fitMoving'): void => {
    if (values[field] === 'problem') holds.push(hold(`fitting-${kebab(field)}`, { [field]: 'problem' }, 'who-2008'))
  }
  problem('fitSize')
  problem('fitPosture')
  for (const side of ['handCheckLeft', 'handCheckRight'] as const)
    if (values[side] === 'pinched')
      holds.push(hold(`pressure-${kebab(side)}`, { [side]: 'pinched' }, 'common-practice'))
  problem('fitMoving')
  const skin = values.skinAfterFirstHour
  if (skin === 'lasting-red' || skin === 'broken')
    holds.push(hold('skin-after-first-hour', { skinAfterFirstHour: skin }, 'common-practice', 'health'))
  if (values.brakeReach === 'none') holds.push(hold('brakes-out-of-reach', { brakeReach: 'none' }, 'common-practice'))
  if (values.strapReleasedBy === 'nobody')
    holds.push(hold('strap-nobody-releases', { strapReleasedBy: 'nobody' }, 'common-practice'))
  return holds
}

const checkHolds = (checks: readonly CheckState[]): Hold[] => {
  const keys = (state: CheckState['state']): string =>
    checks
      .filter(one => one.state === state)
      .map(one => one.check)
      .join(' ')
  return (['failed', 'stale', 'not-done'] as const)
    .filter(state => keys(state) !== '')
    .map(state => hold(`checks-${state}`, { checks: keys(state) }, 'common-practice'))
}

/** Somebody who has a chair, or needs none any more, is not waiting for a choice. */
const waitsForChoice = (view: CaseView): boolean => !hasOpenHandover(view) && !view.values.exit

/** Nothing in the catalogue serves: named by the rule that excludes most, since the whole list stands in the recommendation. */
const noChairServes = ({ options, excluded, considered }: Recommendation): Hold | undefined => {
  if (options.length > 0 || considered.setUps === 0) return undefined
  const most = excluded.reduce((best, row) => (row.setUps > best.setUps ? row : best))
  return hold('no-chair-serves', { mostOften: most.rule, chair: most.chair, shortBy: most.shortBy }, 'team-policy')
}

const targetHolds = (answer: TargetAnswer, view: CaseView, recommendation: Recommendation): Hold[] => {
  switch (answer.type) {
    case 'none':
      return waitsForChoice(view) ? [noChairServes(recommendation) ?? hold('not-chosen', {}, 'who-2008')] : []
    case 'not-in-catalogue':
      return [hold('chosen-not-in-catalogue', { chair: answer.chosen.chair }, 'team-policy')]
    case 'missing-measures':
      return [hold('measures-missing', { needs: answer.needs.join(' ') }, 'who-basic-level')]
    case 'target': {
      const { broken, setUp } = answer.target
      return broken
        ? [
            hold(
              'chosen-breaks-rule',
              { chair: setUp.chair, rule: broken.rule, shortBy: broken.shortBy },
              'team-policy',
            ),
          ]
        : []
    }
  }
}

/** A difference that matters holds the handover and says what would change; one that does not is only shown. */
export const differenceHolds = (differences: readonly WeighedDifference[]): Hold[] =>
  differences
    .filter(one => one.effect !== 'none')
    .map(one =>
      hold(
        'difference',
        {
          field: one.field,
          options: one.options.map(option => JSON.stringify(option.value)).join(' '),
          changes:
            one.effect === 'too-many'
              ? 'too-many'
              : [...new Set(one.options.flatMap(option => option.changes.map(change => change.key)))].join(' '),
        },
        'team-policy',
      ),
    )

const newerHolds = ({ newer }: CaseView): Hold[] =>
  newer
    .filter(field => FIELDS[field satisfies FieldName].safety)
    .map(field => hold('written-by-later-version', { field }, 'team-policy'))

export interface HoldInputs {
  readonly view: CaseView
  readonly recommendation: Recommendation
  readonly target: TargetAnswer
  readonly build: BuildSheet | null
  readonly checks: readonly CheckState[]
}

/** Everything that a record without open differences puts in the way of handing over, in a fixed order. */
export const holdsOf = ({ view, recommendation, target, build, checks }: HoldInputs): readonly Hold[] => {
  const { cannotIssue } = view.values
  const aside = recommendation.doubts.filter(doubt => doubt.setAside)
  const waits = cannotIssue && cannotIssue.what !== 'temporary-chair' ? cannotIssue : undefined
  return [
    ...recommendation.holds,
    ...riskHolds(view),
    ...(waits
      ? [
          hold(
            waits.what === 'refer' ? 'cannot-issue-refer' : 'cannot-issue-wait',
            { why: waits.why, until: waits.until ?? null },
            'team-policy',
          ),
        ]
      : []),
    ...newerHolds(view),
    ...(aside.length > 0
      ? [hold('measure-again', { fields: aside.map(doubt => doubt.field).join(' ') }, 'project-value')]
      : []),
    ...targetHolds(target, view, recommendation),
    ...(build && build.steps.length > 0
      ? [hold('build-not-finished', { steps: build.steps.map(step => step.key).join(' ') }, 'common-practice')]
      : []),
    ...checkHolds(checks),
    ...fittingHolds(view),
  ]
}
