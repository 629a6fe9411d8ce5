import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import { FIELDS, type FieldName, type FieldValue, type Section } from '../src/case/fields.ts'
import type { CheckKey } from '../src/chair/chair-model.ts'
import type { Hold } from '../src/fitting/reason.ts'
import { FitMemory } from '../src/outcome/fit-memory.ts'
import { type Outcome, outcome, RULES_VERSION } from '../src/outcome/outcome.ts'
import type { Rules } from './rules.ts'

/** Counts up whenever a brief says more or other things: summaries are then derived anew. */
const BRIEF_VERSION = 2

/** What a list shows of a case: from its summary, without opening it. */
export interface OutcomeBrief {
  readonly stage: Outcome['stage']
  /** Keys of what stands in the way, in the outcome's order. */
  readonly holds: readonly string[]
  /** Fields with a difference that matters. */
  readonly differences: readonly string[]
  /** The values between which those stand, where a list can show them: numbers in the field's own unit. */
  readonly openValues: { readonly [Field in FieldName]?: readonly number[] }
  /** To whom the crew must turn before going on. */
  readonly refer: Hold['refer'] | null
  readonly checks: { readonly failed: readonly CheckKey[]; readonly stale: readonly CheckKey[] }
  /** Readings set aside until taken again. */
  readonly measureAgain: readonly string[]
  /** The first section, from where the case stands, that still lacks something. */
  readonly next: Section | null
  /** Steps of the build sheet still to do; null without one. */
  readonly stepsToDo: number | null
  readonly cannotIssue: Pick<NonNullable<FieldValue<'cannotIssue'>>, 'what' | 'until'> | null
  /** Without a chair since this day. */
  readonly waitingSince: CalendarDate | null
  readonly person: {
    /** A date, or a year alone. */
    readonly born: string | null
    readonly place: string | null
    readonly otherNames: string | null
  }
  readonly nextDue: { readonly key: string; readonly date: CalendarDate } | null
  /** Every due with its dates, so that a list can tell on any later day what is overdue. */
  readonly dues: readonly {
    readonly key: string
    readonly date: CalendarDate
    readonly opens: CalendarDate
    readonly overdueFrom: CalendarDate
  }[]
  /** The chair: chosen, else the best recommended. */
  readonly chair: {
    readonly key: string
    readonly seatWidthMm: number
    readonly seatDepthMm: number | null
    readonly chosen: boolean
  } | null
}

const chairOf = ({ target, recommendation }: Outcome): OutcomeBrief['chair'] => {
  const [best] = recommendation.options
  if (target) return { key: target.setUp.chair, seatWidthMm: target.setUp.seatWidthMm, seatDepthMm: null, chosen: true }
  return best ? { key: best.chair, seatWidthMm: best.seatWidthMm, seatDepthMm: best.seatDepthMm, chosen: false } : null
}

const openValuesOf = (differences: Outcome['differences']): OutcomeBrief['openValues'] =>
  Object.fromEntries(
    differences
      .filter(one => one.effect !== 'none')
      .map(one => [one.field, one.options.map(({ value }) => value).filter(value => typeof value === 'number')]),
  )

const nextOf = ({ stage, next }: Outcome): Section | null =>
  (next.find(lack => lack.section === stage) ?? next[0])?.section ?? null

const referOf = (holds: readonly Hold[]): OutcomeBrief['refer'] => holds.find(hold => hold.refer)?.refer ?? null

const briefOf = (made: Outcome, { values }: CaseView): OutcomeBrief => {
  const { stage, holds, differences, dues, checks, doubts, build } = made
  const [first] = dues.items
  const checksIn = (state: 'failed' | 'stale') => checks.filter(one => one.state === state).map(one => one.check)
  const { cannotIssue } = values
  return {
    stage,
    holds: [...new Set(holds.map(hold => hold.key))],
    differences: differences.filter(one => one.effect !== 'none').map(one => one.field),
    openValues: openValuesOf(differences),
    refer: referOf(holds),
    checks: { failed: checksIn('failed'), stale: checksIn('stale') },
    measureAgain: [...new Set(doubts.filter(doubt => doubt.setAside).map(doubt => doubt.field))],
    next: nextOf(made),
    stepsToDo: build?.steps.length ?? null,
    cannotIssue: cannotIssue
      ? { what: cannotIssue.what, ...(cannotIssue.until ? { until: cannotIssue.until } : {}) }
      : null,
    waitingSince: dues.waitingSince,
    person: {
      born: values.dateOfBirth ?? values.birthYear?.toString() ?? null,
      place: values.place ?? null,
      otherNames: values.otherNames ?? null,
    },
    nextDue: first ? { key: first.key, date: first.date } : null,
    dues: dues.items.map(({ key, date, opens, overdueFrom }) => ({ key, date, opens, overdueFrom })),
    chair: chairOf(made),
  }
}

/**
 * A chair cannot be recorded as handed over while something stands in the way (a hold): each is named. A temporary chair
 * is the answer to "cannot issue today", so that hold alone does not forbid it. A handover of a day before the person
 * began to wait is no handing over: it tells of a chair from before.
 */
const whyNotHandedOver: NonNullable<Rules<Outcome, OutcomeBrief>['whyRefused']> = (set, outcomeWith) => {
  const read = FIELDS.handover.schema.safeParse(set.handover)
  if (!read.success) return undefined
  const { handedOverOn, temporaryUntil } = read.data
  const { handover: _, ...besides } = set
  const { holds, dues } = outcomeWith(besides)
  if (dues.waitingSince !== null && handedOverOn < dues.waitingSince) return undefined
  const standing = holds.filter(hold => temporaryUntil === undefined || !hold.key.startsWith('cannot-issue-'))
  if (standing.length === 0) return undefined
  const named = [...new Set(standing.map(hold => hold.key.replaceAll('-', ' ')))].join(', ')
  return `This chair cannot be recorded as handed over while this stands in the way: ${named}. Settle it first; all that was recorded before is safe.`
}

/** The rules of this product as a casebook takes them: the outcome, remembering fits whose inputs did not change. */
export const outcomeRules = (memory: FitMemory = new FitMemory()): Rules<Outcome, OutcomeBrief> => ({
  version: `${RULES_VERSION} brief ${BRIEF_VERSION}`,
  outcomeOf: (view, context, today) => outcome(view, context, today, memory),
  briefOf,
  whyRefused: whyNotHandedOver,
})
