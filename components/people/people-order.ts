import { ageOn, type CalendarDate, calendarDateSchema } from '../../src/calendar-date.ts'
import { compareText } from '../../src/ids.ts'
import type { CaseSummary } from '../../sync/casebook.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'

export type PersonSummary = CaseSummary<OutcomeBrief>

/** In the order of the list: what stands in the way today first. */
export const GROUPS = ['inTheWay', 'overdue', 'due', 'withPerson', 'inWork', 'waiting', 'later', 'closed'] as const
export type Group = (typeof GROUPS)[number]

export type BriefDue = OutcomeBrief['dues'][number]

/** Holds that the next step of the job ends by itself: they are work, nothing stands in the way. */
const WORK_HOLDS = ['not-chosen', 'build-not-finished', 'checks-not-done']
/** Decided by a person, with or without a day: it waits, and comes back by its due. */
const DECIDED_HOLDS = ['cannot-issue-wait', 'cannot-issue-refer']

/**
 * What the crew can end today comes before what waits for somebody else; a person who sits in the chair already before
 * all (project value).
 */
const URGENCY: readonly (readonly string[])[] = [
  ['skin-after-first-hour', 'pressure-hand-check-left', 'pressure-hand-check-right', 'brakes-out-of-reach'],
  ['strap-nobody-releases', 'fitting-fit-size', 'fitting-fit-posture', 'fitting-fit-moving', 'checks-failed'],
  ['difference'],
  ['measure-again'],
  ['checks-stale'],
  ['chosen-breaks-rule', 'chosen-not-in-catalogue', 'measures-missing', 'written-by-later-version'],
]
const urgencyOf = (hold: string): number => {
  const place = URGENCY.findIndex(keys => keys.includes(hold))
  return place < 0 ? URGENCY.length : place
}

/** The holds that need a hand, the most urgent first. */
export const obstaclesOf = (brief: OutcomeBrief): readonly string[] =>
  brief.holds
    .filter(key => !WORK_HOLDS.includes(key) && !DECIDED_HOLDS.includes(key))
    .toSorted((a, b) => urgencyOf(a) - urgencyOf(b))

export const isWaitDecided = (brief: OutcomeBrief): boolean => brief.holds.some(key => DECIDED_HOLDS.includes(key))

/** Dues as they stand on a day, without opening the case. */
export const duesOn = (
  { dues }: OutcomeBrief,
  today: CalendarDate,
): {
  readonly overdue: readonly BriefDue[]
  readonly due: readonly BriefDue[]
  readonly later: readonly BriefDue[]
} => ({
  overdue: dues.filter(due => today >= due.overdueFrom),
  due: dues.filter(due => today >= due.opens && today < due.overdueFrom),
  later: dues.filter(due => today < due.opens),
})

export const groupOf = ({ brief, open }: PersonSummary, today: CalendarDate): Group => {
  if (!brief) return 'inWork'
  if (!open || brief.stage === 'closed') return 'closed'
  if (obstaclesOf(brief).length > 0) return 'inTheWay'
  const { overdue, due } = duesOn(brief, today)
  if (overdue.length > 0) return 'overdue'
  if (due.length > 0) return 'due'
  if (isWaitDecided(brief)) return 'waiting'
  if (brief.stage === 'follow-up') return 'later'
  const isReady = brief.stage === 'fitting' || brief.stage === 'training' || brief.stage === 'handover'
  return isReady && brief.holds.length === 0 ? 'withPerson' : 'inWork'
}

/** Completed years on a day; with only the year known, about. Null when neither is known or the birth is to come. */
export const ageOf = (born: string | null, today: CalendarDate): number | null => {
  if (born === null) return null
  const date = calendarDateSchema.safeParse(born)
  const years = date.success ? ageOn(date.data, today) : Number(today.slice(0, 4)) - Number(born)
  return Number.isFinite(years) && years >= 0 ? years : null
}

const LATEST = '9999-12-31'

/** Within a group: the most urgent obstacle, then the earliest date, then the name. */
const rankOf = (person: PersonSummary, group: Group, today: CalendarDate): readonly [number, string] => {
  const { brief } = person
  if (!brief) return [0, LATEST]
  const { overdue, due, later } = duesOn(brief, today)
  const waiting = brief.waitingSince ?? LATEST
  const first = (dues: readonly BriefDue[]): string => dues[0]?.date ?? LATEST
  if (group === 'inTheWay') return [urgencyOf(obstaclesOf(brief)[0] ?? ''), waiting]
  if (group === 'overdue') return [0, first(overdue)]
  if (group === 'due') return [0, first(due)]
  if (group === 'waiting') return [0, brief.cannotIssue?.until ?? LATEST]
  if (group === 'later') return [0, first(later)]
  return [0, waiting]
}

export interface PeopleGroup {
  readonly group: Group
  readonly people: readonly PersonSummary[]
}

/** The list of a day: groups that have somebody, in order, each in order. The same on every device. */
export const inOrder = (people: readonly PersonSummary[], today: CalendarDate): readonly PeopleGroup[] => {
  const byGroup = new Map<Group, { readonly person: PersonSummary; readonly rank: readonly [number, string] }[]>()
  for (const person of people) {
    const group = groupOf(person, today)
    const ranked = byGroup.get(group) ?? []
    ranked.push({ person, rank: rankOf(person, group, today) })
    byGroup.set(group, ranked)
  }
  return GROUPS.flatMap(group => {
    const ranked = byGroup.get(group)
    if (!ranked) return []
    ranked.sort(
      (a, b) =>
        a.rank[0] - b.rank[0] ||
        compareText(a.rank[1], b.rank[1]) ||
        compareText(a.person.name ?? '', b.person.name ?? '') ||
        compareText(a.person.caseId, b.person.caseId),
    )
    return [{ group, people: ranked.map(({ person }) => person) }]
  })
}
