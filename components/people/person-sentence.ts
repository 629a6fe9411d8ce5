import type { CalendarDate } from '../../src/calendar-date.ts'
import type { FieldName } from '../../src/case/fields.ts'
import type { CheckKey } from '../../src/chair/chair-model.ts'
import type { DueKind } from '../../src/follow-up/due.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'
import { en } from '../text/en/index.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { ageOf, type BriefDue, duesOn, type Group, obstaclesOf, type PersonSummary } from './people-order.ts'

/** What chairs of the catalogue are called, by key. */
export type ChairTitles = ReadonlyMap<string, string>

/** Above this many checks their number says more than their names. */
const MOST_CHECKS_NAMED = 2

/** Holds whose sentence needs nothing but the hold. */
const PLAIN: Readonly<Record<string, TextKey>> = {
  'present-sore': 'row.sore',
  'posture-beyond-crew': 'row.posture',
  'under-four': 'row.underFour',
  'risk-new-weakness': 'row.newWeakness',
  'risk-breathing-trouble': 'row.breathing',
  'risk-swallowing-trouble': 'row.swallowing',
  'risk-uncontrolled-spasms': 'row.spasms',
  'risk-recent-surgery': 'row.surgery',
  'risk-fracture': 'row.fracture',
  'risk-seizures': 'row.seizures',
  'risk-pregnancy': 'row.pregnancy',
  'risk-weight-changing': 'row.weightChanging',
  'chosen-breaks-rule': 'row.breaksRule',
  'chosen-not-in-catalogue': 'row.notInCatalogue',
  'measures-missing': 'row.measuresMissing',
  'fitting-fit-size': 'row.fitSize',
  'fitting-fit-posture': 'row.fitPosture',
  'fitting-fit-moving': 'row.fitMoving',
  'pressure-hand-check-left': 'row.pressure',
  'pressure-hand-check-right': 'row.pressure',
  'skin-after-first-hour': 'row.skin',
  'brakes-out-of-reach': 'row.brakesOutOfReach',
  'strap-nobody-releases': 'row.strap',
  'written-by-later-version': 'row.newer',
}

const NEXT: Readonly<Record<string, TextKey>> = {
  referral: 'row.nextReferral',
  assessment: 'row.nextAssessment',
  measuring: 'row.nextMeasuring',
  choosing: 'row.nextChoosing',
  preparing: 'row.nextPreparing',
  checks: 'row.nextChecks',
  fitting: 'row.nextFitting',
  training: 'row.nextTraining',
  handover: 'row.nextHandover',
}

/** By the wording, which has every field: the registry itself need not come with the list. */
const isFieldName = (name: string): name is FieldName => Object.hasOwn(en.field, name)

const fieldWords = (name: string): string => {
  const label = isFieldName(name) ? t(`field.${name}`) : name
  return label.charAt(0).toLocaleLowerCase(currentSpeech().language) + label.slice(1)
}

const checkList = (checks: readonly CheckKey[]): string =>
  currentSpeech().list(checks.map(check => t(`row.check ${check}`)))

const differenceSentence = (brief: OutcomeBrief): string => {
  const [name = '', ...others] = brief.differences
  const values = isFieldName(name) ? (brief.openValues[name] ?? []) : []
  const field = fieldWords(name)
  const sentence =
    values.length > 1
      ? t('row.difference', {
          field,
          values: currentSpeech().either(values.map(value => currentSpeech().number(value))),
        })
      : t('row.differenceOther', { field })
  return others.length > 0 ? t('row.andMore', { sentence, count: others.length }) : sentence
}

/** The steps to do again and the checks that went stale belong together: one moved setting brought both. */
const staleSentence = ({ checks: { stale }, stepsToDo }: OutcomeBrief): string => {
  const checks =
    stale.length > MOST_CHECKS_NAMED
      ? t('row.checkAgainMany', { count: stale.length })
      : t('row.checkAgain', { checks: checkList(stale) })
  return stepsToDo ? t('row.redoAndCheck', { steps: t('row.redo', { count: stepsToDo }), checks }) : checks
}

const obstacleSentence = (hold: string, brief: OutcomeBrief): string => {
  if (hold === 'difference') return differenceSentence(brief)
  if (hold === 'checks-stale') return staleSentence(brief)
  if (hold === 'measure-again') return t('row.measureAgain', { field: fieldWords(brief.measureAgain[0] ?? '') })
  if (hold === 'checks-failed') {
    const { failed } = brief.checks
    return failed.length > MOST_CHECKS_NAMED
      ? t('row.checksFailedMany', { count: failed.length })
      : t('row.checksFailed', { checks: checkList(failed) })
  }
  return t(PLAIN[hold] ?? 'row.unknown')
}

