import { addDays, type CalendarDate, earliest, latest } from '../calendar-date.ts'
import type { Policy } from '../fitting/policy.ts'
import type { Doubt } from '../reason.ts'
import { type DueDraft, SHORT_LEAD_DAYS } from './due.ts'
import type { Facts } from './facts.ts'
import type { Risk } from './priority.ts'

interface TroubleContext {
  readonly policy: Policy['followUp']
  readonly facts: Facts
  readonly risks: readonly Risk[]
  /** The latest open handover. */
  readonly handedOverOn: CalendarDate
}

/**
 * An open sore is looked at 7 days after the last look or report, overdue from 14 (project values), until a review records
 * the skin as healed and says why. A sore that was noted on no dated form counts from the handover.
 */
export const skinLookOf = ({
  policy,
  facts,
  risks,
  handedOverOn,
}: TroubleContext): { readonly draft?: DueDraft; readonly doubt?: Doubt } => {
  const healedOn = latest(facts.review.flatMap(review => (review.skinHealedWhy ? [review.visitedOn] : [])))
  const sore = risks.find(risk => risk.name === 'presentSore')
  const stated = sore?.standing ? [...sore.statedOn, ...(sore.undated ? [handedOverOn] : [])] : []
  const reports = [
    ...facts.skinLook.filter(look => look.found === 'sore').map(look => look.on),
    ...facts.review.filter(review => review.skin === 'problem').map(review => review.visitedOn),
    ...stated,
  ]
  const open = reports.filter(on => healedOn === undefined || on > healedOn)
  const firstReport = earliest(open)
  if (firstReport === undefined) {
    if (healedOn === undefined || !sore?.standing) return {}
    const reason = { rule: 'healed-but-still-noted', inputs: { healedOn }, source: 'project-value' } as const
    return { doubt: { field: 'presentSore', value: true, likely: 'settle-it', reason, setAside: false } }
  }
  const looks = [
    ...facts.skinLook.map(look => look.on),
    ...facts.review.filter(review => review.skin !== 'not-done').map(review => review.visitedOn),
  ].filter(on => on >= firstReport)
  const last = latest([firstReport, ...looks]) ?? firstReport
  const { soreLookDays, soreOverdueDays } = policy
  return {
    draft: {
      kind: 'skin-look',
      anchor: last,
      date: addDays(last, soreLookDays),
      overdueFrom: addDays(last, Math.max(soreOverdueDays, soreLookDays + 1)),
      leadDays: SHORT_LEAD_DAYS,
      rule: 'open-sore',
      inputs: { reportedOn: firstReport, lastLookOn: last, afterDays: soreLookDays, overdueFromDay: soreOverdueDays },
      source: 'team-policy',
    },
  }
}

/**
 * Reported problems of the chairs that the person has: 7 days when unsafe, else 30 (project values), until a repair of
 * that problem leaves the chair usable. Reports of one problem count from each that is still open; the earliest due wins.
 */
export const problemsOf = ({ facts, policy }: TroubleContext, since: CalendarDate): readonly DueDraft[] => {
  const reports = facts.problem.filter(problem => problem.reportedOn >= since)
  return [...new Set(reports.map(problem => problem.key))].flatMap(key => {
    const mended = latest(
      facts.repair.flatMap(repair => (repair.problem === key && repair.chairUsable ? [repair.repairedOn] : [])),
    )
    const drafts = reports
      .filter(problem => problem.key === key && (mended === undefined || problem.reportedOn > mended))
      .map(({ reportedOn, unsafe }): DueDraft => {
        const days = unsafe ? policy.unsafeProblemDays : policy.problemDays
        return {
          kind: 'problem',
          about: key,
          anchor: reportedOn,
          date: addDays(reportedOn, days),
          rule: unsafe ? 'unsafe-problem' : 'problem',
          inputs: { problem: key, reportedOn, afterDays: days },
          source: 'team-policy',
        }
      })
    const date = earliest(drafts.map(draft => draft.date))
    return drafts.find(draft => draft.date === date) ?? []
  })
}

/** A repair that left the chair unusable leaves a person without one: as unsafe, until a later repair makes it usable. */
export const unusableChairOf = ({ facts, policy }: TroubleContext, since: CalendarDate): readonly DueDraft[] => {
  const usableAgain = latest(facts.repair.flatMap(repair => (repair.chairUsable ? [repair.repairedOn] : [])))
  const left = facts.repair.find(
    ({ chairUsable, repairedOn }) =>
      !chairUsable && repairedOn >= since && (usableAgain === undefined || repairedOn > usableAgain),
  )
  if (!left) return []
  const { repairedOn } = left
  const afterDays = policy.unsafeProblemDays
  const date = addDays(repairedOn, afterDays)
  const inputs = { repairedOn, afterDays }
  return [{ kind: 'unusable-chair', anchor: repairedOn, date, rule: 'left-unusable', inputs, source: 'team-policy' }]
}

const PARTS = ['fit', 'chair', 'skills'] as const

/** A part that the last review day to look at it found wrong, and nobody has put right since: 30 days (project value). */
export const partsFoundWrong = ({ facts, policy }: TroubleContext, since: CalendarDate): readonly DueDraft[] =>
  PARTS.flatMap((part): readonly DueDraft[] => {
    const looked = facts.review.filter(review => review[part] !== 'not-done')
    const visitedOn = latest(looked.map(review => review.visitedOn))
    if (visitedOn === undefined || visitedOn < since) return []
    if (!looked.some(review => review.visitedOn === visitedOn && review[part] === 'problem')) return []
    const mended = facts.repair.some(repair => repair.chairUsable && repair.repairedOn >= visitedOn)
    if (part === 'chair' && mended) return []
    const afterDays = policy.problemDays
    return [
      {
        kind: 'found-wrong',
        about: part,
        anchor: visitedOn,
        date: addDays(visitedOn, afterDays),
        rule: 'found-wrong-at-review',
        inputs: { part, visitedOn, afterDays },
        source: 'team-policy',
      },
    ]
  })
