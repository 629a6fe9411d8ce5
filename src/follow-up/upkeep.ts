import { addDays, addMonths, type CalendarDate, earliest, latest } from '../calendar-date.ts'
import type { Catalogue, ChairModel } from '../chair/chair-model.ts'
import type { Policy } from '../fitting/policy.ts'
import type { SourceKey } from '../sources.ts'
import type { Clock } from './clocks.ts'
import type { DueDraft } from './due.ts'
import type { Facts } from './facts.ts'
import { isWhole } from './reviews.ts'

/** Months between technician's checks: common practice, no source. */
const TECHNICIAN_UPKEEP_MONTHS = 6

/** What is looked after at home and how often. Common practice, no source. Shown with the chair; nobody records it. */
export interface HomeUpkeep {
  readonly every: 'week' | 'month'
  readonly tasks: readonly string[]
  readonly source: SourceKey
}

const WEEKLY_TASKS = ['brakes-hold', 'clean-and-dry', 'cushion-and-skin'] as const
const MONTHLY_TASKS = ['bolts-tight', 'spokes-tight', 'upholstery-sound', 'casters-turn-freely', 'axles-oiled'] as const

/** Weekly and monthly care by the person or caregiver. Tyre pressure is part of it unless all tyres are solid. */
export const homeUpkeepOf = (model: ChairModel | undefined): readonly HomeUpkeep[] => {
  const solid = model !== undefined && model.tyres.rear === 'solid' && model.tyres.caster === 'solid'
  return [
    {
      every: 'week',
      tasks: solid ? WEEKLY_TASKS : ['tyre-pressure', ...WEEKLY_TASKS],
      source: 'common-practice',
    },
    { every: 'month', tasks: MONTHLY_TASKS, source: 'common-practice' },
  ]
}

/** The technician's check of a chair, six months after the handover or the last visit that looked the chair over. */
export const technicianUpkeepOf = (clock: Clock, facts: Facts): DueDraft => {
  const [first = clock.latest] = clock.handedOverOn
  const looked = facts.review.flatMap(review => (review.chair === 'not-done' ? [] : [review.visitedOn]))
  const from = latest(looked.filter(on => on > first)) ?? first
  return {
    kind: 'technician-upkeep',
    serialNumber: clock.serialNumber,
    anchor: from,
    date: addMonths(from, TECHNICIAN_UPKEEP_MONTHS),
    rule: 'technician-upkeep',
    inputs: { from, afterMonths: TECHNICIAN_UPKEEP_MONTHS },
    source: 'common-practice',
  }
}

const lifeMonthsOf = (cushion: string, catalogue: Catalogue, model: ChairModel | undefined): number | undefined => {
  const models = model ? [model, ...catalogue.models] : catalogue.models
  return models.flatMap(one => one.cushions).find(one => one.key === cushion)?.lifeMonths
}

interface CushionContext {
  readonly facts: Facts
  readonly policy: Policy['followUp']
  readonly catalogue: Catalogue
  readonly model: ChairModel | undefined
}

/**
 * The cushion in use, from the day it was issued (not from the handover) until another is issued: reviewed closely at 12
 * months (team policy), replaced at the end of the life that its papers state. A whole review near the 12 months serves.
 * Two cushions issued on one day: the shorter life counts.
 */
export const cushionDuesOf = ({ facts, policy, catalogue, model }: CushionContext): readonly DueDraft[] => {
  const issuedOn = latest(facts.cushionIssued.map(issued => issued.on))
  if (issuedOn === undefined) return []
  const lives = facts.cushionIssued
    .filter(issued => issued.on === issuedOn)
    .map(({ cushion }) => ({ cushion, months: lifeMonthsOf(cushion, catalogue, model) }))
  const [shortest] = lives
    .flatMap(({ cushion, months }) => (months === undefined ? [] : [{ cushion, months: Math.floor(months) }]))
    .sort((a, b) => a.months - b.months)
  const { foamReviewMonths, oneVisitWithinDays } = policy
  const usual = addMonths(issuedOn, foamReviewMonths)
  const reviewedOn = latest(
    facts.review
      .filter(review => isWhole(review) && review.visitedOn > issuedOn)
      .map(review => review.visitedOn)
      .filter(on => on >= addDays(usual, -oneVisitWithinDays)),
  )
  const from = reviewedOn ?? issuedOn
  const review: DueDraft = {
    kind: 'cushion-review',
    anchor: from,
    date: reviewedOn === undefined ? usual : addMonths(reviewedOn, foamReviewMonths),
    rule: 'cushion-review',
    inputs: { issuedOn, from, afterMonths: foamReviewMonths },
    source: 'team-policy',
  }
  if (!shortest) return [review]
  const life: DueDraft = {
    kind: 'cushion-life',
    anchor: issuedOn,
    date: addMonths(issuedOn, shortest.months),
    rule: 'cushion-life',
    inputs: { issuedOn, cushion: shortest.cushion, lifeMonths: shortest.months },
    source: 'chair-papers',
  }
  return review.date < life.date ? [review, life] : [life]
}

/** The earliest day a chair of this person was handed over and is still here: what lies before belongs to other chairs. */
export const earliestHandover = (clocks: readonly Clock[]): CalendarDate | undefined =>
  earliest(clocks.flatMap(clock => clock.handedOverOn))
