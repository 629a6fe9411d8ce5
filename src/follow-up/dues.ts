import { type CalendarDate, earliest, latest } from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import type { FieldValue } from '../case/fields.ts'
import type { Catalogue } from '../chair/chair-model.ts'
import type { SetUp } from '../chair/set-up.ts'
import type { Policy } from '../fitting/policy.ts'
import type { Doubt } from '../reason.ts'
import { chairRoomOf } from './chair-room.ts'
import { type Clock, clocksOf } from './clocks.ts'
import { byDate, changeDays, type Due, type DueDraft, toDue, type Visit, visitsOf } from './due.ts'
import { dateAfterToday, type Facts, factsUntil } from './facts.ts'
import { growthDueOf, staturesAfter } from './outgrown.ts'
import { birthOf, risksOf } from './priority.ts'
import { reviewOf } from './reviews.ts'
import { partsFoundWrong, problemsOf, skinLookOf, unusableChairOf } from './troubles.ts'
import { TYRES, tyreDueOf } from './tyres.ts'
import { cushionDuesOf, earliestHandover, type HomeUpkeep, homeUpkeepOf, technicianUpkeepOf } from './upkeep.ts'

export interface DuesContext {
  readonly policy: Policy
  readonly catalogue: Catalogue
  /** The set-up that the chair was built to. What was read from the real chair goes before it. */
  readonly builtSetUp?: SetUp
}

type Exit = NonNullable<FieldValue<'exit'>>

/** Everything that falls due for one case, as the record stands and as of one day. */
export interface Dues {
  /** By date. Check rides after a re-set are stale checks and stand with the checks, not here. */
  readonly items: readonly Due[]
  readonly visits: readonly Visit[]
  /** The next day on which this answer differs, were nothing added to the record. Null: never. */
  readonly changesOn: CalendarDate | null
  readonly doubts: readonly Doubt[]
  /** Fields that would make the answer better. */
  readonly missing: readonly string[]
  /** Set once the person's exit is recorded: it ends every due. */
  readonly ended: { readonly on: CalendarDate; readonly why: Exit['why'] } | null
  /** Without a chair: waiting since the referral, or since the last chair came back. */
  readonly waitingSince: CalendarDate | null
  /** Visits that did not find the person, since the last review or handover. They satisfy nothing. */
  readonly attempts: number
  /** Care of the chair at home; no dates, for nobody records it. */
  readonly homeUpkeep: readonly HomeUpkeep[]
}

/** A temporary chair is to be replaced or renewed by its date; so is any other "not today" that named one. */
const untilDues = (clocks: readonly Clock[], view: CaseView): readonly DueDraft[] => {
  const chairs = clocks.flatMap(({ serialNumber, latest: handedOverOn, temporaryUntil }): readonly DueDraft[] =>
    temporaryUntil === undefined
      ? []
      : [
          {
            kind: 'temporary-chair',
            serialNumber,
            anchor: handedOverOn,
            date: temporaryUntil,
            rule: 'temporary-chair',
            inputs: { handedOverOn, temporaryUntil },
            source: 'team-policy',
          },
        ],
  )
  const { cannotIssue } = view.values
  const lasting = clocks.some(clock => clock.temporaryUntil === undefined)
  if (!cannotIssue?.until || lasting || chairs.length > 0) return chairs
  const { what, until } = cannotIssue
  return [
    {
      kind: what === 'temporary-chair' ? 'temporary-chair' : 'cannot-issue',
      date: until,
      rule: `cannot-issue-${what}`,
      inputs: { until },
      source: 'team-policy',
    },
  ]
}

const attemptsSince = (facts: Facts, handedOverOn: CalendarDate | undefined): number => {
  const seen = latest([...facts.review.map(review => review.visitedOn), ...(handedOverOn ? [handedOverOn] : [])])
  return facts.notFound.filter(attempt => seen === undefined || attempt.on > seen).length
}

interface Draft {
  readonly drafts: readonly DueDraft[]
  readonly doubts: readonly Doubt[]
  readonly missing: readonly string[]
  readonly homeUpkeep: readonly HomeUpkeep[]
}

const notInCatalogue = (modelKey: string): Doubt => ({
  field: 'builtChair',
  value: modelKey,
  likely: 'not-in-catalogue',
  reason: { rule: 'chair-must-be-in-the-catalogue', inputs: { builtChair: modelKey }, source: 'project-value' },
  setAside: true,
})