export const chairWords = (chair: NonNullable<OutcomeBrief['chair']>, titles: ChairTitles): string => {
  const words = { chair: titles.get(chair.key) ?? chair.key, width: chair.seatWidthMm }
  return chair.seatDepthMm === null
    ? t('row.chairWidth', words)
    : t('row.chair', { ...words, depth: chair.seatDepthMm })
}

const nextWords = ({ next, stepsToDo, chair }: OutcomeBrief, titles: ChairTitles): string | null => {
  if (next === 'preparing' && stepsToDo) return t('row.nextPreparingSteps', { count: stepsToDo })
  if (next === 'choosing' && chair) return t('row.nextChoosingAmong', { chair: chairWords(chair, titles) })
  const key = next === null ? undefined : NEXT[next]
  return key === undefined ? null : t(key)
}

const READY: Readonly<Record<string, TextKey>> = {
  fitting: 'row.readyFitting',
  training: 'row.readyTraining',
  handover: 'row.readyHandover',
}

const isDueKind = (kind: string): kind is DueKind => Object.hasOwn(en.due, kind)

const dueWords = ({ key }: BriefDue): string => {
  const [kind = ''] = key.split(' ')
  return t(isDueKind(kind) ? `row.due ${kind}` : 'row.due other')
}

const duesSentence = (
  key: 'row.wasDue' | 'row.dueBy' | 'row.laterOn',
  dues: readonly BriefDue[],
  today: CalendarDate,
): string => {
  const [first, ...others] = dues
  if (!first) return t('row.nothingDue')
  // Those of the same day are said together: one visit does them.
  const together = [first, ...others.filter(due => due.date === first.date)]
  const what = currentSpeech().list([...new Set(together.map(dueWords))])
  const sentence = t(key, { what, date: currentSpeech().day(first.date, today) })
  const more = key === 'row.laterOn' ? 0 : dues.length - together.length
  return more > 0 ? t('row.andMore', { sentence, count: more }) : sentence
}

const waitSentence = ({ cannotIssue }: OutcomeBrief, today: CalendarDate): string => {
  const until = cannotIssue?.until
  const date = until ? currentSpeech().day(until, today) : ''
  if (cannotIssue?.what === 'refer') return until ? t('row.referredUntil', { date }) : t('row.referred')
  return until ? t('row.waitsUntil', { date }) : t('row.waits')
}

const inTheWaySentence = (brief: OutcomeBrief, titles: ChairTitles): string => {
  const [first = '', ...others] = obstaclesOf(brief)
  const said = obstacleSentence(first, brief)
  const sentence = others.length > 0 ? t('row.andMore', { sentence: said, count: others.length }) : said
  // Whom others must see first, and whom to measure again, need no word on what comes after.
  const next = first === 'checks-stale' || first === 'checks-failed' ? nextWords(brief, titles) : null
  return next === null ? sentence : t('row.firstThen', { first: sentence, next })
}

/** The person in one sentence: what stands in the way, or what is to be done, and by when. */
export const sentenceOf = (
  brief: OutcomeBrief | null,
  group: Group,
  today: CalendarDate,
  titles: ChairTitles,
): string => {
  if (!brief) return t('people.working')
  const { overdue, due, later } = duesOn(brief, today)
  switch (group) {
    case 'inTheWay':
      return inTheWaySentence(brief, titles)
    case 'overdue':
      return duesSentence('row.wasDue', overdue, today)
    case 'due':
      return duesSentence('row.dueBy', due, today)
    case 'waiting':
      return waitSentence(brief, today)
    case 'later':
      return duesSentence('row.laterOn', later, today)
    case 'closed':
      return t('row.closed')
    case 'withPerson':
      return t(READY[brief.next ?? ''] ?? 'row.readyFitting')
    case 'inWork':
      return nextWords(brief, titles) ?? t('row.unknown')
  }
}

/** Sunniva Belkar, 71; where only the year of birth is known, about 71. */
export const nameWithAge = ({ name, brief }: PersonSummary, today: CalendarDate): string => {
  const shown = name ?? t('people.unnamed')
  const born = brief?.person.born ?? null
  const age = ageOf(born, today)
  if (age === null) return shown
  return t('row.withAge', { name: shown, age: born?.length === 4 ? t('row.about', { age }) : age })
}