/** Days that a person without a chair has waited from: the referral, or the return of the last chair. */
const waitingSinceOf = (view: CaseView, facts: Facts): CalendarDate | null =>
  latest(facts.chairReturned.map(returned => returned.on)) ?? view.values.referredOn ?? null

/** All that follows a handover. `handedOverOn` is the latest open one, `since` the earliest. */
const followUpOf = (
  view: CaseView,
  context: DuesContext,
  facts: Facts,
  clocks: readonly Clock[],
  { handedOverOn, since, today }: { handedOverOn: CalendarDate; since: CalendarDate; today: CalendarDate },
): Draft => {
  const policy = context.policy.followUp
  const { catalogue } = context
  const birth = birthOf(view)
  const risks = risksOf(view, facts)
  const modelKey = view.values.builtChair ?? context.builtSetUp?.chair
  const model = catalogue.models.find(one => one.key === modelKey)
  const setUp = context.builtSetUp?.chair === modelKey ? context.builtSetUp : undefined
  const room = chairRoomOf(view, context.policy, model, setUp)
  const troubles = { policy, facts, risks, handedOverOn }
  const skin = skinLookOf(troubles)
  const growth = growthDueOf({ view, facts, birth, handedOverOn, room, setUp, today })
  // Tyre readings name no chair: where more than one chair was ever handed over, they count since the latest.
  const severalChairs = new Set(facts.handover.map(handover => handover.serialNumber ?? null)).size > 1
  const tyres = model
    ? TYRES.flatMap(tyre => tyreDueOf(tyre, facts.tyreReading, model, severalChairs ? handedOverOn : undefined) ?? [])
    : []
  return {
    drafts: [
      ...clocks.map(clock => reviewOf(clock, { policy, facts, risks, birth })),
      ...clocks.map(clock => technicianUpkeepOf(clock, facts)),
      ...(skin.draft ? [skin.draft] : []),
      ...problemsOf(troubles, since),
      ...unusableChairOf(troubles, since),
      ...partsFoundWrong(troubles, since),
      ...tyres,
      ...cushionDuesOf({ facts, policy, catalogue, model }),
      ...(growth.draft ? [growth.draft] : []),
    ],
    doubts: [...(skin.doubt ? [skin.doubt] : []), ...(modelKey && !model ? [notInCatalogue(modelKey)] : [])],
    missing: [
      ...(birth ? [] : ['dateOfBirth']),
      ...(modelKey ? [] : ['builtChair']),
      ...(facts.cushionIssued.length > 0 ? [] : ['cushionIssued']),
      ...growth.missing,
    ],
    homeUpkeep: homeUpkeepOf(model),
  }
}

/**
 * Follow-up, upkeep and forecasts of one case on a day: a pure function of the record, whatever the order of its entries.
 * Days are the typed ones; n months run from their anchor, clamped to the month's end, never chained. An exit ends all.
 */
export const dues = (view: CaseView, context: DuesContext, today: CalendarDate): Dues => {
  const { facts, later, doubts: lateDoubts } = factsUntil(view, today)
  const laterStatures = staturesAfter(view, today)
  const { exit } = view.values
  const laterExit = exit && exit.on > today ? [exit.on] : []
  const { clocks, doubts: clockDoubts } = clocksOf(facts)
  const handedOverOn = latest(clocks.map(clock => clock.latest))
  const since = earliestHandover(clocks)
  const ended = exit && exit.on <= today ? { on: exit.on, why: exit.why } : null

  const followUp: Draft =
    ended || handedOverOn === undefined || since === undefined
      ? { drafts: [], doubts: [], missing: [], homeUpkeep: [] }
      : followUpOf(view, context, facts, clocks, { handedOverOn, since, today })
  const drafts = ended ? [] : [...followUp.drafts, ...untilDues(clocks, view)]
  const items = drafts.map(draft => toDue(draft, today)).sort(byDate)
  const changes = [...changeDays(items, today), ...later, ...laterStatures, ...laterExit]

  return {
    items,
    visits: visitsOf(items, context.policy.followUp.oneVisitWithinDays),
    changesOn: earliest(changes) ?? null,
    doubts: [
      ...lateDoubts,
      ...laterStatures.map(on => dateAfterToday('statureMm', on)),
      ...laterExit.map(on => dateAfterToday('exit', on)),
      ...clockDoubts,
      ...followUp.doubts,
    ],
    missing: followUp.missing,
    ended,
    waitingSince: ended || clocks.length > 0 ? null : waitingSinceOf(view, facts),
    attempts: attemptsSince(facts, handedOverOn),
    homeUpkeep: followUp.homeUpkeep,
  }
}
